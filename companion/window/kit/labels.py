"""Names beside what they name, where they collide with nothing."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSizeF


@dataclass(frozen=True, slots=True)
class Label:
    """A name, and the places where it may stand, the best first (of its middle)."""

    text: str
    size: QSizeF
    places: tuple[QPointF, ...]


def placed(
    labels: Iterable[Label], room: QRectF, taken: Sequence[QRectF], gap: float
) -> list[tuple[str, QRectF]]:
    """Give every label that finds a place its box; those that find none are left out."""
    full = list(taken)
    stand: list[tuple[str, QRectF]] = []
    for label in labels:
        for place in label.places:
            box = QRectF(QPointF(), label.size)
            box.moveCenter(place)
            wide = box.adjusted(-gap, -gap / 2, gap, gap / 2)
            if room.contains(box) and not any(wide.intersects(other) for other in full):
                full.append(box)
                stand.append((label.text, box))
                break
    return stand
