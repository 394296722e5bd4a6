"""The hours of the night that a person has: set once, they hold for list, order and rounds."""

from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta, tzinfo

from companion.advice import AdviceError

_NO_TIME = "Give two clock times, such as 20:30 and 00:30."


@dataclass(frozen=True, slots=True)
class MyHours:
    """From one clock time until another, by the site's own clocks, over midnight where need be."""

    begins: time
    ends: time

    def __post_init__(self) -> None:
        if self.begins == self.ends:
            raise AdviceError(
                f"From {self.begins:%H:%M} until {self.ends:%H:%M} leaves no time.", _NO_TIME
            )

    @classmethod
    def of(cls, times: tuple[str, ...]) -> "MyHours | None":
        """Read what the setting ``hours`` holds: two texts like ``20:30``, or nothing.

        Raises
        ------
        AdviceError
            If the texts are no two times.
        """
        if not times:
            return None
        try:
            begins, ends = (time.fromisoformat(text.strip().zfill(5)) for text in times)
        except ValueError:
            raise AdviceError(f"“{' to '.join(times)[:40]}” are not hours.", _NO_TIME) from None
        return cls(begins.replace(second=0, microsecond=0), ends.replace(second=0, microsecond=0))

    @classmethod
    def typed(cls, text: str) -> "MyHours | None":
        """Read what a person types: ``20:30-00:30``, or nothing for the whole night.

        Raises
        ------
        AdviceError
            If the text is no hours.
        """
        begins, _dash, ends = text.replace("–", "-").partition("-")
        return cls.of((begins, ends)) if text.strip() else None

    @property
    def times(self) -> tuple[str, str]:
        """The two texts that the setting ``hours`` holds."""
        return f"{self.begins:%H:%M}", f"{self.ends:%H:%M}"

    @property
    def words(self) -> str:
        """Say the hours."""
        return f"{self.begins:%H:%M} to {self.ends:%H:%M}"

    def of_night(self, middle_utc: datetime, zone: tzinfo) -> tuple[datetime, datetime]:
        """Give the moments that the hours mean in a night.

        Parameters
        ----------
        middle_utc : datetime
            The middle of the night, as ``NightGrid.middle_utc`` has it.
        zone : tzinfo
            Of the site.

        Returns
        -------
        tuple of datetime
            In UTC: the beginning is the one nearest to the middle of the night, the end is less
            than a day later. An hour that the clocks show twice is the first one.
        """
        middle = middle_utc.astimezone(zone)
        days = (middle.date() + timedelta(days=shift) for shift in (-1, 0, 1))
        found = (datetime.combine(day, self.begins, zone).astimezone(UTC) for day in days)
        begins = min(found, key=lambda moment: abs(moment - middle_utc))
        day = begins.astimezone(zone).date()
        ends = datetime.combine(day, self.ends, zone).astimezone(UTC)
        if ends <= begins:
            ends = datetime.combine(day + timedelta(days=1), self.ends, zone).astimezone(UTC)
        return begins, ends

    def left_of(
        self, start: datetime, end: datetime | None, middle_utc: datetime, zone: tzinfo
    ) -> tuple[datetime, datetime]:
        """Give what the hours leave of an evening whose end may be open.

        Raises
        ------
        AdviceError
            If that is nothing.
        """
        begins, ends = self.of_night(middle_utc, zone)
        start, end = max(start, begins), ends if end is None else min(end, ends)
        if end <= start:
            raise AdviceError(
                f"Nothing of the night is left within your hours, {self.words}.",
                "Choose other hours, or the whole night.",
            )
        return start, end
