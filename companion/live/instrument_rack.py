"""The instruments that a person can pick: ready ones and their own."""

from collections.abc import Callable
from datetime import datetime

from companion.finding import Instrument
from companion.journal import JournalError, Plain, Settings, from_plain, to_plain
from companion.live.board import Board
from companion.live.keeper import JournalKeeper
from companion.sky import AdviceError

_MOST = 50


class InstrumentRack:
    """Instruments by name, and the one in use."""

    def __init__(
        self,
        keeper: JournalKeeper,
        board: Board,
        settings: Settings,
        now: Callable[[], datetime],
    ) -> None:
        self._keeper = keeper
        self._board = board
        self._now = now
        self._own = tuple[Instrument, ...]()
        self.take(settings)
        wanted = settings.instrument
        known = self.instruments if wanted else ()
        self._board.change(instrument=next((one for one in known if one.name == wanted), None))

    @property
    def instruments(self) -> tuple[Instrument, ...]:
        """The person's own instruments, the last used first, then the ready ones."""
        from companion.night import ready_instruments  # only when somebody wants to choose

        names = {one.name for one in self._own}
        return (*self._own, *(one for one in ready_instruments() if one.name not in names))

    @property
    def instrument(self) -> Instrument | None:
        """The instrument in use."""
        return self._board.choices.instrument

    def take(self, settings: Settings) -> None:
        """Take the instruments as they are on disk."""
        read = (_read(plain) for plain in settings.instruments)
        self._own = tuple(one for one in read if one is not None)

    def choose(self, instrument: Instrument | None) -> None:
        """Use an instrument, new or changed, and remember it; None for none in particular."""
        if instrument is not None:
            self._own = (instrument, *(one for one in self._own if one.name != instrument.name))
            kept = [to_plain(one) for one in self._own][:_MOST]
            self._keeper.set_setting(self._now(), "instruments", kept)
        name = "" if instrument is None else instrument.name
        self._keeper.set_setting(self._now(), "instrument", name)
        self._board.change(instrument=instrument)


def _read(plain: Plain) -> Instrument | None:
    """Read a kept instrument; one that nobody can read any more is passed over."""
    try:
        return from_plain(Instrument, plain)
    except (JournalError, AdviceError):
        return None
