"""Names on a chart: each where it collides with nothing, or not at all."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, isfinite

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QImage, QPainter, QPainterPath, QStaticText

from companion.arrays import FloatArray
from companion.charts import ChartView, DrawnName, Scene, leaders, place_labels
from companion.window.kit.lettering import Size, write
from companion.window.kit.palette import Role
from companion.window.kit.symbols import stroke
from companion.window.sky.chart_ink import ChartInk

Clear = list[tuple[QPointF, float]]  # points that names stay away from, with radii

_CENTRE = Qt.AlignmentFlag.AlignCenter
_SAME = 2.0  # pixels
_BESIDE = 1.0  # pixels at both ends of a name
_HALO = 1.5  # pixels of ground around letters
_RIM = 2.0 * _HALO  # pixels beyond the letters that an image of their rim has
_SPACED = 112.0  # percent
_MOST_KEPT = 1000  # names and rims, until all are made anew
_TIGHT = 0.9  # of the height of a line that a name takes
_KEPT_CLEAR = 90  # stars whose discs no name covers
_SURE = frozenset({"target", "way"})  # come first, and are written whatever they cover
_SIZES = {
    "target": (Size.BODY, Role.EMPHASIS),
    "way": (Size.SMALL, Role.EMPHASIS),
    "body": (Size.SMALL, Role.EMPHASIS),
    "queue": (Size.CAPTION, Role.EMPHASIS),
    "star": (Size.CAPTION, Role.TEXT),
    "deep": (Size.CAPTION, Role.TEXT),
    "group": (Size.CAPTION, Role.QUIET),
}


def text_box(painter: QPainter, text: str) -> QRectF:
    """Give the box that a word takes in the painter's font."""
    metrics = QFontMetricsF(painter.font())
    return QRectF(QPointF(0, 0), QSizeF(metrics.horizontalAdvance(text) + 4, metrics.height()))


def clear_of(box: QRectF) -> Clear:
    """Give points along a box of text that keep names away from it."""
    radius = box.height() / 2.0
    count = max(1, round(box.width() / box.height()))
    step = box.width() / count
    return [
        (QPointF(box.left() + (at + 0.5) * step, box.center().y()), radius) for at in range(count)
    ]


def _font(ink: ChartInk, rank: str) -> QFont:
    """Give the font of a kind of name; the groups' are spaced, as a region's on a map."""
    made = ink.font(_SIZES[rank][0])
    if rank == "group":
        made.setLetterSpacing(QFont.SpacingType.PercentageSpacing, _SPACED)
    return made


def _rim(outline: QPainterPath, ink: ChartInk, ratio: float) -> QImage:
    """Give the rim of ground around letters, clear beside it."""
    box = outline.boundingRect().adjusted(-_RIM, -_RIM, _RIM, _RIM)
    made = QImage(
        ceil(box.width() * ratio),
        ceil(box.height() * ratio),
        QImage.Format.Format_ARGB32_Premultiplied,
    )
    made.setDevicePixelRatio(ratio)
    made.fill(Qt.GlobalColor.transparent)
    painter = QPainter(made)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(-box.topLeft())
    painter.strokePath(outline, stroke(ink.ground, 2.0 * _HALO))
    painter.end()
    return made


