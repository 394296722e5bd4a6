"""Pages for a target: where to look, the finder, the eyepiece, and the way in words, as PDF."""

from collections.abc import Sequence
from pathlib import Path

import numpy as np
from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QRectF, Qt
from PySide6.QtGui import QPageSize, QPainter, QPdfWriter

from companion.charts import ChartKind, ChartView, Lens, SkyFrame, around, eyepieces, lens_of
from companion.files import write_whole
from companion.finding import ViewFrame
from companion.sky import clock_text, position_text, zone_of, zone_text
from companion.window.kit.lettering import Size, write
from companion.window.kit.palette import Role, grey, red, tones_at
from companion.window.kit.type_scale import TypeScale
from companion.window.sky import words as sky_words
from companion.window.sky.chart_ink import ChartInk
from companion.window.sky.chart_paint import Overlay, Picture, paint_on_paper
from companion.window.sky.words import Walk

_DPI = 300
_MARGIN, _GAP = 150.0, 50.0  # in 300ths of an inch
_TOP, _WIDE_SHARE, _ROUND_SHARE = 250.0, 0.30, 0.285
_CAPTION = 60.0
_FACTOR = 1.25
_ZENITH = np.array([0.0, 0.0, 1.0])
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_WRAP = Qt.AlignmentFlag.AlignLeft.value | Qt.TextFlag.TextWordWrap.value


def paper_ink() -> ChartInk:
    """Give black on white."""
    line, text, black = (grey(code) for code in (150, 60, 0))
    return ChartInk(grey(255), line, text, black, TypeScale(_FACTOR))


def screen_ink() -> ChartInk:
    """Give red on black."""
    tones = tones_at(0)
    return ChartInk(
        red(tones.ground),
        red(tones.line),
        red(tones.text),
        red(tones.emphasis),
        TypeScale(_FACTOR),
    )


def print_pages(path: Path, skies: Sequence[SkyFrame], tones: ChartInk) -> None:
    """Write a page for each target.

    Parameters
    ----------
    path : Path
        The file; what is there under that name is replaced once the new one is whole.
    skies : sequence of SkyFrame
        One for each page, with its target.
    tones : ChartInk
        ``paper_ink`` or ``screen_ink``.

    Raises
    ------
    AdviceError
        If the file can't be written.
    """
    write_whole(path, _pdf(skies, tones))


def _pdf(skies: Sequence[SkyFrame], tones: ChartInk) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setPageSize(QPageSize(QPageSize.PageSizeId.A4))
    writer.setPageMargins(QMarginsF(0, 0, 0, 0))
    writer.setResolution(_DPI)
    writer.setTitle(", ".join(sky_words.heading(sky) for sky in skies))
    painter = QPainter(writer)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for number, sky in enumerate(skies):
        if number:
            writer.newPage()
        paint_page(painter, tones, QRectF(0, 0, writer.width(), writer.height()), sky)
    painter.end()
    return bytes(buffer.data().data())


def paint_page(painter: QPainter, tones: ChartInk, whole: QRectF, sky: SkyFrame) -> None:
    """Paint the page of a target into a rectangle of 300 units to the inch."""
    _Page(painter, tones, whole).print(sky)


