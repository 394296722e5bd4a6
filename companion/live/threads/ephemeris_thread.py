"""The thread that turns choices into snapshots, the only owner of its ephemeris."""

from datetime import UTC, datetime
from time import monotonic

from PySide6.QtCore import QObject

from companion.instant import Choices, Snapshot
from companion.live.threads.periodic_thread import PeriodicThread


class _Snapshots:
    """The ephemeris and what is built on it; imported only in the thread, after first paint."""

    def __init__(self) -> None:
        from companion.instant import SnapshotBuilder
        from companion.sky import Ephemeris

        self._ephemeris = Ephemeris.load()
        self._builder = SnapshotBuilder(self._ephemeris)

    def make(self, order: Choices) -> Snapshot:
        return self._builder.build(order, order.moment(datetime.now(UTC)), monotonic())

    def rate_hz(self, order: Choices) -> float:
        return order.rate_hz

    def close(self) -> None:
        self._ephemeris.close()


class EphemerisThread(PeriodicThread):
    """Choices in, stamped snapshots out."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__("ephemeris", _Snapshots, parent)

    def choose(self, choices: Choices) -> None:
        """Take new choices; the next snapshot follows at once."""
        self.order(choices)
