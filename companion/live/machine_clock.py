"""The machine's clock, looked at every second: it may be set, or jump, while the program runs."""

import time
from collections.abc import Callable
from datetime import UTC, datetime, tzinfo

from PySide6.QtCore import QObject, QTimer, Signal

from companion.sky import duration_text

LEAST_JUMP_S = 60.0  # a clock that is kept right by a network takes smaller steps
_LOOK_MS = 1000


def now_utc() -> datetime:
    """Read the machine's clock."""
    return datetime.now(UTC)


def steady_s() -> float:
    """Give seconds that nobody sets; where the system tells, they run on while it sleeps."""
    sleepless = getattr(time, "CLOCK_BOOTTIME", None)
    return time.monotonic() if sleepless is None else time.clock_gettime(sleepless)


class MachineClock(QObject):
    """Tells the moment, and that the clock jumped.

    Parameters
    ----------
    read : callable, optional
        Gives what the clock says.
    steady : callable, optional
        Gives seconds that nobody sets.
    """

    looked = Signal()  # every second
    jumped = Signal(float)  # seconds, forward or back

    def __init__(
        self,
        read: Callable[[], datetime] = now_utc,
        steady: Callable[[], float] = steady_s,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._read, self._steady = read, steady
        self._last: tuple[datetime, float] | None = None
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.look)

    def utc(self) -> datetime:
        """Give what the clock says."""
        return self._read()

    def start(self) -> None:
        """Begin to look every second."""
        self.look()
        self._timer.start(_LOOK_MS)

    def stop(self) -> None:
        """Look no more."""
        self._timer.stop()

    def look(self) -> None:
        """Compare the clock with the seconds that nobody sets."""
        last, self._last = self._last, (self._read(), self._steady())
        if last is not None:
            jump_s = (self._last[0] - last[0]).total_seconds() - (self._last[1] - last[1])
            if abs(jump_s) >= LEAST_JUMP_S:
                self.jumped.emit(jump_s)
        self.looked.emit()


def jump_words(jump_s: float, utc: datetime, zone: tzinfo) -> str:
    """Say that the clock jumped, and what to do."""
    way = "forward" if jump_s > 0 else "back"
    return (
        f"The machine's clock jumped {duration_text(abs(jump_s))} {way}, to "
        f"{utc.astimezone(zone):%H:%M:%S}. The numbers follow it: look whether it is right, or "
        "set a correction in Place."
    )