class _Page:
    """One page, from the top."""

    def __init__(self, painter: QPainter, tones: ChartInk, whole: QRectF) -> None:
        self._painter, self._tones = painter, tones
        self._whole = whole
        self._room = whole.adjusted(_MARGIN, _MARGIN, -_MARGIN, -_MARGIN)

    def print(self, sky: SkyFrame) -> None:
        """Print the page of a target."""
        self._painter.fillRect(self._whole, self._tones.ground)
        self._head(sky)
        top = self._room.top() + _TOP
        high = self._whole.height() * _WIDE_SHARE
        wide = lens_of(sky, ChartKind.WIDE)
        way = sky.paths.ways[0] if sky.paths.ways else None
        box = QRectF(self._room.left(), top, self._room.width(), high)
        self._chart(sky, wide, box, Overlay(way, hop=-1))
        top += high + _CAPTION + _GAP
        self._words(sky, self._rounds(sky, top))

    def _head(self, sky: SkyFrame) -> None:
        local = sky.utc.astimezone(zone_of(sky.site.time_zone))
        place = position_text(sky.site.latitude_deg, sky.site.longitude_deg)
        line = QRectF(self._room.left(), self._room.top(), self._room.width(), 110)
        self._letter(Size.TITLE, Role.EMPHASIS)
        write(self._painter, line.adjusted(0, 0, -line.width() * 0.4, 0), sky_words.heading(sky))
        self._letter(Size.BODY, Role.TEXT)
        write(self._painter, line, f"{sky.site.name}, {place}", _RIGHT)
        line.translate(0, 90)
        write(self._painter, line, sky_words.about(sky))
        when = f"{local:%Y-%m-%d} {clock_text(local)} {zone_text(local)}"
        write(self._painter, line, when, _RIGHT)

    def _rounds(self, sky: SkyFrame, top: float) -> float:
        """Print the fields of finder and eyepiece side by side; give where they end."""
        side = self._whole.height() * _ROUND_SHARE
        lenses = [lens_of(sky, ChartKind.FINDER)]
        if eyepieces(sky):
            lenses.append(lens_of(sky, ChartKind.EYEPIECE))
        wide = (self._room.width() - _GAP) / 2.0
        for at, lens in enumerate([] if sky.caution else lenses):
            box = QRectF(self._room.left() + at * (wide + _GAP), top, wide, side)
            hops = sky.paths.hops if lens.kind is ChartKind.FINDER else ()
            self._chart(sky, lens, box, Overlay(hops=hops, hop=-1))
        return top if sky.caution else top + side + _CAPTION + _GAP

    def _chart(self, sky: SkyFrame, lens: Lens, box: QRectF, shown: Overlay) -> None:
        if sky.target is None:
            return
        painter, tones = self._painter, self._tones
        centre, span = sky.target.vector, lens.span_deg
        if shown.way is not None:
            centre, reach = around([centre, *shown.way.stars])
            span = min(max(span, 2.4 * reach), lens.spans_deg[1])
        frame = ViewFrame(centre, _ZENITH, lens.viewing)
        scale = min(box.width(), box.height()) / 2.0 / frame.radius(span / 2.0)
        view = ChartView(frame, box.width(), box.height(), scale)
        painter.save()
        painter.setClipRect(box)
        painter.translate(box.topLeft())
        paint_on_paper(painter, tones, Picture(sky, view, lens, shown))
        painter.restore()
        painter.setPen(tones.pen(Role.LINE))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(box)
        caption = QRectF(box.left(), box.bottom() + 8, box.width(), _CAPTION - 8)
        self._letter(Size.CAPTION, Role.TEXT)
        write(painter, caption, sky_words.caption(sky, lens), _LEFT)

    def _words(self, sky: SkyFrame, top: float) -> None:
        """Print what there is to be said, as far as the page goes."""
        room = QRectF(self._room.left(), top, self._room.width(), self._room.bottom() - top)
        kind = ChartKind.EYEPIECE if eyepieces(sky) else ChartKind.FINDER
        lens = lens_of(sky, kind)
        walk = Walk(way=0 if sky.paths.ways else None)
        told = list(sky_words.page_passages(sky, lens, walk))
        for passage in told:
            self._letter(Size.CAPTION, Role.TEXT)
            head = self._painter.boundingRect(room, _WRAP, passage.caption)
            self._letter(Size.BODY, Role.EMPHASIS)
            below = room.adjusted(0, head.height() + 6, 0, 0)
            text = self._painter.boundingRect(below, _WRAP, passage.text)
            if text.bottom() > self._room.bottom():
                continue  # a later one may be shorter
            self._painter.drawText(below, _WRAP, passage.text)
            self._letter(Size.CAPTION, Role.TEXT)
            self._painter.drawText(room, _WRAP, passage.caption)
            room.setTop(text.bottom() + 26)

    def _letter(self, size: Size, role: Role) -> None:
        self._painter.setFont(self._tones.font(size))
        self._painter.setPen(self._tones.tone(role))
