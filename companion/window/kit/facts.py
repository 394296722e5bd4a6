"""A group of facts: small captions, values below or beside them, edges aligned."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from companion.window.kit.lettering import Size, letter, write, write_if_it_fits
from companion.window.kit.palette import Role, ink
from companion.window.kit.type_scale import Scaled


@dataclass(frozen=True, slots=True)
class Fact:
    """A caption and what is to be said; ``more`` stands dim behind the value."""

    caption: str
    value: str
    more: str = ""


class Facts(Scaled, QWidget):
    """Facts one below the other; those that find no room are left out from the end."""

    def __init__(self, size: Size = Size.BODY, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._size, self._columns = size, 1
        self._facts: tuple[Fact, ...] = ()

    def set_size(self, size: Size) -> None:
        """Take another step of the scale for the values."""
        if size is not self._size:
            self._size = size
            self.updateGeometry()
            self.update()

    @property
    def facts(self) -> tuple[Fact, ...]:
        """What it says."""
        return self._facts

    def say(self, *facts: Fact) -> None:
        """Say something else."""
        kept = tuple(fact for fact in facts if fact.value)
        if kept != self._facts:
            self._facts = kept
            self.setAccessibleName("; ".join(f"{f.caption} {f.value} {f.more}" for f in kept))
            self.updateGeometry()
            self.update()

    def set_columns(self, columns: int) -> None:
        """Stand in so many columns; what is dim then stands below the values."""
        if columns != self._columns:
            self._columns = columns
            self.updateGeometry()
            self.update()

    def pitch(self) -> float:
        """Give the height of one fact with the air below it."""
        caption, value = self._metrics()
        below = QFontMetricsF(Size.SMALL.font(self.scale)).height() if self._columns > 1 else 0.0
        return caption.height() + value.height() + below + self.scale.grid(1.5)

    def _metrics(self) -> tuple[QFontMetricsF, QFontMetricsF]:
        return (
            QFontMetricsF(Size.CAPTION.font(self.scale)),
            QFontMetricsF(self._size.font(self.scale)),
        )

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Be as high as all facts."""
        _caption, value = self._metrics()
        width = max(
            (value.horizontalAdvance(f"{f.value}  {f.more}") for f in self._facts), default=0
        )
        return QSize(round(width), round(self.pitch() * len(self._facts)))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Write caption over value, fact by fact."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        pitch = self.pitch()
        room = int((self.height() + self.scale.grid(1.5)) / pitch)
        gap = self.scale.grid(4)
        wide = (self.width() - gap * (self._columns - 1)) / self._columns
        for at, fact in enumerate(self._facts[: room * self._columns]):
            row, column = divmod(at, self._columns)
            box = QRectF(column * (wide + gap), row * pitch, wide, pitch)
            self._write_fact(painter, fact, box)

    def _write_fact(self, painter: QPainter, fact: Fact, box: QRectF) -> None:
        caption, value = self._metrics()
        letter(painter, self, Size.CAPTION, Role.TEXT)
        write(
            painter,
            QRectF(box.left(), box.top(), box.width(), caption.height()),
            fact.caption.upper(),
        )
        line = QRectF(box.left(), box.top() + caption.height(), box.width(), value.height())
        letter(painter, self, self._size, Role.EMPHASIS)
        used = write(painter, line, fact.value)
        if fact.more and self._columns > 1:
            metrics = letter(painter, self, Size.SMALL, Role.TEXT)
            below = QRectF(line.left(), line.bottom(), line.width(), metrics.height())
            write(painter, below, fact.more)
        elif fact.more:
            gap = self.scale.grid(1.5)
            letter(painter, self, Size.SMALL, Role.TEXT)
            rise = (value.ascent() - QFontMetricsF(painter.font()).ascent()) / 2
            write_if_it_fits(painter, line.adjusted(used + gap, rise, 0, rise), fact.more)
