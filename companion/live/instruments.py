"""The instruments that a person can pick: ready ones and their own."""

from collections.abc import Callable
from datetime import datetime

from companion.finding import Instrument
from companion.journal import Settings
from companion.live.board import Board
from companion.live.shelf import Shelf
from companion.live.threads.journal_thread import JournalKeeper


class InstrumentRack:
    """Instruments by name, and the one in use."""

    def __init__(
        self,
        keeper: JournalKeeper,
        board: Board,
        settings: Settings,
        now: Callable[[], datetime],
    ) -> None:
        self._board = board
        self._own = Shelf(Instrument, keeper, "instrument", now)
        self.take(settings)
        # Whatever was chosen once is on the shelf: the ready ones need not be read at the start.
        self._board.change(instrument=self._own.named(settings.instrument))

    @property
    def instruments(self) -> tuple[Instrument, ...]:
        """The person's own instruments, the last used first, then the ready ones."""
        from companion.night import ready_instruments

        own = self._own.records
        names = {one.name for one in own}
        return (*own, *(one for one in ready_instruments() if one.name not in names))

    @property
    def instrument(self) -> Instrument | None:
        """The instrument in use."""
        return self._board.choices.instrument

    def take(self, settings: Settings) -> None:
        """Take the instruments as they are on disk."""
        self._own.take(settings.instruments)

    def choose(self, instrument: Instrument | None) -> None:
        """Use an instrument, new or changed, and remember it; None for none in particular."""
        self._own.choose(instrument)
        self._board.change(instrument=instrument)
