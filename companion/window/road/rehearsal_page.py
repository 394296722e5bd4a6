"""A rehearsal indoors: the chart without names asks, and explains what was answered."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from PySide6.QtGui import QPainter, QPaintEvent, QShowEvent
from PySide6.QtWidgets import QWidget

from companion.arrays import FloatArray
from companion.charts import ChartKind, apart_deg
from companion.journal import Outcome
from companion.live import ELSEWHERE
from companion.sky import clock_text, zone_of
from companion.window.aim.words import NO_PLACE, NOTHING, Notice
from companion.window.frame.keys import OFFERS
from companion.window.frame.screen import Action
from companion.window.kit.attention import Attention
from companion.window.kit.lettering import Size, Words
from companion.window.kit.motion import Motion
from companion.window.kit.palette import Role, ink
from companion.window.kit.row_list import Row, RowList
from companion.window.kit.type_scale import Arranged
from companion.window.sky.chart import Chart
from companion.window.sky.chart_paint import Overlay

if TYPE_CHECKING:
    from companion.live import Evening, Rehearsal

_WORDS_COLUMN = 5
_BESIDE_FROM = 760  # pixels of width, under which the question goes below the chart
_NEAR_DEG = 6.0  # a place that was pointed at counts so far around
_COMING = Notice("The questions are being made.", "They come in a moment.")
_NO_QUESTIONS = Notice(
    "This sky gives no question.",
    "Too few bright stars are up, or it does not get dark. Shift T and t show another evening.",
)


class RehearsalPage(Arranged):
    """One question at a time: Enter answers, Enter goes on; it counts as practice only."""

    def __init__(self, evening: "Evening", motion: Motion, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening = evening
        self._faced: object = None
        self.chart = Chart(motion, self)
        self.chart.choose(ChartKind.WHOLE)
        self.chart.touched.connect(self._point)
        self.head = Words(Size.CAPTION, parent=self)
        self.attention = Attention(self)
        self.text = Words(Size.VALUE, Role.EMPHASIS, wrap=True, parent=self)
        self.list = RowList(self)
        self.list.hit.connect(self._hit)
        self.why = Words(Size.BODY, wrap=True, parent=self)
        evening.road.rehearsal.changed.connect(self.show_question)

    @property
    def _rehearsal(self) -> "Rehearsal":
        return self._evening.road.rehearsal

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        return {
            "take": self._take,
            "row_down": lambda: self._choose(self.list.chosen + 1),
            "row_up": lambda: self._choose(self.list.chosen - 1),
            "rehearse": self._rehearsal.begin,
            "offer_1": lambda: self._hit(0),
            "offer_2": lambda: self._hit(1),
            "offer_3": lambda: self._hit(2),
            "offer_4": lambda: self._hit(3),
        }

    # What is done.

    def _choose(self, at: int) -> None:
        self.list.say(self.list.rows, min(max(at, 0), max(len(self.list.rows) - 1, 0)))

    def _take(self) -> None:
        """Answer with the chosen row; go on once that was done; after the last begin anew."""
        rehearsal = self._rehearsal
        if rehearsal.question is None:
            if rehearsal.view is not None or rehearsal.failed:
                rehearsal.begin()
        elif rehearsal.answer is None:
            rehearsal.take(self.list.chosen)
        else:
            rehearsal.go_on()

    def _hit(self, at: int) -> None:
        if self._rehearsal.answer is None and at < len(self.list.rows):
            self._choose(at)
            self._rehearsal.take(at)

    def _point(self, touched: FloatArray) -> None:
        """Take a place on the chart as the answer, where one is asked for."""
        sky, question = self._rehearsal.sky, self._rehearsal.question
        if sky is None or question is None or not sky.by_pointing:
            return
        near = apart_deg(sky.place, touched) <= _NEAR_DEG
        self._rehearsal.take(question.right if near else ELSEWHERE)

    # What is new.

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Come up with the question that was left, or with a new round."""
        super().showEvent(event)
        if self._rehearsal.view is None:
            self._rehearsal.begin()
        self.show_question()

    def show_question(self) -> None:
        """Show the question that is up, its answer, or how the round went."""
        if not self.isVisible():
            return
        rehearsal = self._rehearsal
        question = rehearsal.question
        self.attention.say(self._notice())
        self.head.say(self._head())
        self.text.say(_result(rehearsal) if question is None else question.text)
        self.list.say(_rows(rehearsal), self._chosen())
        self.why.say(_explained(rehearsal))
        self._show_sky()
        self.arrange()

    def _show_sky(self) -> None:
        sky, answer = self._rehearsal.sky, self._rehearsal.answer
        self.chart.setVisible(sky is not None)
        if sky is None:
            return
        told = answer is not None
        self.chart.show_sky(sky.after if told else sky.before)
        self.chart.say(Overlay(sky.way if told else None, names=told))
        if self._faced is not sky:  # the answer is looked at without a turn of the sky
            self._faced = sky
            self.chart.look_at(sky.faces)

    def _chosen(self) -> int:
        answer, question = self._rehearsal.answer, self._rehearsal.question
        if question is None or answer is None:
            return min(self.list.chosen, 3) if answer is not None else 0
        return question.right

    def _notice(self) -> Notice:
        rehearsal = self._rehearsal
        if self._evening.needs_site:
            return NO_PLACE
        if rehearsal.failed:
            return Notice("There are no questions.", rehearsal.failed)
        if rehearsal.view is None:
            return _COMING
        return NOTHING if rehearsal.questions else _NO_QUESTIONS

    def _head(self) -> str:
        rehearsal = self._rehearsal
        if rehearsal.view is None or not rehearsal.questions:
            return "Rehearsal"
        local = rehearsal.view.rehearsal.utc.astimezone(
            zone_of(self._evening.choices.site.time_zone)
        )
        at = min(rehearsal.at + 1, len(rehearsal.questions))
        parts = (
            "Rehearsal",
            f"question {at} of {len(rehearsal.questions)}",
            f"{rehearsal.right} right",
            f"the sky of {local:%Y-%m-%d} {clock_text(local)}",
        )
        return " · ".join(parts)

    # Where it stands.

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Cover the road that it lies over."""
        QPainter(self).fillRect(self.rect(), ink(self, Role.GROUND))

    def arrange(self) -> None:
        """Put the chart at the left, the question at the right; on a narrow window below it."""
        grid, wide, high = self.scale.grid, self.width(), self.height()
        shown = self._rehearsal.sky is not None
        beside = wide >= max(_BESIDE_FROM, grid(100))
        left, top, right = grid(6), grid(2), wide
        if shown and beside:
            left = self.scale.column(wide, _WORDS_COLUMN)
            self.chart.setGeometry(0, 0, left - self.scale.gutter, high)
        elif shown:
            self.chart.setGeometry(0, 0, wide, round(high * 0.42))
            top = round(high * 0.42) + grid(1)
        width = max(1, right - left - grid(4))
        for part in (self.head, self.attention, self.text):
            top = self._put(part, left, top, width)
        self.list.resize(width, 1)  # rows stand as close as they may
        rows = self.list.pitch() * len(self.list.rows)
        self.list.setVisible(rows > 0)
        self.list.setGeometry(left - grid(6), top, max(1, wide - left + grid(8)), max(1, rows))
        top += rows + (grid(2) if rows else 0)
        self._put(self.why, left, top, width)

    def _put(self, part: Words | Attention, left: int, top: int, width: int) -> int:
        said = part.text if isinstance(part, Words) else part.notice.head
        high = part.height_for(width) if said else 0
        part.setVisible(high > 0)
        part.setGeometry(left, top, width, max(1, high))
        return top + high + (self.scale.grid(2) if high else 0)


def _rows(rehearsal: "Rehearsal") -> tuple[Row, ...]:
    """Give the answers to choose from, each with its key; once answered, with their signs."""
    question, answer = rehearsal.question, rehearsal.answer
    if question is None:
        return ()
    return tuple(
        Row(
            choice[0].upper() + choice[1:] if choice.isascii() else choice,
            cap=OFFERS[at].lower(),
            outcome=None if answer is None else _sign(at, answer, question.right),
        )
        for at, choice in enumerate(question.choices)
    )


def _sign(at: int, answer: int, right: int) -> Outcome | None:
    if at == right:
        return Outcome.FOUND
    return Outcome.NOT_SEEN if at == answer else None


def _explained(rehearsal: "Rehearsal") -> str:
    """Say how to answer, then whether that was right and why; at the end, how the round went."""
    question, answer, sky = rehearsal.question, rehearsal.answer, rehearsal.sky
    if question is None:
        return _result_more(rehearsal)
    if answer is None:
        pointing = sky is not None and sky.by_pointing
        return "Click on the chart where it stands, or choose its place." if pointing else ""
    return f"{'Right' if answer == question.right else 'No'}. {question.why}"


def _result(rehearsal: "Rehearsal") -> str:
    if rehearsal.view is None or not rehearsal.questions:
        return ""
    return f"{rehearsal.right} of {len(rehearsal.questions)} right"


def _result_more(rehearsal: "Rehearsal") -> str:
    """Say what the round was for: practice, and what comes first outside."""
    if rehearsal.view is None or not rehearsal.questions:
        return ""
    missed = rehearsal.missed
    first = f"Outside, {', '.join(missed)} will come first. " if missed else ""
    return f"{first}This was practice: nothing counts as seen. Enter asks another round."
