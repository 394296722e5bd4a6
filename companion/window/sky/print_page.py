"""Pages for a target: where to look, the finder, the eyepiece, and the way in words, as PDF."""

from collections.abc import Sequence
from pathlib import Path

import numpy as np
from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPageSize, QPainter, QPdfWriter

from companion.charts import (
    ChartKind,
    ChartView,
    Lens,
    SkyFrame,
    SkyPage,
    around,
    eyepieces,
    lens_of,
    magnitude_key,
)
from companion.files import write_whole
from companion.finding import ViewFrame
from companion.sky import position_text
from companion.window.kit.lettering import Size, write
from companion.window.kit.palette import Role, grey, red, tones_at
from companion.window.kit.type_scale import TypeScale
from companion.window.sky import page_words, words as sky_words
from companion.window.sky.chart_ink import ChartInk
from companion.window.sky.chart_paint import Overlay, Picture, paint_on_paper
from companion.window.sky.words import Passage, Walk

_DPI = 300
_MARGIN, _GAP = 150.0, 44.0  # in 300ths of an inch
_TOP, _WIDE_SHARE, _ROUND_SHARE = 300.0, 0.255, 0.255
_LINE = 84.0
_CAPTION = 104.0  # two lines under a chart
_FACTOR = 1.25
_ROW = 58.0
_ZENITH = np.array([0.0, 0.0, 1.0])
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_WRAP = Qt.AlignmentFlag.AlignLeft.value | Qt.TextFlag.TextWordWrap.value


def paper_ink() -> ChartInk:
    """Give black on white."""
    line, quiet, text, black = (grey(code) for code in (150, 110, 60, 0))
    return ChartInk(grey(255), line, quiet, text, black, TypeScale(_FACTOR))


def screen_ink() -> ChartInk:
    """Give red on black."""
    tones = tones_at(0)
    return ChartInk(
        red(tones.ground),
        red(tones.line),
        red(tones.quiet),
        red(tones.text),
        red(tones.emphasis),
        TypeScale(_FACTOR),
    )


def print_pages(path: Path, pages: Sequence[SkyPage], tones: ChartInk) -> None:
    """Write a page for each target, and a second one where its words need it.

    Parameters
    ----------
    path : Path
        The file; nothing may be there under that name yet.
    pages : sequence of SkyPage
        One for each target.
    tones : ChartInk
        ``paper_ink`` or ``screen_ink``.

    Raises
    ------
    AdviceError
        If the file can't be written.
    """
    write_whole(path, _pdf(pages, tones), replace=False)


def _pdf(pages: Sequence[SkyPage], tones: ChartInk) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setPageSize(QPageSize(QPageSize.PageSizeId.A4))
    writer.setPageMargins(QMarginsF(0, 0, 0, 0))
    writer.setResolution(_DPI)
    writer.setTitle(", ".join(sky_words.heading(page.sky) for page in pages))
    painter = QPainter(writer)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    whole = QRectF(0, 0, writer.width(), writer.height())
    for number, page in enumerate(pages):
        if number:
            writer.newPage()
        left = paint_page(painter, tones, whole, page)
        while left:
            writer.newPage()
            left = paint_more(painter, tones, whole, page, left)
    painter.end()
    return bytes(buffer.data().data())


def paint_page(
    painter: QPainter, tones: ChartInk, whole: QRectF, page: SkyPage
) -> tuple[Passage, ...]:
    """Paint the page of a target into a rectangle of 300 units to the inch.

    Gives what it had no room for, which ``paint_more`` paints on the next.
    """
    return _Page(painter, tones, whole).print(page)


def paint_more(
    painter: QPainter, tones: ChartInk, whole: QRectF, page: SkyPage, left: tuple[Passage, ...]
) -> tuple[Passage, ...]:
    """Paint a page that only goes on with the words; give what is left again."""
    return _Page(painter, tones, whole).go_on(page, left)


