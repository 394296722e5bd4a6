"""The service behind a target's page: a thread of its own, asleep while no page is shown."""

from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from companion.finding import Instrument
from companion.instant import Choices
from companion.live.threads.periodic_thread import PeriodicThread
from companion.sky import Target

if TYPE_CHECKING:  # numpy is loaded by the thread, after the first frame
    from companion.about import About

_LIVE_HZ = 1.0
_USUAL = "10×50"  # for somebody who named no instrument
_MOST_KEPT = 64


@dataclass(frozen=True, slots=True)
class PageOrder:
    """What the page is to show: ``target`` where it is not the one that is aimed at."""

    choices: Choices
    target: Target | None = None
    others: tuple[Instrument, ...] = ()
    live: bool = True


class _Pages:
    """An ephemeris of its own, and what was worked out for the hour."""

    def __init__(self) -> None:
        from companion.sky import Ephemeris

        self._ephemeris = Ephemeris.load()
        self._kept: dict[tuple[object, ...], object] = {}

    def make(self, order: PageOrder) -> "About | None":
        from companion.about import AboutQuestion, about
        from companion.night import Conditions, find_instrument

        choices, target = order.choices, order.target or order.choices.target
        if target is None:
            return None
        if len(self._kept) > _MOST_KEPT:
            self._kept.clear()
        question = AboutQuestion(
            target=target,
            site=choices.site,
            utc=choices.moment(datetime.now(UTC)),
            instrument=choices.instrument or find_instrument(_USUAL),
            conditions=Conditions.at(choices.site),
            others=order.others,
        )
        return about(self._ephemeris, question, self._kept)

    def rate_hz(self, order: PageOrder) -> float:
        return _LIVE_HZ if order.live else 0.0

    def close(self) -> None:
        self._ephemeris.close()


class AboutThread(PeriodicThread):
    """Choices in, the page of a target out, once a second while somebody looks."""

    def __init__(self, choices: Choices, parent: QObject | None = None) -> None:
        super().__init__("pages", _Pages, parent)
        self._order = PageOrder(choices, live=False)
        self._begun = False

    @property
    def target(self) -> Target | None:
        """What the page is about."""
        return self._order.target or self._order.choices.target

    def choose(self, choices: Choices) -> None:
        """Take new choices; a new aim is what the page is about from then on."""
        aimed = self._order.choices.target
        kept = self._order.target if choices.target == aimed else None
        self._change(replace(self._order, choices=choices, target=kept))

    def look_at(self, target: Target | None) -> None:
        """Tell of this target; of the one that is aimed at with None."""
        self._change(replace(self._order, target=target))

    def show(self, *, live: bool, others: tuple[Instrument, ...] = ()) -> None:
        """Wake up, or rest while no page is seen."""
        self._change(replace(self._order, live=live, others=others or self._order.others))
        if live and not self._begun:
            self._begun = True
            self.start()

    def _change(self, order: PageOrder) -> None:
        """Hand a new order on; the thread is woken only while somebody looks."""
        if order == self._order:
            return
        woken = order.live or self._order.live
        self._order = order
        if woken:
            self.order(order)
