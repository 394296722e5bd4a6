"""The service behind the charts: a thread of its own, asleep while no chart is shown."""

from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from companion.instant import Choices
from companion.live.threads.periodic_thread import PeriodicThread

if TYPE_CHECKING:  # numpy is loaded by the thread, after the first frame
    from companion.charts import SkyFrame

_LIVE_HZ = 1.0


@dataclass(frozen=True, slots=True)
class ChartOrder:
    """What the charts are to show."""

    choices: Choices
    borders: bool = False
    live: bool = True


class _Frames:
    """An ephemeris of its own and what is built on it."""

    def __init__(self) -> None:
        from companion.charts import SkyFrameMaker
        from companion.sky import Ephemeris, load_catalogue

        self._ephemeris = Ephemeris.load()
        self._maker = SkyFrameMaker(self._ephemeris, load_catalogue())

    def make(self, order: ChartOrder) -> "SkyFrame":
        choices = order.choices
        utc = choices.moment(datetime.now(UTC))
        return self._maker.frame(choices, utc, borders=order.borders)

    def rate_hz(self, order: ChartOrder) -> float:
        return _LIVE_HZ if order.live else 0.0

    def close(self) -> None:
        self._ephemeris.close()


class ChartThread(PeriodicThread):
    """Choices in, the whole sky out, about once a second while somebody looks."""

    def __init__(self, choices: Choices, parent: QObject | None = None) -> None:
        super().__init__("charts", _Frames, parent)
        self._order = ChartOrder(choices, live=False)
        self._begun = False

    def choose(self, choices: Choices) -> None:
        """Take new choices."""
        self._change(replace(self._order, choices=choices))

    def show(self, *, live: bool) -> None:
        """Wake up, or rest while no chart is seen."""
        self._change(replace(self._order, live=live))
        if live and not self._begun:
            self._begun = True
            self.start()

    def set_borders(self, *, shown: bool) -> None:
        """Have the constellations' borders drawn, or not."""
        self._change(replace(self._order, borders=shown))

    def _change(self, order: ChartOrder) -> None:
        """Hand a new order on; the thread is woken only while somebody looks."""
        if order == self._order:
            return
        woken = order.live or self._order.live
        self._order = order
        if woken:
            self.order(order)
