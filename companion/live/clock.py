"""The evening's clock: which moment the numbers are for, and which one actions are written with."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from companion.journal import night_of
from companion.live.current_choices import CurrentChoices
from companion.live.threads.journal_thread import JournalThread
from companion.sky import zone_of


class EveningClock:
    """The machine's clock, corrected, run ahead or standing still as the person chose."""

    def __init__(self, choices: CurrentChoices, journal: JournalThread) -> None:
        self._choices = choices
        self._journal = journal

    @property
    def now_utc(self) -> datetime:
        """The moment that the numbers are for."""
        return self._choices.record.moment(datetime.now(UTC))

    @property
    def written_utc(self) -> datetime:
        """The moment that actions are written with: a preview that stands still is not now."""
        record = self._choices.record
        running = record.preview_since_utc is not None
        present = record if running else replace(record, preview_utc=None)
        return present.moment(datetime.now(UTC))

    @property
    def stands_still(self) -> bool:
        """Whether a moment is looked at that does not go on: it is not the evening's own."""
        record = self._choices.record
        return record.preview_utc is not None and record.preview_since_utc is None

    @property
    def night(self) -> str:
        """The date of the night that actions belong to, by the clocks of the site."""
        return night_of(self.written_utc, zone_of(self._choices.record.site.time_zone))

    def run_from(self, utc: datetime) -> None:
        """Begin at a moment and run on from there, as a demo does."""
        record = self._choices.record
        now = datetime.now(UTC)
        self._choices.change(replace(record, preview_utc=utc, preview_since_utc=now))

    def set_lead(self, seconds: float) -> None:
        """Give the aim for moments that many seconds apart; it stands still until each is over."""
        record = self._choices.record
        self._choices.change(replace(record, lead_s=seconds, lead_since_utc=self.now_utc))

    def set_preview(self, utc: datetime | None) -> None:
        """Show another moment, standing still; None comes back to the present."""
        record = self._choices.record
        self._choices.change(replace(record, preview_utc=utc, preview_since_utc=None))

    def shift_preview(self, seconds: float) -> None:
        """Move the shown moment."""
        self.set_preview(self.now_utc.replace(microsecond=0) + timedelta(seconds=seconds))

    def set_correction(self, seconds: float) -> None:
        """Correct the machine's clock; remembered."""
        if self._choices.change(replace(self._choices.record, clock_correction_s=seconds)):
            self._journal.set_setting(self.written_utc, "clock_correction_s", seconds)
