"""One chart with its marks: on the screen through a plate for its stars, on paper star by star."""

from dataclasses import dataclass, field

import numpy as np
from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QBrush, QPainter

from companion.arrays import FloatArray
from companion.charts import ChartView, Lens, Scene, SkyFrame, SkyHop, SkyWay, glow_of, scene_of
from companion.finding import circle_around
from companion.window.kit.lettering import Size, write
from companion.window.kit.palette import Role
from companion.window.kit.symbols import polar
from companion.window.sky.chart_bezel import draw_fields
from companion.window.sky.chart_ink import ChartInk
from companion.window.sky.chart_lines import (
    border_dots,
    draw_borders,
    draw_ecliptic,
    draw_grid,
    draw_ground,
    draw_lines,
    draw_track,
    point,
    polyline,
)
from companion.window.sky.chart_names import Clear, NameWriter, clear_of, text_box
from companion.window.sky.chart_paths import draw_hops, draw_numbers, draw_way
from companion.window.sky.chart_signs import (
    draw_arrow_head,
    draw_daylight,
    draw_double,
    draw_phase,
    draw_planet,
    draw_pointing,
    draw_reticle,
    draw_sign,
    draw_variable,
)
from companion.window.sky.chart_stars import StarPlate


@dataclass(frozen=True, slots=True)
class Overlay:
    """What is drawn beside the sky itself."""

    way: SkyWay | None = None
    hops: tuple[SkyHop, ...] = ()
    hop: int = 0
    grid: bool = True
    names: bool = True  # without them the chart asks
    numbered: tuple[FloatArray, ...] = ()  # lines of the way (k, 3), told by number in the words

    @property
    def marked(self) -> tuple[tuple[str, FloatArray], ...]:
        """The stars that the words speak of: of the way, and of the present hop or all."""
        hops = self.hops[self.hop : self.hop + 1] if self.hop >= 0 else self.hops
        found = [] if self.way is None else list(zip(self.way.names, self.way.stars, strict=True))
        for hop in hops:
            found += zip(hop.names, (hop.start, hop.end), strict=True)
        return tuple(found)


@dataclass(frozen=True, slots=True)
class Picture:
    """A chart to be painted: which sky, which part of it, through what, and what besides."""

    sky: SkyFrame
    view: ChartView
    lens: Lens
    shown: Overlay


@dataclass(slots=True)
class Press:
    """What is kept from one painting to the next."""

    plate: StarPlate = field(default_factory=StarPlate)
    names: NameWriter = field(default_factory=lambda: NameWriter(on_screen=True))


def paint_on_screen(painter: QPainter, ink: ChartInk, picture: Picture, press: Press) -> Scene:
    """Paint a chart from the painter's origin; give what stands on it."""
    view = picture.view
    scene = scene_of(picture.sky, view, picture.lens, ink.scale.factor, picture.shown.marked)
    device = painter.device()
    ratio = device.devicePixelRatioF() if device is not None else 1.0
    press.plate.begin(QSize(round(view.width), round(view.height)), ratio, ink.ground)
    glow = glow_of(picture.sky, view, picture.lens)
    if glow is not None:
        press.plate.shine(glow, ink.glow)
    press.plate.dot(border_dots(ink, picture.sky, view), ink.scale.hair, ink.line)
    below = QPainter(press.plate.image)
    below.setRenderHint(QPainter.RenderHint.Antialiasing)
    letters = _paint_below(below, ink, picture, scene)
    below.end()
    stars, inside = scene.stars, scene.in_field
    press.plate.part(stars.places, stars.radii, ink.ground)
    press.plate.add(stars.places[~inside], stars.radii[~inside], ink.quiet)
    press.plate.add(stars.places[inside], stars.radii[inside], ink.emphasis)
    painter.drawImage(QPointF(0, 0), press.plate.image)
    clear = letters + _paint_above(painter, ink, picture, scene)
    if picture.shown.names:
        press.names.draw(painter, ink, scene, view, clear)
    return scene


def paint_on_paper(painter: QPainter, ink: ChartInk, picture: Picture) -> None:
    """Paint a chart from the painter's origin, every star as a disc of its own."""
    scene = scene_of(
        picture.sky, picture.view, picture.lens, ink.scale.factor, picture.shown.marked
    )
    draw_borders(painter, ink, picture.sky, picture.view)
    letters = _paint_below(painter, ink, picture, scene)
    painter.setPen(Qt.PenStyle.NoPen)
    stars = scene.stars
    for place, radius, inside in zip(
        stars.places.tolist(), stars.radii.tolist(), scene.in_field.tolist(), strict=True
    ):
        painter.setBrush(QBrush(ink.emphasis if inside else ink.quiet))
        painter.drawEllipse(QPointF(*place), radius, radius)
    clear = letters + _paint_above(painter, ink, picture, scene)
    NameWriter().draw(painter, ink, scene, picture.view, clear)


