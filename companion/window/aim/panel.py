"""The screen that stays up: the aim, and the queue at its side."""

from collections.abc import Mapping
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from companion.instant import Snapshot
from companion.journal import Outcome
from companion.window.aim import words as aim_words
from companion.window.aim.face import AimFace
from companion.window.aim.offers_page import OffersPage
from companion.window.aim.queue_panel import QueuePanel, following_words
from companion.window.frame.keys import AIM, OFFERS
from companion.window.frame.screen import Action, Screen
from companion.window.frame.twice import Twice
from companion.window.kit.lettering import Size, Words
from companion.window.kit.motion import Motion
from companion.window.kit.symbols import draw_rule

if TYPE_CHECKING:
    from companion.live import Evening

_QUEUE_COLUMN = 9
_LINE_FROM_STEPS = 78  # of the grid in height, under which numbers and notices need it all
_LEAST_SIDE = 264  # pixels
_LEAST_SIDE_STEPS = 50  # of the grid: two figures below each name are whole then
_BELOW_SHARE = 0.42  # of the height of an upright window
_QUEUE_FROM = 760  # pixels of width, under which the queue stands below, or is one line
_QUEUE_FROM_STEPS = 134  # of the grid: the same beside a sheet
_AGAIN_S = 6.0  # within which the second press uncovers
_WAITING = aim_words.Notice("The sky is being computed.", "The numbers come in a moment.")


class AimPanel(Screen):
    """Numbers and instruments of the current target, and the evening's queue."""

    digit, word = "1", AIM

    def __init__(self, evening: "Evening", motion: Motion, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening = evening
        self._twice = Twice(_AGAIN_S)  # presses of u, and for which target
        self.face = AimFace(motion, self)
        self.offers = OffersPage(evening, self)
        self.offers.hide()
        self.queue = QueuePanel(evening, self)
        self.following = Words(Size.SMALL, parent=self)  # of a queue that has no room

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        evening, queue = self._evening, self.queue
        return {
            "found": self._found,
            "not_seen": lambda: evening.queue.mark(Outcome.NOT_SEEN),
            "skip": lambda: evening.queue.mark(Outcome.SKIPPED),
            "later": evening.queue.later,
            "eyepiece": evening.instruments.next_eyepiece,
            "uncover": self.uncover,
            **{f"offer_{at}": partial(self._take_offer, at) for at in range(1, len(OFFERS) + 1)},
            "take_offer": self._take_offer,
            "row_up": lambda: self._step(-1),
            "row_down": lambda: self._step(1),
            "page_up": lambda: queue.page(-1),
            "page_down": lambda: queue.page(1),
            "row_first": lambda: queue.end(last=False),
            "row_last": lambda: queue.end(last=True),
            "move_up": lambda: queue.carry(-1),
            "move_down": lambda: queue.carry(1),
            "sort": queue.sort,
            "remove": queue.remove,
        }

    def _found(self) -> None:
        """Mark it, and keep where it stood: its readings may be taken as a sighting after that."""
        latest, target = self._evening.latest, self._evening.choices.target
        aim = None if latest is None else latest.aim
        if latest is not None and aim is not None and aim.target == target:
            self._evening.mounts.centred = (aim, latest.utc)
        self._evening.queue.mark(Outcome.FOUND)

    def _step(self, by: int) -> None:
        """Aim at another row; while nothing waits, choose another of what is offered."""
        if self.offers.isVisible():
            self.offers.step(by)
        else:
            self.queue.step(by)

    def _take_offer(self, number: int | None = None) -> None:
        if self.offers.isVisible():
            self.offers.take(None if number is None else number - 1)

    def uncover(self) -> None:
        """Show the numbers near the Sun, at the second press for the same target."""
        target = self._evening.choices.target
        if target is None or not self._near_the_sun():
            return
        if self._twice.press(target.key):
            self._evening.uncover()
        self._redraw()

    def _near_the_sun(self) -> bool:
        aim = None if self._evening.latest is None else self._evening.latest.aim
        return aim is not None and aim.sun_danger

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Draw a new instant."""
        self._redraw()
        self.queue.show_snapshot(snapshot)
        self.following.say(following_words(self._evening.queue.items, snapshot))

    def show_choices(self) -> None:
        """Draw new rows and a new target; its numbers follow with the next snapshot."""
        self._redraw()
        self.queue.show_choices()

    def _redraw(self) -> None:
        snapshot, choices = self._evening.latest, self._evening.choices
        target, homeless = choices.target, self._evening.needs_site
        offering = target is None and not homeless
        self.face.setVisible(not offering)
        self.offers.setVisible(offering)
        if homeless:
            self.face.show_nothing(aim_words.NO_PLACE)
            return
        if target is None:
            self.offers.show_desk()
            return
        aim = None if snapshot is None else snapshot.aim
        if snapshot is None or aim is None or aim.target.key != target.key:
            self._show_coming(target.name, known=snapshot is not None)
            return
        self.face.show_aim(snapshot, aim, choices, asked=self._twice.asked(aim.target.key))

    def _show_coming(self, name: str, *, known: bool) -> None:
        """Between a choice and its first numbers: never another target's numbers."""
        if known:
            self.face.show_coming(name)
        else:
            self.face.show_nothing(_WAITING)
            self.face.name.say(name)

    # Where it stands.

    def arrange(self) -> None:
        """Lay the parts out: the queue at the side, in an upright window below, else as a line."""
        wide = self.width() >= max(_QUEUE_FROM, self.scale.grid(_QUEUE_FROM_STEPS))
        below = not wide and self.height() > self.width()
        edge = self.scale.column(self.width(), _QUEUE_COLUMN) - self.scale.gutter
        least = max(_LEAST_SIDE, self.scale.grid(_LEAST_SIDE_STEPS))
        side = max(self.width() - edge, least) if wide else 0
        low = self.height() < self.scale.grid(_LINE_FROM_STEPS)
        line = 0 if wide or below or low else self.following.height_for(self.width())
        foot = (
            round(self.height() * _BELOW_SHARE)
            if below
            else line + (self.scale.grid(1) if line else 0)
        )
        high = self.height() - (0 if wide else foot)
        self.face.setGeometry(0, 0, self.width() - side, high)
        self.offers.setGeometry(self.face.geometry())
        self.queue.setVisible(wide or below)
        self.following.setVisible(bool(line))
        if below:
            self.queue.setGeometry(0, high + 1, self.width(), max(1, foot - 1))
        else:
            self.queue.setGeometry(self.width() - side + 1, 0, max(1, side - 1), self.height())
        margin = self.scale.grid(6)
        self.following.setGeometry(margin, high, max(1, self.width() - 2 * margin), max(1, line))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the line between aim and queue."""
        if self.queue.isHidden():
            return
        painter = QPainter(self)
        at = self.queue.geometry()
        rule = self.scale.rule
        if at.top() > 0:
            ends = (QPointF(0, at.top() - rule), QPointF(self.width(), at.top() - rule))
        else:
            ends = (QPointF(at.left() - rule, 0), QPointF(at.left() - rule, self.height()))
        draw_rule(painter, self, *ends, rule)
