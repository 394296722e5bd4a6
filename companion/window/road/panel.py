"""The screen of the road: the chosen step large, all steps as a list beside it."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from PySide6.QtCore import QRect
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QWidget

from companion.instant import Snapshot
from companion.live import Severity
from companion.sky import Target, zone_of
from companion.window.aim.words import NO_PLACE, NOTHING, Notice
from companion.window.frame.keys import REHEARSAL, ROAD
from companion.window.frame.screen import Action, Screen
from companion.window.kit.attention import Attention
from companion.window.kit.facts import Facts
from companion.window.kit.lettering import Size, Words
from companion.window.kit.motion import Motion
from companion.window.kit.palette import Role
from companion.window.kit.row_list import RowList
from companion.window.kit.type_scale import spread_scale
from companion.window.road import words
from companion.window.road.rehearsal_page import RehearsalPage

if TYPE_CHECKING:
    from companion.live import Evening
    from companion.road import Step

_LISTED_FROM = 760  # pixels of width, under which the step has the window to itself
_LIST_COLUMNS = (6, 7, 8)  # where the list begins, as far left as the step allows
_LEAST_LIST = 16  # steps of the grid that a list needs below the step
_COMING = Notice("The road is being worked out.", "It comes in a moment.")
_NONE = Notice("No step is left here.", "Another night or another instrument brings new ones.")
_NO_TARGET = "Nothing to aim at: this step is for the eye."


class RoadPanel(Screen):
    """One step at a time: what to do, how to be sure, what to try when it is not found."""

    digit, word = "F7", ROAD

    def __init__(self, evening: "Evening", motion: Motion, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening = evening
        self._motion = motion
        self.rehearsal: RehearsalPage | None = None  # made when somebody first rehearses
        self._shown: str | None = None  # the step, by its key
        self.head = Words(Size.CAPTION, parent=self)
        self.title = Words(Size.TITLE, Role.EMPHASIS, wrap=True, parent=self)
        self.attention = Attention(self)
        self.facts = tuple(Facts(Size.VALUE, parent=self) for _ in range(2))
        self.how = Facts(parent=self)
        self.says = Words(Size.BODY, wrap=True, parent=self)
        self.check = Words(Size.BODY, wrap=True, parent=self)
        self.missing = Words(Size.SMALL, wrap=True, parent=self)
        self.list = RowList(self)
        self.list.hit.connect(self._choose)
        evening.road.changed.connect(self._take_road)

    @property
    def context(self) -> str:
        """The rehearsal has keys of its own."""
        return REHEARSAL if self._rehearses() is not None else ROAD

    def _rehearses(self) -> RehearsalPage | None:
        page = self.rehearsal
        return None if page is None or page.isHidden() else page

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys of the road do, or those of the rehearsal."""
        page = self._rehearses()
        if page is not None:
            return {**page.key_actions(), "back": self._turn}
        return {
            "rehearse": self._turn,
            "open_sky": self._evening.road.turn_clouds,
            "found": lambda: self._mark(found=True),
            "not_seen": lambda: self._mark(found=False),
            "row_down": lambda: self._choose(self.list.chosen + 1),
            "row_up": lambda: self._choose(self.list.chosen - 1),
            "take": self._aim,
        }

    @property
    def step(self) -> "Step | None":
        """The step that stands large."""
        view = self._evening.road.view
        steps = () if view is None else view.road.steps
        return steps[self.list.chosen] if self.list.chosen < len(steps) else None

    # What is done.

    def _turn(self) -> None:
        """Go over to the rehearsal, or back to the road."""
        if self.rehearsal is None:
            self.rehearsal = RehearsalPage(self._evening, self._motion, self)
            self.rehearsal.hide()
            spread_scale(self.rehearsal, self.scale)
        self.rehearsal.setVisible(self.rehearsal.isHidden())
        if self._rehearses() is None:
            self._take_road()
        else:
            self.rehearsal.raise_()
        self.arrange()
        self.turned.emit()

    def _choose(self, at: int) -> None:
        self.list.say(self.list.rows, at)
        self._show_step()

    def _mark(self, *, found: bool) -> None:
        if self.step is not None:
            self._evening.road.mark(self.step, found=found)

    def _aim(self) -> None:
        """Aim at what the step is about."""
        if self.step is None:
            return
        if not self.step.subject:
            self._evening.messages.say(Severity.NOTE, _NO_TARGET, "road")
            return

        def aim(target: Target) -> None:
            self._evening.queue.add(target)
            self.wanted.emit("screen:aim")

        self._evening.road.find_target(self.step, aim)

    # What is new.

    def _take_road(self) -> None:
        """Show new steps: the chosen one stays, where it is still there."""
        if not self.isVisible():
            return
        view = self._evening.road.view
        steps = () if view is None else view.road.steps
        at = next((at for at, one in enumerate(steps) if one.key == self._shown), 0)
        zone = zone_of(self._evening.choices.site.time_zone)
        self.list.say(words.rows(steps, self._evening.clock.now_utc, zone), at)
        self._show_step()

    def _show_step(self) -> None:
        view, step = self._evening.road.view, self.step
        self._shown = None if step is None else step.key
        notice = NOTHING
        if self._evening.needs_site:
            notice = NO_PLACE
        elif step is None:
            notice = _COMING if view is None else _NONE
        self.attention.say(notice)
        self.head.say("" if view is None else words.head(view.road))
        zone = zone_of(self._evening.choices.site.time_zone)
        told = () if step is None else words.facts(step, self._evening.clock.now_utc, zone)
        self.facts[0].say(*told[:1])
        self.facts[1].say(*told[1:2])
        self.how.say(*told[2:])
        self.title.say("" if step is None else step.title)
        self.says.say("" if step is None else " ".join(step.sentences))
        self.check.say("" if step is None else step.check)
        self.missing.say("" if step is None else step.missing)
        self.arrange()

    def show_choices(self) -> None:
        """Work the road out for the new site, with the new instrument."""
        if self.isVisible():
            self._evening.road.refresh()
            self._show_step()

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Follow the sky, once a minute."""
        if snapshot.local.second == 0 and self.isVisible():
            self._evening.road.refresh()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Work the road out."""
        super().showEvent(event)
        self._evening.road.refresh()
        self._take_road()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Come up with the road again; the rehearsal keeps its place until it is asked for."""
        super().hideEvent(event)
        if self.rehearsal is not None:
            self.rehearsal.hide()

    # Where it stands.

    def arrange(self) -> None:
        """Put the step at the left, the list at the right, or below where the window is tall.

        A step whose words find no room beside the list gets more of the width, and all at last.
        """
        grid = self.scale.grid
        if self.rehearsal is not None:
            self.rehearsal.setGeometry(0, 0, self.width(), self.height())
        listed = bool(self.list.rows)
        beside = listed and self.width() >= max(_LISTED_FROM, grid(100))
        for column in _LIST_COLUMNS if beside else ():
            edge = (
                self.scale.column(self.width(), column) - self.scale.margin
            )  # rows have their own
            if self._put_step(max(1, edge - grid(10))) <= self.height():
                place = QRect(edge, grid(2), self.width() - edge, self.height() - grid(4))
                break
        else:
            top = self._put_step(max(1, self.width() - grid(12)))
            place = QRect(0, top, self.width(), self.height() - top - grid(1))
            listed = listed and place.height() >= grid(_LEAST_LIST)
        self.list.setVisible(listed)
        self.list.setGeometry(place)

    def _put_step(self, width: int) -> int:
        """Put all that is said of the step into a column; give where it ends."""
        grid = self.scale.grid
        left, top = grid(6), grid(2)
        for part in (self.head, self.title, self.attention):
            top = self._put(part, left, top, width)
        columns = [one for one in (*self.facts, self.how) if one.facts]
        for facts in (*self.facts, self.how):
            facts.setVisible(bool(facts.facts))
        high = max((round(one.pitch() * len(one.facts)) for one in columns), default=0)
        for at, facts in enumerate(columns):
            wide = max(1, width // 3 - grid(2))
            facts.setGeometry(left + at * width // 3, top, wide, max(1, high))
        top += high + grid(2)
        for part in (self.says, self.check, self.missing):
            top = self._put(part, left, top, width)
        return top

    def _put(self, part: Words | Attention, left: int, top: int, width: int) -> int:
        said = part.text if isinstance(part, Words) else part.notice.head
        high = part.height_for(width) if said else 0
        part.setVisible(high > 0)
        part.setGeometry(left, top, width, max(1, high))
        return top + high + (self.scale.grid(2.5) if high else 0)
