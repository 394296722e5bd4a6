"""Where the names of the night chart's curves stand; worked out only when something has moved."""

from collections.abc import Iterator

from PySide6.QtCore import QPointF, QRectF, QSizeF
from PySide6.QtGui import QFontMetricsF

from companion.window.kit.labels import Label, placed
from companion.window.night.plot import ChartFacts, TimeAxis, top_of, y_of
from companion.window.night.words import Column, altitude_at, short_name

_MOST = 40  # names: more find no room
_TRIES = (0.0, -0.05, 0.05, -0.1, 0.1, -0.2, 0.2, -0.3, 0.3)  # of the width, from a curve's top

Placed = list[tuple[str, QRectF]]


class CurveNames:
    """Keeps the last places."""

    def __init__(self) -> None:
        self._asked: tuple[object, ...] = ()
        self._placed: Placed = []
        self.chosen = ""  # the name of the chosen target

    def places(
        self,
        facts: ChartFacts,
        axis: TimeAxis,
        room: QRectF,
        metrics: QFontMetricsF,
        taken: list[QRectF],
    ) -> Placed:
        """Give the names that find a place, with their boxes; the chosen one's comes first."""
        marks = tuple((round(box.left()), round(box.top())) for box in taken)
        asked = (facts.view, facts.keys, facts.chosen, room, metrics.height(), marks)
        if asked != self._asked:
            self._asked = asked
            plan = None if facts.chosen is None else facts.view.plan(facts.chosen)
            self.chosen = "" if plan is None else short_name(plan.target)
            labels = []
            for name, column in _named(facts):
                size = QSizeF(metrics.horizontalAdvance(name), metrics.height())
                offer = _along if name == self.chosen else _at_ends
                labels.append(Label(name, size, tuple(offer(facts, axis, room, size, column))))
            self._placed = placed(labels, room, taken, metrics.height() * 0.25)
        return self._placed


def _named(facts: ChartFacts) -> Iterator[tuple[str, Column]]:
    """Give names and altitudes, the weightiest first: the chosen one, Moon, planets, the rest."""
    view = facts.view
    plans = {plan.target.key: plan for plan in view.plans}
    chosen = plans.get(facts.chosen or "")
    if chosen is not None:
        yield short_name(chosen.target), chosen.curve.altitude_deg
    known = {plan.target.body for plan in view.plans}
    for body in (view.moon, *view.planets):
        if body.body not in known:
            yield body.name, body.altitude_deg
    for key in facts.keys[:_MOST]:
        if key in plans and key != facts.chosen:
            yield short_name(plans[key].target), plans[key].curve.altitude_deg


def _along(
    facts: ChartFacts, axis: TimeAxis, room: QRectF, size: QSizeF, altitude_deg: Column
) -> Iterator[QPointF]:
    """Give places above and below a curve, from its top outwards."""
    top = top_of(facts, axis, room, altitude_deg)
    if top is None:
        return
    least, most = _middles(room, size)
    for share in _TRIES:
        x = min(max(top.x() + share * room.width(), least), most)
        up = altitude_at(facts.view.times_s, altitude_deg, axis.time_s(x))
        yield from _beside(room, size, x, up)


def _at_ends(
    facts: ChartFacts, axis: TimeAxis, room: QRectF, size: QSizeF, altitude_deg: Column
) -> Iterator[QPointF]:
    """Give places where a curve comes into the plot and leaves it: there no other hides it."""
    for x in _middles(room, size):
        up = altitude_at(facts.view.times_s, altitude_deg, axis.time_s(x))
        yield from _beside(room, size, x, up)


def _middles(room: QRectF, size: QSizeF) -> tuple[float, float]:
    """Give how far to the left and to the right the middle of a name may stand."""
    return room.left() + size.width() / 2 + 2, room.right() - size.width() / 2 - 2


def _beside(room: QRectF, size: QSizeF, x: float, altitude_deg: float) -> Iterator[QPointF]:
    """Give the places above and below a curve; none where it is below the horizon."""
    if altitude_deg > 0.0:
        y, off = y_of(room, altitude_deg), 0.85 * size.height()
        yield from (QPointF(x, y - off), QPointF(x, y + off))