class NameWriter:
    """Writes the names where they collide with nothing; lays each out once.

    ``on_screen`` keeps the rims of the names as images too: to stroke letters anew in each frame
    takes longer than all else. A page is written once, and keeps its lines.
    """

    def __init__(self, *, on_screen: bool = False) -> None:
        self._words: dict[tuple[str, str, float], LaidOut] = {}
        self._rims: dict[tuple[str, str, float, float, int], QImage] = {}
        self._on_screen = on_screen

    def draw(
        self,
        painter: QPainter,
        ink: ChartInk,
        scene: Scene,
        view: ChartView,
        clear: Sequence[tuple[QPointF, float]],
    ) -> None:
        """Write what finds room; nothing within some radii of the points to be kept clear."""
        labels = scene.labels
        if not labels:
            return
        words = [self._word(ink, label) for label in labels]
        sizes = [(word.width, word.height) for word in words]
        corners, lines = self._corners(ink, scene, view, sizes, clear)
        painter.setPen(ink.pen(Role.TEXT))
        painter.drawLines([QLineF(*ends) for ends in lines.tolist()])
        for label, (x, y), made in zip(labels, corners.tolist(), words, strict=True):
            if isfinite(x):
                self._knock_out(painter, ink, label, made, QPointF(x, y))
                painter.setFont(_font(ink, label.rank))
                painter.setPen(ink.tone(_SIZES[label.rank][1]))
                write_name(painter, QPointF(x, y), made)

    def _knock_out(
        self, painter: QPainter, ink: ChartInk, label: DrawnName, word: "LaidOut", corner: QPointF
    ) -> None:
        """Part the letters by a rim of ground from what lies behind them."""
        at = corner + QPointF(_BESIDE, word.above)
        device = painter.device()
        if not self._on_screen or device is None:
            painter.translate(at)
            painter.strokePath(word.outline, stroke(ink.ground, 2.0 * _HALO))
            painter.translate(-at)
            return
        ratio = device.devicePixelRatioF()
        key = (label.text, label.rank, ink.scale.factor, ratio, ink.ground.rgb())
        if key not in self._rims:
            if len(self._rims) > _MOST_KEPT:
                self._rims.clear()
            self._rims[key] = _rim(word.outline, ink, ratio)
        rim = self._rims[key]
        at += word.outline.boundingRect().topLeft() - QPointF(_RIM, _RIM)
        painter.drawImage(QPointF(round(at.x() * ratio), round(at.y() * ratio)) / ratio, rim)

    def _corners(
        self,
        ink: ChartInk,
        scene: Scene,
        view: ChartView,
        sizes: list[tuple[float, float]],
        clear: Sequence[tuple[QPointF, float]],
    ) -> tuple[FloatArray, FloatArray]:
        """Find places for all names, clear of stars and marks, and lines to those far off."""
        labels, bounds = scene.labels, (view.width, view.height)
        anchors = np.array([label.place for label in labels])
        radii = np.array([label.radius for label in labels])
        kept = np.array([(at.x(), at.y(), radius) for at, radius in clear]).reshape(-1, 3)
        away = np.abs(anchors[:, None] - kept[None, :, :2]).max(axis=2, initial=0.0)
        # A mark around the named thing itself is not in the way: the name stands beside it.
        marked = np.where(away < _SAME, kept[:, 2], 0.0).max(axis=1, initial=0.0)
        own, gap = np.maximum(radii, marked), ink.scale.grid(0.5)
        sure = sum(label.rank in _SURE for label in labels)
        corners = place_labels(
            np.vstack([anchors, kept[:, :2], scene.stars.places[:_KEPT_CLEAR]]),
            sizes,
            np.concatenate([own, kept[:, 2], scene.stars.radii[:_KEPT_CLEAR]]),
            bounds,
            gap,
            sure=sure,
            centred=sum(label.rank == "group" for label in labels),
        )
        return corners, leaders(anchors[:sure], corners[:sure], sizes[:sure], own[:sure], gap)

    def _word(self, ink: ChartInk, label: DrawnName) -> "LaidOut":
        key = (label.text, label.rank, ink.scale.factor)
        if key not in self._words:
            if len(self._words) > _MOST_KEPT:
                self._words.clear()
            self._words[key] = LaidOut.of(label.text, _font(ink, label.rank))
        return self._words[key]


@dataclass(frozen=True, slots=True)
class LaidOut:
    """A name laid out once, and the box that it takes."""

    text: QStaticText
    width: float
    height: float
    above: float  # of the text's own box, over the tighter one
    outline: QPainterPath

    @classmethod
    def of(cls, name: str, font: QFont) -> "LaidOut":
        """Lay a name out."""
        text = QStaticText(name)
        text.setTextFormat(Qt.TextFormat.PlainText)
        text.setPerformanceHint(QStaticText.PerformanceHint.AggressiveCaching)
        text.prepare(font=font)
        metrics = QFontMetricsF(font)
        high = metrics.height()
        wide = metrics.horizontalAdvance(name) + 2.0 * _BESIDE
        outline = QPainterPath()
        outline.addText(0.0, metrics.ascent(), font, name)
        return cls(text, wide, high * _TIGHT, -high * (1.0 - _TIGHT) / 2.0, outline)


def write_name(painter: QPainter, corner: QPointF, word: LaidOut) -> None:
    """Write a name with the painter's font and pen into its box from a corner on."""
    painter.drawStaticText(corner + QPointF(_BESIDE, word.above), word.text)


def write_pointed(painter: QPainter, ink: ChartInk, words: tuple[str, str], bottom: float) -> None:
    """Write what is under the pointer, and where that is, into the lower left corner."""
    what, where = words
    grid = ink.scale.grid()
    painter.setFont(ink.font(Size.SMALL))
    high = QFontMetricsF(painter.font()).height()
    lines = [(text, role) for text, role in ((what, Role.EMPHASIS), (where, Role.TEXT)) if text]
    top = bottom - 1.5 * grid - high * len(lines)
    for at, (text, role) in enumerate(lines):
        box = text_box(painter, text).translated(2.0 * grid, top + at * high)
        painter.fillRect(box.adjusted(-grid, 0.0, grid, 0.0), ink.ground)
        painter.setPen(ink.tone(role))
        write(painter, box, text)
