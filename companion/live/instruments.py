"""The instruments that a person can pick: ready ones and their own."""

from dataclasses import replace

from companion.finding import Instrument
from companion.journal import Settings
from companion.live.clock import EveningClock
from companion.live.current_choices import CurrentChoices
from companion.live.named_records import NamedRecords
from companion.live.threads.journal_thread import JournalThread


class Instruments:
    """Instruments by name, and the one in use."""

    def __init__(
        self,
        journal: JournalThread,
        choices: CurrentChoices,
        clock: EveningClock,
        settings: Settings,
    ) -> None:
        self._choices = choices
        self._own = NamedRecords(Instrument, journal, "instrument", clock)
        self.take(settings)
        # Whatever was chosen once is kept: the ready ones need not be read at the start.
        chosen = self._own.named(settings.instrument)
        self._choices.change(replace(choices.record, instrument=chosen))

    @property
    def known(self) -> tuple[Instrument, ...]:
        """The person's own instruments, the last used first, then the ready ones."""
        from companion.night import ready_instruments

        own = self._own.records
        names = {one.name for one in own}
        return (*own, *(one for one in ready_instruments() if one.name not in names))

    def take(self, settings: Settings) -> None:
        """Take the instruments as they are on disk."""
        self._own.take(settings.instruments)

    def choose(self, instrument: Instrument | None) -> None:
        """Use an instrument, new or changed, and remember it; None for none in particular."""
        self._own.choose(instrument)
        self._choices.change(replace(self._choices.record, instrument=instrument))
