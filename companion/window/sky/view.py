"""Chart and words side by side, and what the keys do to them."""

from collections.abc import Mapping
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from companion.charts import ChartKind, SkyFrame, apart_deg, around, lens_of
from companion.window.aim.words import NOTHING, Notice
from companion.window.forms.prompts import round_prompt
from companion.window.frame.screen import Action
from companion.window.frame.sheets import Sheets
from companion.window.kit.motion import Motion
from companion.window.kit.symbols import draw_rule
from companion.window.kit.type_scale import Arranged
from companion.window.sky import words as sky_words
from companion.window.sky.chart import Chart
from companion.window.sky.chart_legend import ChartLegend
from companion.window.sky.chart_paint import Overlay
from companion.window.sky.print_prompt import print_prompt
from companion.window.sky.side import SkySide
from companion.window.sky.words import Walk

if TYPE_CHECKING:
    from companion.live import Evening

_PAN, _ZOOM = 0.16, 0.8
_SIDE_COLUMN = 9
_SIDE_FROM = 900  # pixels of width, under which the words go below the chart
_SIDE_FROM_STEPS = 150  # of the grid: the same beside a sheet
_KINDS = tuple(ChartKind)
_NARROW = frozenset({ChartKind.FINDER, ChartKind.EYEPIECE})
_NO_EYEPIECE = Notice(
    "No eyepiece is known.", "Choose a telescope on the screen of the mount, with the key 5."
)


