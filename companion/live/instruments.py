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
        record = self._choices.record
        eyepiece = record.eyepiece if record.eyepiece in eyepieces_of(instrument) else ""
        self._choices.change(replace(record, instrument=instrument, eyepiece=eyepiece))

    def next_eyepiece(self) -> None:
        """Say that the next eyepiece of the instrument is in; after the last one, none is told."""
        record = self._choices.record
        names = ("", *eyepieces_of(record.instrument))
        following = names[(names.index(record.eyepiece) + 1) % len(names)]
        self._choices.change(replace(record, eyepiece=following))


def eyepieces_of(instrument: Instrument | None) -> tuple[str, ...]:
    """Give the names of an instrument's eyepieces in their order, each once."""
    own = () if instrument is None else instrument.eyepieces
    return tuple(dict.fromkeys(eyepiece.name for eyepiece in own if eyepiece.name))
