"""Where the names of the night chart's curves stand; worked out only when something has moved."""

from collections.abc import Iterator

from PySide6.QtCore import QPointF, QRectF, QSizeF
from PySide6.QtGui import QFontMetricsF

from companion.window.kit.labels import Label, placed
from companion.window.night.plot import ChartFacts, TimeAxis, top_of, y_of
from companion.window.night.words import Column, altitude_at, short_name

_MOST = 40  # names: more find no room
_TRIES = (
    0.0,
    -0.05,
    0.05,
    -0.1,
    0.1,
    -0.2,
    0.2,
    -0.3,
    0.3,
)  # of the width, from the top of a curve

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
            labels = (
                label
                for name, column in _named(facts)
                for label in _label(facts, axis, room, metrics, text=name, altitude_deg=column)
            )
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


def _label(
    facts: ChartFacts,
    axis: TimeAxis,
    room: QRectF,
    metrics: QFontMetricsF,
    *,
    text: str,
    altitude_deg: Column,
) -> list[Label]:
    """Offer places for a name above and below its curve, from its top outwards."""
    top = top_of(facts, axis, room, altitude_deg)
    if top is None:
        return []
    wide, high = metrics.horizontalAdvance(text), metrics.height()
    least, most = room.left() + wide / 2 + 2, room.right() - wide / 2 - 2
    places: list[QPointF] = []
    for share in _TRIES:
        x = min(max(top.x() + share * room.width(), least), most)
        up = altitude_at(facts.view.times_s, altitude_deg, axis.time_s(x))
        if up > 0.0:
            y = y_of(room, up)
            places += [QPointF(x, y - 0.85 * high), QPointF(x, y + 0.85 * high)]
    return [Label(text, QSizeF(wide, high), tuple(places))]