def _paint_below(painter: QPainter, ink: ChartInk, picture: Picture, scene: Scene) -> Clear:
    """Paint what lies under the stars; give what names have to stay away from."""
    sky, view = picture.sky, picture.view
    boxes = draw_grid(painter, ink, sky, view) if picture.shown.grid else []
    draw_ecliptic(painter, ink, sky, view)
    draw_lines(painter, ink, scene)
    boxes += draw_track(painter, ink, sky, view)
    boxes += draw_ground(painter, ink, scene, view)
    return [clear for box in boxes for clear in clear_of(box)]


def _paint_above(painter: QPainter, ink: ChartInk, picture: Picture, scene: Scene) -> Clear:
    """Paint signs and marks; give what names have to stay away from."""
    sky, view, shown = picture.sky, picture.view, picture.shown
    for sign in scene.signs:
        axes = (sign.major, sign.minor, sign.angle_deg)
        draw_sign(painter, ink, sign.kind, point(sign.place), axes)
    _paint_stars_marks(painter, ink, scene)
    _paint_discs(painter, ink, scene, "" if sky.target is None else sky.target.key)
    clear = draw_fields(painter, ink, sky, view, picture.lens)
    draw_error(painter, ink, sky, view)
    if shown.way is not None:
        clear += draw_way(painter, ink, shown.way, view)
        clear += draw_numbers(painter, ink, shown.numbered, shown.way, view)
    clear += draw_hops(painter, ink, shown.hops, shown.hop, view)
    draw_pointed(painter, ink, sky, view)
    # While a person hops, the steps themselves lead to a target that is off the chart.
    return clear + draw_target(painter, ink, sky, view, pointed_to=not shown.hops)


def _paint_stars_marks(painter: QPainter, ink: ChartInk, scene: Scene) -> None:
    for pair in scene.doubles:
        fainter = pair.double.companion_magnitude - pair.double.primary_magnitude
        second = max(pair.radius * 0.82 ** max(fainter, 0.0), 0.8 * ink.scale.hair)
        draw_double(
            painter,
            ink,
            point(pair.place),
            (pair.radius, min(second, 0.4 * pair.apart)),
            (pair.apart, pair.angle_deg),
        )
    stars = scene.variables
    for place, radius in zip(stars.places, stars.radii.tolist(), strict=True):
        draw_variable(painter, ink, point(place), radius)


def _paint_discs(painter: QPainter, ink: ChartInk, scene: Scene, target: str) -> None:
    for disc in scene.discs:
        place, body = point(disc.place), disc.body
        if body.body == "sun":
            draw_daylight(painter, ink, place, disc.radius)
        elif body.body == "moon":
            phase = (body.lit_fraction, disc.lit_angle_deg)
            draw_phase(painter, ink.tone(Role.EMPHASIS), place, disc.radius, phase)
        else:
            # The target has its own mark around it, which would run into the strokes.
            draw_planet(painter, ink, place, disc.radius, strokes=body.key != target)


_CENTRE = Qt.AlignmentFlag.AlignCenter


def draw_target(
    painter: QPainter, ink: ChartInk, sky: SkyFrame, view: ChartView, *, pointed_to: bool = True
) -> Clear:
    """Draw the target's mark, or an arrow at the edge that points to it."""
    target = sky.target
    if target is None:
        return []
    place = view.places(target.vector)
    if np.isfinite(place).all() and view.holds(place):
        draw_reticle(painter, ink, point(place), ink.scale.grid(1.9))
        return [(point(place), ink.scale.grid(3.1))]
    if not pointed_to:
        return []
    at, angle = view.edge(target.vector, ink.scale.grid(4))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(ink.tone(Role.EMPHASIS)))
    draw_arrow_head(painter, point(at), angle, ink.scale.grid(2.6))
    painter.setFont(ink.font(Size.SMALL))
    painter.setPen(ink.tone(Role.EMPHASIS))
    box = text_box(painter, target.name)
    box.moveCenter(polar(point(at), -ink.scale.grid(2.6) - box.height(), angle))
    side = ink.scale.grid(1)
    box.moveLeft(min(max(box.left(), side), view.width - box.width() - side))
    write(painter, box, target.name, _CENTRE)
    return [(point(at), ink.scale.grid(2)), *clear_of(box)]


def draw_error(painter: QPainter, ink: ChartInk, sky: SkyFrame, view: ChartView) -> None:
    """Draw the circle in which the target lies 95 times of 100 once the dials are set."""
    if sky.radius95_deg is not None and sky.target is not None:
        painter.setPen(ink.pen(Role.TEXT, 1.0, (1.5, 4.0)))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        polyline(painter, view, view.places(circle_around(sky.target.vector, sky.radius95_deg)))


def draw_pointed(painter: QPainter, ink: ChartInk, sky: SkyFrame, view: ChartView) -> None:
    """Draw where the typed readings point: a cross in its circle of doubt."""
    if sky.pointed is None or not view.near(sky.pointed[None, :])[0]:
        return
    draw_pointing(painter, ink, point(view.places(sky.pointed)))
    if sky.pointed_radius_deg > 0.0:
        painter.setPen(ink.pen(Role.TEXT, 1.0, (1.5, 4.0)))
        polyline(painter, view, view.places(circle_around(sky.pointed, sky.pointed_radius_deg)))
