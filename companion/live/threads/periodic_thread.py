"""A thread that works at a steady pace: frozen orders in, the newest result out."""

import logging
from collections.abc import Callable
from datetime import UTC, datetime
from threading import Lock
from typing import Any, Protocol

from PySide6.QtCore import QObject, Qt, QThread, QTimer, Signal, Slot

from companion.advice import AdviceError

_log = logging.getLogger(__name__)
_USUAL_HZ = 2.0
_CRASHED = "The numbers could not be computed; the last good ones stand. Choose again or wait."


class Maker(Protocol):
    """What such a thread owns: it turns orders into results, and is closed in its thread."""

    def make(self, order: Any) -> object:  # noqa: ANN401 - each service has orders of its own
        """Give what was ordered, for now."""

    def rate_hz(self, order: Any) -> float:  # noqa: ANN401 - as above
        """Give how often it is wanted; 0 for only when the order changes."""

    def close(self) -> None:
        """Let go of what is held."""


class _Worker(QObject):
    """Lives in the service's thread."""

    made = Signal()
    failed = Signal(str)

    def __init__(self, box: "_Box", load: Callable[[], Maker]) -> None:
        super().__init__()
        self._box = box
        self._load = load
        self._timer: QTimer | None = None
        self._maker: Maker | None = None

    @Slot()
    def start(self) -> None:
        """Load what is needed and begin."""
        self._timer = QTimer(self)
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self.make)
        self.make()

    @Slot()
    def make(self) -> None:
        """Make one result and have the next one made in time; survive whatever it raised."""
        order = self._box.order()
        if order is not None:
            try:
                if self._maker is None:
                    self._maker = self._load()
                self._box.put(self._maker.make(order))
                self.made.emit()
            except AdviceError as error:
                self.failed.emit(str(error))
            except Exception:  # noqa: BLE001 - the thread lives on, whatever it was
                _log.exception("A result could not be made")
                self.failed.emit(_CRASHED)
        self._wind(order)

    def _wind(self, order: object) -> None:
        """Set the timer for the next result, if there is to be one."""
        if self._timer is None:
            return
        rate_hz = _USUAL_HZ
        if self._maker is not None and order is not None:
            rate_hz = self._maker.rate_hz(order)
        if rate_hz > 0.0:
            self._timer.start(_until_next_ms(rate_hz))
        else:
            self._timer.stop()

    @Slot()
    def stop(self) -> None:
        """End the work in the thread that the timer belongs to."""
        if self._timer is not None:
            self._timer.stop()
            self._timer = None
        if self._maker is not None:
            self._maker.close()
            self._maker = None


class _Box:
    """What the two threads share: the order one way, the last result the other."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._order: object = None
        self._result: object = None

    def choose(self, order: object) -> None:
        with self._lock:
            self._order = order

    def order(self) -> object:
        with self._lock:
            return self._order

    def put(self, result: object) -> None:
        with self._lock:
            self._result = result

    def take(self) -> object:
        with self._lock:
            result, self._result = self._result, None
            return result


def _until_next_ms(rate_hz: float) -> int:
    """Aim at whole fractions of a second, so that the shown seconds step evenly."""
    period_ms = 1000.0 / max(0.1, min(rate_hz, 20.0))
    now_ms = datetime.now(UTC).timestamp() * 1000.0
    return max(1, round(period_ms - now_ms % period_ms))


class PeriodicThread(QObject):
    """Frozen orders in, immutable results out. A slow receiver drops results, never queues them.

    Parameters
    ----------
    name : str
        Of the thread.
    load : callable
        Makes the maker; called in the thread, when something is first ordered.
    """

    snapshot_ready = Signal(object)
    failed = Signal(str)
    _poke = Signal()
    _halt = Signal()

    def __init__(self, name: str, load: Callable[[], Maker], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._box = _Box()
        self._thread = QThread()
        self._thread.setObjectName(name)
        self._worker = _Worker(self._box, load)
        self._worker.moveToThread(self._thread)
        self._thread.started.connect(self._worker.start)
        self._poke.connect(self._worker.make)
        self._halt.connect(self._worker.stop, Qt.ConnectionType.BlockingQueuedConnection)
        self._worker.made.connect(self._deliver)
        self._worker.failed.connect(self.failed)

    def start(self) -> None:
        """Start the thread."""
        self._thread.start()

    def order(self, order: object) -> None:
        """Take a new order; its result follows at once."""
        self._box.choose(order)
        if self._thread.isRunning():
            self._poke.emit()

    def stop(self) -> None:
        """Stop the work, end the thread and wait for it."""
        if self._thread.isRunning():
            self._halt.emit()
            self._thread.quit()
            self._thread.wait()

    @Slot()
    def _deliver(self) -> None:
        """Hand the newest result on; of several signals that piled up only one finds it."""
        result = self._box.take()
        if result is not None:
            self.snapshot_ready.emit(result)
