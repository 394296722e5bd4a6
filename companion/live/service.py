"""The ephemeris service: one thread that owns the ephemeris and turns choices into snapshots."""

import logging
from datetime import UTC, datetime
from threading import Lock

from PySide6.QtCore import QObject, Qt, QThread, QTimer, Signal, Slot

from companion.live.choices import Choices
from companion.live.snapshot import Snapshot
from companion.sky import AdviceError

_log = logging.getLogger(__name__)
_CRASHED = "The numbers could not be computed; the last good ones stand. Choose again or wait."


class _Worker(QObject):
    """Lives in the service's thread."""

    made = Signal()
    failed = Signal(str)

    def __init__(self, box: "_Box") -> None:
        super().__init__()
        self._box = box
        self._timer: QTimer | None = None
        self._loaded: _Loaded | None = None

    @Slot()
    def start(self) -> None:
        """Load the ephemeris and begin to tick."""
        self._timer = QTimer(self)
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self.tick)
        self.tick()

    @Slot()
    def tick(self) -> None:
        """Make one snapshot and have the next one made in time; survive whatever it raised."""
        choices = self._box.choices()
        if choices is not None:
            try:
                self._box.put(self._snapshot(choices))
                self.made.emit()
            except AdviceError as error:
                self.failed.emit(str(error))
            except Exception:  # noqa: BLE001 - the thread lives on, whatever it was
                _log.exception("A tick failed")
                self.failed.emit(_CRASHED)
        if self._timer is not None:
            self._timer.start(_until_next_ms(choices))

    @Slot()
    def stop(self) -> None:
        """End the ticking in the thread that the timer belongs to."""
        if self._timer is not None:
            self._timer.stop()
            self._timer = None
        if self._loaded is not None:
            self._loaded.ephemeris.close()
            self._loaded = None

    def _snapshot(self, choices: Choices) -> Snapshot:
        if self._loaded is None:
            self._loaded = _Loaded()
        return self._loaded.builder.build(choices, choices.moment(datetime.now(UTC)))


class _Loaded:
    """The ephemeris and what is built on it; imported only in the thread, after first paint."""

    def __init__(self) -> None:
        from companion.live.snapshot_builder import SnapshotBuilder
        from companion.sky import Ephemeris

        self.ephemeris = Ephemeris.load()
        self.builder = SnapshotBuilder(self.ephemeris)


class _Box:
    """What the two threads share: the choices one way, the last snapshot the other."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._choices: Choices | None = None
        self._snapshot: Snapshot | None = None

    def choose(self, choices: Choices) -> None:
        with self._lock:
            self._choices = choices

    def choices(self) -> Choices | None:
        with self._lock:
            return self._choices

    def put(self, snapshot: Snapshot) -> None:
        with self._lock:
            self._snapshot = snapshot

    def take(self) -> Snapshot | None:
        with self._lock:
            snapshot, self._snapshot = self._snapshot, None
            return snapshot


def _until_next_ms(choices: Choices | None) -> int:
    """Aim at whole fractions of a second, so that the shown seconds step evenly."""
    period_ms = 1000.0 / (2.0 if choices is None else max(0.1, min(choices.rate_hz, 20.0)))
    now_ms = datetime.now(UTC).timestamp() * 1000.0
    return max(1, round(period_ms - now_ms % period_ms))


class EphemerisService(QObject):
    """Frozen choices in, stamped immutable snapshots out. A slow receiver drops, never queues."""

    snapshot_ready = Signal(object)  # Snapshot
    failed = Signal(str)
    _poke = Signal()
    _halt = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._box = _Box()
        self._thread = QThread()
        self._thread.setObjectName("ephemeris")
        self._worker = _Worker(self._box)
        self._worker.moveToThread(self._thread)
        self._thread.started.connect(self._worker.start)
        self._poke.connect(self._worker.tick)
        self._halt.connect(self._worker.stop, Qt.ConnectionType.BlockingQueuedConnection)
        self._worker.made.connect(self._deliver)
        self._worker.failed.connect(self.failed)

    def start(self) -> None:
        """Start the thread."""
        self._thread.start()

    def choose(self, choices: Choices) -> None:
        """Take new choices; the next snapshot follows at once."""
        self._box.choose(choices)
        if self._thread.isRunning():
            self._poke.emit()

    def stop(self) -> None:
        """Stop ticking, end the thread and wait for it."""
        if self._thread.isRunning():
            self._halt.emit()
            self._thread.quit()
            self._thread.wait()

    @Slot()
    def _deliver(self) -> None:
        """Hand the newest snapshot on; of several signals that piled up only one finds it."""
        snapshot = self._box.take()
        if snapshot is not None:
            self.snapshot_ready.emit(snapshot)