class SkyView(Arranged):
    """Walks the ways on the chart and tells them beside it."""

    def __init__(
        self, evening: "Evening", motion: Motion, sheets: Sheets, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._evening, self._sheets = evening, sheets
        self.chart, self.side = Chart(motion, self), SkySide(self)
        self.legend = ChartLegend(self)
        self.legend.hide()
        self.walk = Walk()
        self._grid = self._borders = False
        self._note = NOTHING  # what the last key could not do
        self.chart.moved.connect(self.tell)
        self.chart.chosen.connect(self._choose_thing)
        self.show_choices()

    # What is new.

    def show_sky(self, sky: SkyFrame) -> None:
        """Take a new instant."""
        before = self.chart.sky
        if before is not None and _key(before) != _key(sky):
            self.walk, self._note = Walk(), NOTHING
        self._keep_away(sky)
        self.chart.show_sky(sky)
        self.tell()

    def _keep_away(self, sky: SkyFrame) -> None:
        """Near the Sun nothing is shown as an instrument would show it."""
        if sky.caution and self.chart.kind in _NARROW:
            self.chart.choose(ChartKind.WHOLE)

    def show_choices(self) -> None:
        """Say what is on its way until it is there."""
        sky, target = self.chart.sky, self._evening.choices.target
        if sky is None or _key(sky) != ("" if target is None else target.key):
            name = "" if target is None else target.name
            homeless = self._evening.needs_site
            notice = NOTHING if sky else sky_words.waiting(homeless=homeless)
            self.side.say(name, "", notice, "")
            self.side.tell(())

    def tell(self) -> None:
        """Say and draw what the chart shows now."""
        sky = self.chart.sky
        if sky is None:
            return
        lens, centre = self.chart.lens, self.chart.centre
        usual = lens_of(sky, self.chart.kind, self.chart.eyepiece)
        said = sky_words.chart_words(sky, lens, centre)
        if lens.kind is not ChartKind.WHOLE:
            said = f"{said} {sky_words.viewing_words(lens, usual)}"
        notice = sky_words.notice(sky)
        notice = notice if notice != NOTHING else self._note
        self.side.say(sky_words.heading(sky), sky_words.about(sky), notice, said)
        self.side.tell(sky_words.passages(sky, lens, centre, self.walk))
        self.chart.say(self._shown(sky))

    def _shown(self, sky: SkyFrame) -> Overlay:
        walk, ways = self.walk, sky.paths.ways
        way = ways[walk.way] if walk.way is not None and walk.way < len(ways) else None
        hopping = walk.step is not None
        wide = self.chart.kind not in _NARROW
        return Overlay(
            way=way if wide and not hopping else None,
            hops=sky_words.route(sky, walk) if hopping or not wide else (),
            hop=-1 if walk.step is None else walk.step,
            grid=self._grid,
        )

    # What the keys do.

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        chart = self.chart
        return {
            "chart_whole": partial(self.choose, ChartKind.WHOLE),
            "chart_wide": partial(self.choose, ChartKind.WIDE),
            "chart_finder": partial(self.choose, ChartKind.FINDER),
            "chart_eyepiece": partial(self.choose, ChartKind.EYEPIECE),
            "chart_next": partial(self._step_chart, 1),
            "chart_before": partial(self._step_chart, -1),
            "pan_left": partial(chart.pan, -_PAN, 0.0),
            "pan_right": partial(chart.pan, _PAN, 0.0),
            "pan_up": partial(chart.pan, 0.0, _PAN),
            "pan_down": partial(chart.pan, 0.0, -_PAN),
            "zoom_in": partial(chart.zoom, _ZOOM),
            "zoom_out": partial(chart.zoom, 1.0 / _ZOOM),
            "centre": self._centre,
            "way": self._next_way,
            "hop": partial(self._hop, 1),
            "hop_back": partial(self._hop, -1),
            "other_route": self._other_route,
            "turn_view": chart.turn,
            "borders": self._turn_borders,
            "grid": self._turn_grid,
            "legend": self._turn_legend,
            "group_round": lambda: self._sheets.ask(round_prompt(self._evening)),
            "print": lambda: self._sheets.ask(print_prompt(self._evening)),
        }

    def choose(self, kind: ChartKind) -> None:
        """Go to a chart."""
        sky = self.chart.sky
        if sky is None:
            return
        self._note = NOTHING
        if kind in _NARROW and sky.caution:
            kind = self.chart.kind  # the caution stands beside it and says why
        elif kind is ChartKind.EYEPIECE and not sky.optics[1:]:
            self._note = _NO_EYEPIECE
        self.walk = replace(self.walk, step=None)
        self.chart.choose(kind)
        self._take_in_way()
        self.tell()

    def _choose_thing(self, key: str) -> None:
        """Aim at what was clicked on."""
        self._evening.ask(
            "sky target",
            lambda library: library.catalogue.target(key),
            self._evening.queue.add,
        )

    def _step_chart(self, by: int) -> None:
        at = _KINDS.index(self.chart.kind)
        self.choose(_KINDS[(at + by) % len(_KINDS)])

    def _centre(self) -> None:
        self.walk = replace(self.walk, step=None)
        self.chart.look()
        self.tell()

    def _next_way(self) -> None:
        """Show the next way by eye, and after the last one none."""
        sky = self.chart.sky
        ways = () if sky is None else sky.paths.ways
        if not ways:
            return
        at = -1 if self.walk.way is None else self.walk.way
        way = at + 1 if at + 1 < len(ways) else None
        self.walk = replace(self.walk, way=way, step=None)
        if self.chart.kind in _NARROW:
            self.chart.choose(ChartKind.WIDE)
        self._take_in_way()
        self.tell()

    def _take_in_way(self) -> None:
        """Look so that the way and the target are seen together."""
        sky, at = self.chart.sky, self.walk.way
        if sky is None or sky.target is None or at is None or at >= len(sky.paths.ways):
            return
        if self.chart.kind is ChartKind.WIDE:
            self.chart.look_at(*around([sky.target.vector, *sky.paths.ways[at].stars]))

    def _hop(self, by: int) -> None:
        """Go on by a step; before the first one and after the last the target is in the middle."""
        sky = self.chart.sky
        steps = () if sky is None else sky_words.route(sky, self.walk)
        if not steps:
            return
        if self.chart.kind is not ChartKind.FINDER:
            self.chart.choose(ChartKind.FINDER)
        at = self.walk.step
        step = (0 if by > 0 else len(steps) - 1) if at is None else at + by
        if not 0 <= step < len(steps):
            self._centre()
            return
        self.walk = replace(self.walk, step=step)
        hop = steps[step]
        self.chart.look_at(hop.start, apart_deg(hop.start, hop.end))
        self.tell()

    def _other_route(self) -> None:
        sky = self.chart.sky
        if sky is None or not sky.paths.second:
            return
        self.walk = replace(self.walk, route=1 - self.walk.route, step=None)
        self._hop(1)

    def _turn_borders(self) -> None:
        self._borders = not self._borders
        self._evening.charts.set_borders(shown=self._borders)

    def _turn_grid(self) -> None:
        self._grid = not self._grid
        sky = self.chart.sky
        if self._grid and sky is not None and not sky.grid:
            self._grid = False
            self._note = Notice("No sighting tells how the dials stand yet.")
        self.tell()

    def _turn_legend(self) -> None:
        self.legend.setVisible(self.legend.isHidden())
        self.arrange()

    # Where it stands.

    def _beside(self) -> bool:
        return self.width() >= max(_SIDE_FROM, self.scale.grid(_SIDE_FROM_STEPS))

    def arrange(self) -> None:
        """Words beside the chart; in a narrow window below it."""
        width, height = self.width(), self.height()
        if self._beside():
            side = width - self.scale.column(width, _SIDE_COLUMN) + self.scale.gutter
            self.chart.setGeometry(0, 0, width - side, height)
            self.side.setGeometry(width - side + 1, 0, side - 1, height)
        else:
            low = min(round(height * 0.42), self.scale.grid(34))
            self.chart.setGeometry(0, 0, width, height - low)
            self.side.setGeometry(0, height - low + 1, width, low - 1)
        self.legend.setGeometry(self.side.geometry() if self._beside() else self.rect())
        self.side.setVisible(self.legend.isHidden())
        self.chart.setVisible(self.legend.isHidden() or self._beside())

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw the line between chart and words."""
        painter = QPainter(self)
        rule = self.scale.rule
        if self._beside():
            x = self.side.x() - rule
            ends = (QPointF(x, 0), QPointF(x, self.height()))
        else:
            y = self.side.y() - rule
            ends = (QPointF(0, y), QPointF(self.width(), y))
        draw_rule(painter, self, *ends, rule)


def _key(sky: SkyFrame) -> str:
    return "" if sky.target is None else sky.target.key
