"""The drawn sign of every outcome, the same in the queue, in lists and in the journal."""

from collections.abc import Callable, Mapping

from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QPainter

from companion.journal import Outcome
from companion.window.kit.symbols import draw_found, draw_not_seen, draw_skipped, draw_waiting

OUTCOME_SIGNS: Mapping[Outcome, Callable[[QPainter, QPointF, float, QColor], None]] = {
    Outcome.WAITING: draw_waiting,
    Outcome.FOUND: draw_found,
    Outcome.NOT_SEEN: draw_not_seen,
    Outcome.SKIPPED: draw_skipped,
}
