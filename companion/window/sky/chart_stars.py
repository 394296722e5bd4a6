"""Thousands of stars at once: each a disc with a soft edge, set into the bits of an image."""

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QPainter

from companion.arrays import FloatArray, IntArray
from companion.charts import GLOW_CELL

_OPAQUE = 0xFF000000
_SOFT = 0.5  # pixels: the half width of the edge
_CODE_OF_LIGHT = 1.0 / 2.2  # half of the light is more than half of the code (sRGB, about)
_SHARES = 256  # of a pixel that are told apart
_HALO = 1.5  # pixels of ground around a disc
_HALO_FROM = 1.4  # pixels of radius: about fainter ones lines and glow go on
_SQUARE = 4  # pixels of the soft light
_HAND_SET = 4.0  # pixels: greater discs are few and are drawn one by one


class StarPlate:
    """An image of a chart's size that lines and stars are drawn into."""

    def __init__(self) -> None:
        self._image = QImage()

    @property
    def image(self) -> QImage:
        """The image as it is."""
        return self._image

    def begin(self, size: QSize, ratio: float, ground: QColor) -> None:
        """Wipe the plate, made anew where its size has changed."""
        wanted = QSize(round(size.width() * ratio), round(size.height() * ratio))
        if self._image.size() != wanted:
            self._image = QImage(wanted, QImage.Format.Format_RGB32)
            self._image.setDevicePixelRatio(ratio)
        self._image.fill(ground)

    def shine(self, glow: FloatArray, colour: QColor) -> None:
        """Lay soft light (rows, columns), 0 to 1, over the whole plate, in place of what is there.

        Parameters
        ----------
        glow : FloatArray
            How bright each part is.
        colour : QColor
            Of 1; only its red counts.
        """
        rows, columns = glow.shape
        red = np.rint(glow * colour.red()).astype(np.uint32)
        lent = (_OPAQUE | (red << 16)).tobytes()  # the image reads it in place, and keeps nothing
        small = QImage(lent, columns, rows, 4 * columns, QImage.Format.Format_RGB32)
        # Smooth to a quarter, then in squares: of so faint a light nobody sees them.
        wide, high = round(columns * GLOW_CELL), round(rows * GLOW_CELL)
        soft = small.scaled(
            wide // _SQUARE,
            high // _SQUARE,
            Qt.AspectRatioMode.IgnoreAspectRatio,
            Qt.TransformationMode.SmoothTransformation,
        )
        painter = QPainter(self._image)
        painter.drawImage(QRectF(0.0, 0.0, wide, high), soft)
        painter.end()

    def dot(self, places: FloatArray, width: float, colour: QColor) -> None:
        """Set fine dots (n, 2) with hard edges, in the same units as stars."""
        ratio = self._image.devicePixelRatio()
        side = max(1, int(width * ratio))
        corner = np.floor(places * ratio - (side - 1) / 2.0).astype(np.int64)
        room = np.array([self._image.width(), self._image.height()]) - side
        corner = corner[((corner >= 0) & (corner <= room)).all(axis=1)]
        line = self._image.bytesPerLine() // 4
        bits = np.frombuffer(self._image.bits(), np.uint32)
        at = corner[:, 1] * line + corner[:, 0]
        for right, down in np.ndindex(side, side):
            bits[at + down * line + right] = _OPAQUE | (colour.red() << 16)

    def part(self, places: FloatArray, radii: FloatArray, ground: QColor) -> None:
        """Part bright stars by a rim of ground from what lies behind them; the ground is black."""
        bright = radii > _HALO_FROM
        places, radii = places[bright], radii[bright] + _HALO
        for bits, where, share in self._covered(places, radii, ground):
            red = ((bits[where] >> np.uint32(16)) & np.uint32(0xFF)) * (1.0 - share)
            bits[where] = (red.astype(np.uint32) << np.uint32(16)) | np.uint32(_OPAQUE)

    def add(self, places: FloatArray, radii: FloatArray, colour: QColor) -> None:
        """Set stars; of two in one pixel the brighter counts.

        Parameters
        ----------
        places : FloatArray
            Middles (n, 2) in the units of the size that the plate was begun with.
        radii : FloatArray
            Radii (n,).
        colour : QColor
            Only its red counts.
        """
        light = np.linspace(0.0, 1.0, _SHARES + 1) ** _CODE_OF_LIGHT
        codes = ((light * colour.red()).astype(np.uint32) << np.uint32(16)) | np.uint32(_OPAQUE)
        for bits, where, share in self._covered(places, radii, colour):
            value = codes[(share * _SHARES).astype(np.uint16)]
            bits[where] = np.maximum(bits[where], value)

    def _covered(
        self, places: FloatArray, radii: FloatArray, colour: QColor
    ) -> Iterator[tuple[npt.NDArray[np.uint32], IntArray, FloatArray]]:
        """Draw great discs; give the bits, which of them the others cover (n, k, k), and how far.

        Discs of one reach share one array: a few array operations instead of a call a star.
        """
        ratio = self._image.devicePixelRatio()
        at, size = places * ratio, radii * ratio
        great = size > _HAND_SET
        self._draw(places[great], radii[great], colour)
        bits = np.frombuffer(self._image.bits(), np.uint32)  # after the painter, which may move it
        reach = np.where(great, 0, np.ceil(size + _SOFT)).astype(int)
        for step in np.unique(reach[~great]).tolist():
            chosen = reach == step
            yield bits, *self._pixels(at[chosen], size[chosen], step)

    def _draw(self, places: FloatArray, radii: FloatArray, colour: QColor) -> None:
        if not len(radii):
            return
        painter = QPainter(self._image)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour)
        for (x, y), radius in zip(places.tolist(), radii.tolist(), strict=True):
            painter.drawEllipse(QPointF(x, y), radius, radius)
        painter.end()

    def _pixels(self, at: FloatArray, size: FloatArray, reach: int) -> tuple[IntArray, FloatArray]:
        """Give the pixels around some middles, and the share of each that the disc covers."""
        high, wide = self._image.height(), self._image.width()
        pixel = np.floor(at).astype(np.int64)
        inside = (pixel >= reach).all(axis=1)
        inside &= (pixel[:, 0] < wide - reach) & (pixel[:, 1] < high - reach)
        at, size, pixel = at[inside], size[inside], pixel[inside]
        offset = np.arange(-reach, reach + 1)
        off_x = pixel[:, 0, None] + offset + 0.5 - at[:, 0, None]  # (n, k)
        off_y = pixel[:, 1, None] + offset + 0.5 - at[:, 1, None]
        away = np.sqrt(off_x[:, None, :] ** 2 + off_y[:, :, None] ** 2)
        share = np.clip(size[:, None, None] + _SOFT - away, 0.0, 1.0)
        row = (pixel[:, 1, None] + offset)[:, :, None] * (self._image.bytesPerLine() // 4)
        return row + (pixel[:, 0, None] + offset)[:, None, :], share
