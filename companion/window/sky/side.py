"""The column of words beside a chart."""

from PySide6.QtCore import QRect
from PySide6.QtWidgets import QWidget

from companion.window.aim.words import NOTHING, Notice
from companion.window.kit.attention import Attention
from companion.window.kit.lettering import Size, Words
from companion.window.kit.palette import Role
from companion.window.kit.type_scale import Arranged
from companion.window.sky.words import Passage

_MOST = 6
_LOW = 44  # of the grid: below it there is room for the ways only


class SkySide(Arranged):
    """Name, what it is, what the chart shows, and passages; what finds no room is left out."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.name = Words(Size.TITLE, Role.EMPHASIS, wrap=True, parent=self)
        self.about = Words(Size.BODY, wrap=True, parent=self)
        self.attention = Attention(self)
        self.captions = tuple(Words(Size.CAPTION, parent=self) for _ in range(_MOST))
        self.texts = tuple(
            Words(Size.BODY, Role.TEXT if at else Role.EMPHASIS, wrap=True, parent=self)
            for at in range(_MOST)
        )
        self.chart = Words(Size.SMALL, wrap=True, parent=self)

    def say(self, name: str, about: str, notice: Notice, chart: str) -> None:
        """Say what the chart is about and what it shows."""
        self.name.say(name)
        self.about.say(about)
        self.attention.say(notice)
        self.chart.say(chart)

    def tell(self, passages: tuple[Passage, ...]) -> None:
        """Say what else is worth knowing."""
        empty = Passage("", "")
        padded = (*passages, *(empty,) * _MOST)[:_MOST]
        for caption, text, passage in zip(self.captions, self.texts, padded, strict=True):
            caption.say(passage.caption)
            text.say(passage.text)
        self.arrange()

    def arrange(self) -> None:
        """Stack from the top; what the chart shows stands at the foot.

        Where it is low, the ways come before the name, which the chart shows, too.
        """
        grid = self.scale.grid
        left = self.scale.gutter
        width = max(1, self.width() - left - self.scale.margin)
        foot = self.height() - grid(2) - self.chart.height_for(width)
        self.chart.setGeometry(left, foot, width, self.chart.height_for(width))
        low = self.height() < grid(_LOW) and bool(self.texts[0].text)
        for words in (self.name, self.about):
            words.setVisible(not low)
        top = grid(2 if low else 3)
        if not low:
            after = 0.5 if self.about.text else 2.0
            top = self._place(self.name, QRect(left, top, width, foot - top), after)
            top = self._place(self.about, QRect(left, top, width, foot - top), 2.0)
        top = self._place_notice(QRect(left, top, width, foot - top))
        for caption, text in zip(self.captions, self.texts, strict=True):
            whole = caption.height_for(width) + grid(0.5) + text.height_for(width)
            fits = bool(text.text) and top + whole + grid(1) <= foot
            caption.setVisible(fits)
            text.setVisible(fits)
            if fits:
                top = self._place(caption, QRect(left, top, width, whole), 0.5)
                top = self._place(text, QRect(left, top, width, whole), 2.0)

    def _place_notice(self, room: QRect) -> int:
        """Put the notice into a room; give where the passages start."""
        notice = self.attention.notice
        self.attention.set_compact(
            compact=not notice.caution or room.height() < self.scale.grid(40)
        )
        high = self.attention.height_for(room.width())
        shown = notice != NOTHING and high <= room.height()
        self.attention.setVisible(shown)
        if not shown:
            return room.top()
        self.attention.setGeometry(room.left(), room.top(), room.width(), high)
        return room.top() + high + self.scale.grid(3)

    def _place(self, words: Words, room: QRect, gap: float) -> int:
        """Put words into a room; give where the next ones start."""
        high = words.height_for(room.width()) if words.text else 0
        words.setVisible(bool(words.text) and high <= room.height())
        words.setGeometry(room.left(), room.top(), room.width(), high)
        return room.top() + (high + self.scale.grid(gap) if words.text else 0)
