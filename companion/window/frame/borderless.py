"""A window without a frame of the desktop's: dragged by its head, resized by its edges."""

from PySide6.QtCore import QPointF, Qt
from PySide6.QtWidgets import QWidget

_EDGE = 8  # pixels at the border that resize


def edges_at(widget: QWidget, position: QPointF) -> Qt.Edge:
    """Give the edges of a window that a position lies on."""
    edges = Qt.Edge(0)
    if position.x() < _EDGE:
        edges |= Qt.Edge.LeftEdge
    if position.x() > widget.width() - _EDGE:
        edges |= Qt.Edge.RightEdge
    if position.y() < _EDGE:
        edges |= Qt.Edge.TopEdge
    if position.y() > widget.height() - _EDGE:
        edges |= Qt.Edge.BottomEdge
    return edges


def begin_drag(widget: QWidget, position: QPointF) -> None:
    """Have the desktop move or resize a window from here."""
    handle = widget.windowHandle()
    if handle is None or widget.isFullScreen():
        return
    edges = edges_at(widget, position)
    if edges == Qt.Edge(0):
        handle.startSystemMove()
    else:
        handle.startSystemResize(edges)
