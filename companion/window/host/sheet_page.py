"""The sheet that visitors take home, as PDF: black on white, for paper alone."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

import numpy as np
from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QGuiApplication, QPageSize, QPainter, QPdfWriter

from companion.charts import ChartKind, ChartView, SheetSky, lens_of
from companion.files import write_whole
from companion.finding import ViewFrame, Viewing, azimuth_altitude_deg
from companion.sky import clock_text, compass_point, position_text, zone_of, zone_text
from companion.window.kit.lettering import Size, write
from companion.window.kit.palette import Role
from companion.window.kit.type_scale import load_fonts
from companion.window.sky.chart_ink import ChartInk
from companion.window.sky.chart_paint import Overlay, Picture, paint_on_paper
from companion.window.sky.print_page import paper_ink

if TYPE_CHECKING:
    from companion.road import Sheet

_DPI: Final = 300
_MARGIN, _INDENT, _GAP = 160.0, 70.0, 26.0  # in 300ths of an inch
_CHART_SHARE: Final = 0.375  # of the page's height
_SPAN_DEG, _WIDEST_DEG = 74.0, 124.0  # of the picture's smaller side
_GROUND_DEG: Final = 6.0  # under the horizon that is in sight
_STARS_TO, _OTHERS_TO = 4.5, 4.0  # magnitudes: what a beginner sees beside a street
_ZENITH: Final = np.array([0.0, 0.0, 1.0])
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_WRAP = Qt.AlignmentFlag.AlignLeft.value | Qt.TextFlag.TextWordWrap.value
_BOX: Final = 30.0  # the side of what is ticked
_CAUTION: Final = (
    "Never look at the Sun, nor near it, through binoculars or a telescope: a glance blinds. Under "
    "the night sky use red light only: eyes need ten minutes for each flash of white."
)
_NOTHING: Final = "Nothing is written yet: note what you liked best."


def print_sheet(path: Path, sheet: "Sheet", sky: SheetSky) -> None:
    """Write the sheet; nothing may be there under that name yet.

    Works without a window, too.

    Raises
    ------
    AdviceError
        If the file is there already, or can't be written.
    """
    own = None if QGuiApplication.instance() else _application()
    write_whole(path, _pdf(sheet, sky), replace=False)
    del own


def _application() -> QGuiApplication:
    """Make what fonts need where no window is: it opens nothing and wants no display."""
    made = QGuiApplication(["companion", "-platform", "offscreen"])
    load_fonts()
    return made


def _pdf(sheet: "Sheet", sky: SheetSky) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setPageSize(QPageSize(QPageSize.PageSizeId.A4))
    writer.setPageMargins(QMarginsF(0, 0, 0, 0))
    writer.setResolution(_DPI)
    writer.setTitle(_title(sky))
    painter = QPainter(writer)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    paint_sheet(painter, QRectF(0, 0, writer.width(), writer.height()), sheet, sky, writer.newPage)
    painter.end()
    return bytes(buffer.data().data())


def paint_sheet(
    painter: QPainter,
    whole: QRectF,
    sheet: "Sheet",
    sky: SheetSky,
    turn: Callable[[], object],
) -> None:
    """Paint the sheet into a rectangle of 300 units to the inch; ``turn`` begins another page."""
    _Sheet(painter, whole, turn).print(sheet, sky)


def _title(sky: SheetSky) -> str:
    local = sky.sky.utc.astimezone(zone_of(sky.sky.site.time_zone))
    return f"The sky of {local.day} {local:%B %Y}"


class _Sheet:
    """Writes from the top; what finds no room goes on the next page."""

    def __init__(self, painter: QPainter, whole: QRectF, turn: Callable[[], object]) -> None:
        self._painter, self._whole, self._turn = painter, whole, turn
        self._ink: ChartInk = paper_ink()
        self._room = whole.adjusted(_MARGIN, _MARGIN, -_MARGIN, -_MARGIN)
        self._top = self._room.top()

    def print(self, sheet: "Sheet", sky: SheetSky) -> None:
        """Print it all."""
        self._painter.fillRect(self._whole, self._ink.ground)
        self._head(sky)
        self._chart(sky)
        if sheet.group:
            called = f"{sheet.group[:1].upper()}{sheet.group[1:]}"
            self._caption(f"{called}, and where it leads")
            self._words(sheet.looks)
            self._numbered([point.sentence for point in sheet.points])
        if sheet.saw:
            self._caption("What we saw tonight")
            self._words(", ".join(sheet.saw))
        elif sheet.planned:
            self._caption("What we look at tonight: tick what you saw")
            self._boxes(sheet.planned)
        else:
            self._caption("What we saw tonight")
            self._words(_NOTHING)
        self._caption("Three things for next week, by eye, at the same hour")
        self._numbered(sheet.next_week)
        self._top += _GAP
        self._words(_CAUTION)

    def _head(self, sky: SheetSky) -> None:
        site = sky.sky.site
        local = sky.sky.utc.astimezone(zone_of(site.time_zone))
        line = QRectF(self._room.left(), self._top, self._room.width(), 110)
        self._letter(Size.TITLE, Role.EMPHASIS)
        write(self._painter, line.adjusted(0, 0, -line.width() * 0.35, 0), _title(sky))
        self._letter(Size.BODY, Role.TEXT)
        write(self._painter, line, site.name, _RIGHT)
        line.translate(0, 90)
        azimuth, _altitude = azimuth_altitude_deg(sky.centre)
        faced = f"As you stand and face {compass_point(azimuth, 8)}, at {clock_text(local)} "
        write(self._painter, line, f"{faced}{zone_text(local)}")
        write(self._painter, line, position_text(site.latitude_deg, site.longitude_deg), _RIGHT)
        self._top = line.bottom() + _GAP / 2

    def _chart(self, sky: SheetSky) -> None:
        """Paint the sky towards the group, with all its ways."""
        painter, ink = self._painter, self._ink
        box = QRectF(
            self._room.left(), self._top, self._room.width(), self._whole.height() * _CHART_SHARE
        )
        frame = ViewFrame(sky.centre, _ZENITH, Viewing.UPRIGHT)
        _azimuth, altitude = azimuth_altitude_deg(sky.centre)
        wanted = max(_SPAN_DEG, 2.3 * sky.reach_deg, 2.0 * (altitude + _GROUND_DEG))
        span = min(wanted, _WIDEST_DEG)
        scale = min(box.width(), box.height()) / 2.0 / frame.radius(span / 2.0)
        view = ChartView(frame, box.width(), box.height(), scale)
        painter.save()
        painter.setClipRect(box)
        painter.translate(box.topLeft())
        lens = replace(
            lens_of(sky.sky, ChartKind.WHOLE), star_limit=_STARS_TO, deep_limit=_OTHERS_TO
        )
        paint_on_paper(
            painter,
            ink,
            Picture(sky.sky, view, lens, Overlay(sky.way, grid=False, numbered=sky.lasts)),
        )
        painter.restore()
        painter.setPen(ink.pen(Role.LINE))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(box)
        self._top = box.bottom() + _GAP

    # Words.

    def _caption(self, text: str) -> None:
        self._top += _GAP
        self._flow(text, Size.VALUE, Role.EMPHASIS, 0.0)

    def _words(self, text: str) -> None:
        self._flow(text, Size.BODY, Role.TEXT, 0.0)

    def _numbered(self, sentences: Sequence[str]) -> None:
        for number, sentence in enumerate(sentences, 1):
            self._flow(sentence, Size.BODY, Role.TEXT, _INDENT, f"{number}")

    def _boxes(self, names: Sequence[str]) -> None:
        """Write names in two columns, each with a box to tick."""
        self._letter(Size.BODY, Role.TEXT)
        high = QFontMetricsF(self._painter.font()).height() * 1.2
        half = self._room.width() / 2.0
        for at, name in enumerate(names):
            if at % 2 == 0:
                self._make_room(high)
            left = self._room.left() + (at % 2) * half
            line = QRectF(left, self._top, half, high)
            self._painter.setBrush(Qt.BrushStyle.NoBrush)
            middle = line.center().y() - _BOX / 2
            self._painter.drawRect(QRectF(left, middle, _BOX, _BOX))
            write(self._painter, line.adjusted(_INDENT, 0, 0, 0), name)
            if at % 2 or at + 1 == len(names):
                self._top += high

    def _flow(self, text: str, size: Size, role: Role, indent: float, lead: str = "") -> None:
        """Write a paragraph, with what stands before it."""
        self._letter(size, role)
        wide = self._room.width() - indent
        high = self._painter.boundingRect(QRectF(0, 0, wide, 1e6), _WRAP, text).height()
        self._make_room(high)
        box = QRectF(self._room.left() + indent, self._top, wide, high)
        self._painter.drawText(box, _WRAP, text)
        if lead:
            self._painter.drawText(QRectF(self._room.left(), self._top, indent, high), _WRAP, lead)
        self._top += high + _GAP / 2

    def _make_room(self, high: float) -> None:
        """Begin another page where this one has no room for so much."""
        if self._top + high > self._room.bottom() and self._top > self._room.top():
            self._turn()
            self._painter.fillRect(self._whole, self._ink.ground)
            self._top = self._room.top()

    def _letter(self, size: Size, role: Role) -> None:
        self._painter.setFont(self._ink.font(size))
        self._painter.setPen(self._ink.tone(role))