class _Page:
    """One page, from the top."""

    def __init__(self, painter: QPainter, tones: ChartInk, whole: QRectF) -> None:
        self._painter, self._tones = painter, tones
        self._whole = whole
        self._room = whole.adjusted(_MARGIN, _MARGIN, -_MARGIN, -_MARGIN)

    def print(self, page: SkyPage) -> tuple[Passage, ...]:
        """Print the page of a target; give what is left to be said."""
        sky = page.sky
        self._painter.fillRect(self._whole, self._tones.ground)
        self._head(page)
        top = self._room.top() + _TOP
        high = self._whole.height() * _WIDE_SHARE
        wide = lens_of(sky, ChartKind.WIDE)
        way = sky.paths.ways[0] if sky.paths.ways else None
        box = QRectF(self._room.left(), top, self._room.width(), high)
        self._chart(sky, wide, box, Overlay(way, hop=-1))
        top = self._rounds(sky, top + high + _CAPTION + _GAP)
        top = self._hours(page, top)
        kind = ChartKind.EYEPIECE if eyepieces(sky) else ChartKind.FINDER
        walk = Walk(way=0 if sky.paths.ways else None)
        return self._words(page_words.page_passages(sky, lens_of(sky, kind), walk), top)

    def go_on(self, page: SkyPage, left: tuple[Passage, ...]) -> tuple[Passage, ...]:
        """Print what found no room on the page before."""
        self._painter.fillRect(self._whole, self._tones.ground)
        line = QRectF(self._room.left(), self._room.top(), self._room.width(), 110)
        self._letter(Size.TITLE, Role.EMPHASIS)
        write(self._painter, line, f"{sky_words.heading(page.sky)}, continued")
        return self._words(left, self._room.top() + 170, first=True)

    def _head(self, page: SkyPage) -> None:
        sky = page.sky
        place = position_text(sky.site.latitude_deg, sky.site.longitude_deg)
        line = QRectF(self._room.left(), self._room.top(), self._room.width(), 110)
        self._letter(Size.TITLE, Role.EMPHASIS)
        write(self._painter, line.adjusted(0, 0, -line.width() * 0.4, 0), sky_words.heading(sky))
        self._letter(Size.BODY, Role.TEXT)
        write(self._painter, line, f"{sky.site.name}, {place}", _RIGHT)
        line.translate(0, _LINE)
        write(self._painter, line.adjusted(0, 0, -line.width() * 0.45, 0), sky_words.about(sky))
        write(self._painter, line, page_words.page_when(page), _RIGHT)
        line.translate(0, _LINE * 0.8)
        write(self._painter, line, page_words.page_place(page))
        write(self._painter, line, page_words.page_night(page), _RIGHT)

    def _rounds(self, sky: SkyFrame, top: float) -> float:
        """Print the fields of finder and eyepiece side by side; give where they end."""
        if sky.caution:
            return top
        side = self._whole.height() * _ROUND_SHARE
        lenses = [lens_of(sky, ChartKind.FINDER)]
        if eyepieces(sky):
            lenses.append(lens_of(sky, ChartKind.EYEPIECE))
        wide = (self._room.width() - _GAP) / 2.0
        for at, lens in enumerate(lenses):
            box = QRectF(self._room.left() + at * (wide + _GAP), top, wide, side)
            hops = sky.paths.hops if lens.kind is ChartKind.FINDER else ()
            self._chart(sky, lens, box, Overlay(hops=hops, hop=-1))
        return top + side + _CAPTION + _GAP

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
        line = QRectF(box.left(), box.bottom() + 8, box.width(), _CAPTION / 2.0)
        self._letter(Size.CAPTION, Role.TEXT)
        write(painter, line, page_words.caption(sky, lens), _LEFT)
        line.translate(0.0, line.height() - 4.0)
        write(painter, line, page_words.complete(lens), _LEFT)
        self._key(lens, line)

    def _key(self, lens: Lens, line: QRectF) -> None:
        """Print discs of some magnitudes at the right end of a line."""
        self._letter(Size.CAPTION, Role.TEXT)
        metrics = QFontMetricsF(self._painter.font())
        at = line.right()
        for magnitude, radius in reversed(magnitude_key(lens, self._tones.scale.factor)):
            text = f"{magnitude}".replace("-", "−")
            at -= metrics.horizontalAdvance(text)
            self._letter(Size.CAPTION, Role.TEXT)
            self._painter.drawText(QPointF(at, line.center().y() + metrics.capHeight() / 2), text)
            at -= radius + 8.0
            self._painter.setPen(Qt.PenStyle.NoPen)
            self._painter.setBrush(self._tones.emphasis)
            self._painter.drawEllipse(QPointF(at, line.center().y()), radius, radius)
            at -= radius + 18.0

    def _hours(self, page: SkyPage, top: float) -> float:
        """Print where the target stands through its window; give where that ends."""
        rows = page_words.page_hours(page)
        if not rows:
            return top
        head = 190.0
        wide = (self._room.width() - head) / max(len(rows[0].cells), 6)
        for row in rows:
            line = QRectF(self._room.left(), top, head, _ROW)
            self._letter(Size.CAPTION, Role.TEXT)
            write(self._painter, line, row.caption, _LEFT)
            for at, text in enumerate(row.cells):
                own = row.own == at
                self._letter(Size.BODY, Role.EMPHASIS if own else Role.TEXT)
                line = QRectF(self._room.left() + head + at * wide, top, wide - 10, _ROW)
                write(self._painter, line, text, _RIGHT)
            top += _ROW
        return top + _GAP * 0.6

    def _words(
        self, told: Sequence[Passage], top: float, *, first: bool = False
    ) -> tuple[Passage, ...]:
        """Print what there is to be said as far as the page goes; give the rest.

        Of a page that has nothing else the first paragraph is printed whatever its length.
        """
        room = QRectF(self._room.left(), top, self._room.width(), self._room.bottom() - top)
        for number, passage in enumerate(told):
            self._letter(Size.CAPTION, Role.TEXT)
            head = self._painter.boundingRect(room, _WRAP, passage.caption).height() + 6
            below = room.adjusted(0, head, 0, 0)
            self._letter(Size.BODY, Role.EMPHASIS)
            lines = passage.text.split("\n")
            fit = self._fitting(lines, below)
            if first and number == 0:
                fit = max(fit, 1)
            if fit:
                self._painter.drawText(below, _WRAP, "\n".join(lines[:fit]))
                below = self._painter.boundingRect(below, _WRAP, "\n".join(lines[:fit]))
                self._letter(Size.CAPTION, Role.TEXT)
                self._painter.drawText(room, _WRAP, passage.caption)
                room.setTop(below.bottom() + 26)
            if fit < len(lines):
                rest = Passage(passage.caption, "\n".join(lines[fit:]))
                return (rest, *told[number + 1 :])
        return ()

    def _fitting(self, lines: Sequence[str], room: QRectF) -> int:
        """Give how many of some paragraphs the page has room for."""
        for count in range(len(lines), 0, -1):
            text = self._painter.boundingRect(room, _WRAP, "\n".join(lines[:count]))
            if text.bottom() <= self._room.bottom():
                return count
        return 0

    def _letter(self, size: Size, role: Role) -> None:
        self._painter.setFont(self._tones.font(size))
        self._painter.setPen(self._tones.tone(role))
