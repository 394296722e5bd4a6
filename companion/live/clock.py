"""The evening's clock: which moment the numbers are for, and which one actions are written with."""

from dataclasses import replace
from datetime import datetime, timedelta, tzinfo

from companion.journal import night_of
from companion.live.current_choices import CurrentChoices
from companion.live.machine_clock import MachineClock
from companion.live.threads.journal_thread import JournalThread
from companion.sky import zone_of


class EveningClock:
    """The machine's clock, corrected, run ahead or standing still as the person chose.

    The night that is shown follows it, and the site's clocks.
    """

    def __init__(
        self, machine: MachineClock, choices: CurrentChoices, journal: JournalThread
    ) -> None:
        self._machine, self._choices, self._journal = machine, choices, journal
        self._demo_ahead: timedelta | None = None  # of the machine's clock
        self._shown_night = ""
        journal.follow(self.zone)
        machine.looked.connect(self._follow_night)

    @property
    def now_utc(self) -> datetime:
        """The moment that the numbers are for."""
        return self._choices.record.moment(self._machine.utc())

    @property
    def written_utc(self) -> datetime:
        """The moment that actions are written with: a preview that stands still is not now."""
        record, machine_utc = self._choices.record, self._machine.utc()
        if record.preview_utc is not None and self._demo_ahead is not None:
            return machine_utc + self._demo_ahead
        return replace(record, preview_utc=None).moment(machine_utc)

    @property
    def stands_still(self) -> bool:
        """Whether a moment is looked at that does not go on: it is not the evening's own."""
        record = self._choices.record
        return record.preview_utc is not None and record.preview_since_utc is None

    @property
    def zone(self) -> tzinfo:
        """The clocks of the site."""
        return zone_of(self._choices.record.site.time_zone)

    @property
    def night(self) -> str:
        """The date of the night that actions belong to, by the clocks of the site."""
        return night_of(self.written_utc, self.zone)

    def open_night(self) -> None:
        """Have the evening of now shown, with what was prepared for it."""
        self._shown_night = self.night
        self._journal.open(self.written_utc, self.zone)

    def run_from(self, utc: datetime) -> None:
        """Begin at a moment and run on from there, as a demo does."""
        now = self._machine.utc()
        self._demo_ahead = utc - now
        record = self._choices.record
        self._choices.change(replace(record, preview_utc=utc, preview_since_utc=now))

    def set_lead(self, seconds: float) -> None:
        """Give the aim for moments that many seconds apart; it stands still until each is over."""
        record = self._choices.record
        self._choices.change(replace(record, lead_s=seconds, lead_since_utc=self.now_utc))

    def set_preview(self, utc: datetime | None) -> None:
        """Show another moment, standing still; None comes back to the present."""
        record = self._choices.record
        self._choices.change(replace(record, preview_utc=utc, preview_since_utc=None))

    def step(self, by: timedelta) -> None:
        """Show a moment so much later or earlier than the one that is shown, standing still."""
        self.set_preview(self.now_utc + by)

    def come_back(self) -> None:
        """Come back to the present: in a demo to its own, which runs on."""
        if self._demo_ahead is None:
            self.set_preview(None)
        else:
            self.run_from(self._machine.utc() + self._demo_ahead)

    def set_correction(self, seconds: float) -> None:
        """Correct the machine's clock; remembered."""
        if self._choices.change(replace(self._choices.record, clock_correction_s=seconds)):
            self._journal.set_setting(self.written_utc, "clock_correction_s", seconds)

    def _follow_night(self) -> None:
        """Go over to another night with the clock; one that was set back leads back, too."""
        if self._shown_night and self.night != self._shown_night:
            self.open_night()
