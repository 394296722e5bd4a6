"""What the drawn instruments share: a still layer that is kept, moving parts on top of it."""

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import QWidget

from companion.window.kit.palette import Role, ink
from companion.window.kit.type_scale import Scaled, TypeScale


class Gauge(Scaled, QWidget):
    """A drawn instrument. Subclasses paint ``paint_still`` rarely and ``paint_moving`` often."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._still: QPixmap | None = None
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)

    def paint_still(self, painter: QPainter) -> None:
        """Paint what changes only with size, brightness, dial or place."""

    def paint_moving(self, painter: QPainter) -> None:
        """Paint needles and marks."""

    def renew(self) -> None:
        """Have the still layer painted again."""
        self._still = None
        self.update()

    def tone(self, role: Role) -> QColor:
        """Give the tone of a role."""
        return ink(self, role)

    def set_scale(self, scale: TypeScale) -> None:
        """Take a new scale."""
        super().set_scale(scale)
        self.renew()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802 - Qt's name
        """Paint all again in the new size."""
        super().resizeEvent(event)
        self.renew()

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Paint all again in the new brightness."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.renew()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Lay the moving parts over the still layer."""
        if self._still is None:
            self._still = self._paint_layer()
        painter = QPainter(self)
        painter.drawPixmap(QPointF(0, 0), self._still)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.paint_moving(painter)

    def _paint_layer(self) -> QPixmap:
        ratio = self.devicePixelRatioF()
        layer = QPixmap(self.size() * ratio)
        layer.setDevicePixelRatio(ratio)
        layer.fill(self.tone(Role.GROUND))
        painter = QPainter(layer)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.paint_still(painter)
        painter.end()
        return layer
