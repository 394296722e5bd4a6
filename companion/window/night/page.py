"""The first page of the night: the chart, the lanes below it, and what is said of both."""

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from companion.instant import Snapshot
from companion.live import NightQuestion, NightView
from companion.window.aim.words import NO_PLACE, NOTHING
from companion.window.kit.attention import Attention
from companion.window.kit.lettering import Size, Words
from companion.window.kit.palette import Role
from companion.window.kit.type_scale import Arranged
from companion.window.night import words as night_words
from companion.window.night.plot import ChartFacts

if TYPE_CHECKING:
    from companion.live import Evening
    from companion.window.night.chart import NightChart
    from companion.window.night.lanes import NightLanes

STEP_S, LEAP_S = 300.0, 3600.0
_LANES_SHARE = 0.44
_NOW_S = 10  # between two moves of the line of now: less than a pixel


class NightPage(Arranged):
    """Holds the cursor and the chosen target; the chart is made when there is a night to draw."""

    taken = Signal()

    def __init__(self, evening: "Evening", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening = evening
        self._cursor_s: float | None = None
        self._now = 0
        self._chosen: str | None = None
        self.head = Words(Size.VALUE, Role.EMPHASIS, parent=self)
        self.about = Words(Size.SMALL, parent=self)
        self.line = Words(Size.BODY, Role.TEXT, parent=self)
        self.notice = Attention(self)
        self.chart: NightChart | None = None
        self.lanes: NightLanes | None = None
        self.arrange()

    # What is new.

    def show_desk(self) -> None:
        """Draw the night as the model has it."""
        view = self._evening.night.view
        if view is None:
            self._say_coming()
            return
        self._make_chart()
        self._settle(view)
        facts = self._facts(view)
        self.head.say(night_words.head(view))
        self.about.say(night_words.about(view))
        plan = None if facts.chosen is None else view.plan(facts.chosen)
        order = self._evening.night.order
        self.line.say("" if plan is None else night_words.chosen_words(plan, order))
        self.notice.say(night_words.EMPTY if not view.plans else NOTHING)
        assert self.chart is not None and self.lanes is not None  # noqa: S101, PT018  # made above
        self.lanes.show_facts(facts)
        self.arrange()
        self.chart.show_facts(facts)

    def show_snapshot(self, _snapshot: Snapshot) -> None:
        """Move the line of now."""
        view, now = self._evening.night.view, int(self._evening.clock.now_utc.timestamp() // _NOW_S)
        if now == self._now:
            return
        self._now = now
        if view is not None and self.chart is not None and self.lanes is not None:
            facts = self._facts(view)
            self.chart.front.show_facts(facts)
            self.lanes.show_facts(facts)

    def _say_coming(self) -> None:
        coming = self._evening.night.share(NightQuestion) is not None
        notice = night_words.COMING if coming else night_words.STOPPED
        self.notice.say(NO_PLACE if self._evening.needs_site else notice)
        self.arrange()

    def _make_chart(self) -> None:
        if self.chart is not None:
            return
        from companion.window.night.chart import NightChart
        from companion.window.night.lanes import NightLanes

        self.chart, self.lanes = NightChart(self), NightLanes(self)
        for part in (self.chart, self.chart.front, self.lanes):
            part.set_scale(self.scale)
        for source in (self.chart.front, self.lanes):
            source.pointed.connect(self._point)
            source.taken.connect(self.taken)
        self.chart.show()
        self.lanes.show()

    def _facts(self, view: NightView) -> ChartFacts:
        choices = self._evening.choices
        return ChartFacts(
            view=view,
            order=self._evening.night.order,
            keys=self._keys(view),
            chosen=self._chosen,
            cursor_s=self._cursor_s or view.begins_utc.timestamp(),
            now_utc=self._evening.clock.now_utc,
            low_limit_deg=choices.low_limit_deg,
            preview=choices.preview_utc is not None and choices.preview_since_utc is None,
        )

    def _keys(self, view: NightView) -> tuple[str, ...]:
        """Give the targets in the planned order, then those that the queue has besides."""
        known = {plan.target.key for plan in view.plans}
        queue = [one.target.key for one in self._evening.queue.items if one.target.key in known]
        order = self._evening.night.order
        planned = () if order is None else order.order.keys
        first = [key for key in planned if key in known]
        return (*first, *(key for key in queue if key not in first))

    def _settle(self, view: NightView) -> None:
        """Keep cursor and choice within the night that is shown."""
        begins, ends = view.begins_utc.timestamp(), view.ends_utc.timestamp()
        if self._cursor_s is None or not begins <= self._cursor_s <= ends:
            now_s, dusk = self._evening.clock.now_utc.timestamp(), view.darkness.nautical.begins_utc
            first_s = begins if dusk is None else dusk.timestamp()
            self._cursor_s = now_s if begins <= now_s <= ends else first_s
        keys = self._keys(view)
        if self._chosen not in keys:
            target = self._evening.choices.target
            current = None if target is None else target.key
            self._chosen = current if current in keys else keys[0] if keys else None

    # What the keys do.

    @property
    def chosen(self) -> tuple[str, datetime] | None:
        """The target and the time that the cursor stands on."""
        if self._chosen is None or self._cursor_s is None:
            return None
        return self._chosen, datetime.fromtimestamp(round(self._cursor_s), UTC)

    def step_time(self, seconds: float) -> None:
        """Move the cursor along the clock, from one full step to the next."""
        view = self._evening.night.view
        if view is None or self._cursor_s is None:
            return
        size = abs(seconds)
        count = self._cursor_s / size
        goal = (int(count) + 1 if seconds > 0 else -int(-count // 1) - 1) * size
        begins, ends = view.begins_utc.timestamp(), view.ends_utc.timestamp()
        self._cursor_s = min(max(goal, begins), ends)
        self.show_desk()

    def step_target(self, by: int) -> None:
        """Choose another target."""
        view = self._evening.night.view
        keys = () if view is None else self._keys(view)
        if keys:
            at = keys.index(self._chosen) if self._chosen in keys else 0
            self._chosen = keys[min(max(at + by, 0), len(keys) - 1)]
            self.show_desk()

    def go_best(self) -> None:
        """Put the cursor where the chosen target is at its best, or at its planned turn."""
        view, order = self._evening.night.view, self._evening.night.order
        plan = None if view is None or self._chosen is None else view.plan(self._chosen)
        if plan is None:
            return
        stops = () if order is None else order.order.stops
        planned = [stop.start_utc for stop in stops if stop.target.key == self._chosen]
        best = planned[0] if planned else plan.best_utc or plan.transit_utc
        self._cursor_s = best.timestamp()
        self.show_desk()

    def _point(self, time_s: float, key: str) -> None:
        self._cursor_s = time_s
        self._chosen = key or self._chosen
        self.show_desk()

    # Where it stands.

    def arrange(self) -> None:
        """Lay the parts out."""
        grid, margin = self.scale.grid, self.scale.grid(6)
        width, top = max(1, self.width() - 2 * margin), grid(3)
        high, name = self.head.height_for(width), self.head.sizeHint().width() + grid(3)
        self.head.setGeometry(margin, top, min(name, width), high)
        about = self.about.sizeHint().width()
        if name + about <= width:
            self.about.setGeometry(margin + width - about, top, about, high)
        else:
            top += high
            high = self.about.height_for(width)
            self.about.setGeometry(margin, top, width, high)
        top += high + grid(0.5)
        high = self.line.height_for(width) if self.line.text else 0
        self.line.setGeometry(margin, top, width, high)
        top += high + grid(1.5)
        low = self.height() - grid(1)
        notice = self.notice.height_for(width)
        self.notice.setVisible(bool(notice))
        if self.chart is None or self.lanes is None:
            self.notice.setGeometry(margin, top, width, notice)
            return
        view = self._evening.night.view
        count = 0 if view is None else len(view.plans)
        lanes = self.lanes.height_for(count, round((low - top) * _LANES_SHARE)) if count else 0
        foot = notice + grid(2) if notice else lanes
        self.notice.setGeometry(margin, low - notice, width, notice)
        self.lanes.setGeometry(0, low - lanes, self.width(), max(1, lanes))
        self.lanes.setVisible(bool(lanes))
        self.chart.setGeometry(0, top, self.width(), max(1, low - foot - top))
