"""From a bright star to the target through what the finder shows, step by step."""

from dataclasses import replace
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.finding.courses import seen_course
from companion.finding.field_stars import FieldStars
from companion.finding.guide import UP
from companion.finding.hop_steps import Hop, Hops, clock_hour, hop_sentence
from companion.finding.landmarks import landmark, place_landmark
from companion.finding.lines import angles_deg
from companion.finding.optics import Optics
from companion.finding.projection import ViewFrame
from companion.finding.routes import Web, cheapest_route, leg_limit_deg, weave
from companion.finding.single_ways import Place
from companion.sky import ra_dec_of

_RADII_DEG: Final = (18.0, 40.0)
_BRIGHT_ENOUGH: Final = 2.5  # such a star is pointed at directly
_HERE_DEG: Final = 0.05
_TOO_BRIGHT: Final = (
    "No star shows in the finder now: it is too bright. While the Sun is up, never sweep the sky "
    "with any instrument: a glance at it blinds."
)


def hops_to(stars: FieldStars, place: Place, optics: Optics) -> Hops:
    """Give the easiest hops to a place and a second way with other stars.

    Parameters
    ----------
    stars : FieldStars
        What the instrument shows now, above the horizon.
    place : Place
        Where to go, in the same frame.
    optics : Optics
        Field and orientation of the instrument, up being the zenith's direction.
    """
    if place.altitude_deg < place.floor_deg:
        return Hops((), (), f"{place.name} is below the horizon: no way leads there now.")
    if not len(stars.hip):
        return Hops((), (), _TOO_BRIGHT)
    if _is_bright(stars, place):
        return Hops((), (), f"{place.name} is bright itself: point the finder straight at it.")
    for radius_deg in _RADII_DEG:
        reach_deg = max(radius_deg, 1.5 * leg_limit_deg(optics.field_deg))
        web = weave(stars, place, optics.field_deg, reach_deg)
        closed = np.zeros(len(web.rows), np.bool_)
        if first := cheapest_route(web, closed):
            second = _second_route(web, first)
            steps = _steps(stars, web, first, place, optics)
            return Hops(steps, _steps(stars, web, second, place, optics))
    return Hops((), (), _no_way(stars, place, optics))


def _is_bright(stars: FieldStars, place: Place) -> bool:
    bright = stars.vectors[stars.magnitude <= _BRIGHT_ENOUGH]
    if place.magnitude is not None and place.magnitude <= _BRIGHT_ENOUGH - 1.0:
        return True  # a planet, or the Moon
    return bool((angles_deg(bright, place.vector) < _HERE_DEG).any())


def _second_route(web: Web, first: list[int]) -> list[int]:
    """Find a way without the stars of the first; from the same start if there is no other."""
    for spared in (first[:-1], first[1:-1]):
        closed = np.zeros(len(web.rows), np.bool_)
        closed[spared] = True
        if spared and (route := cheapest_route(web, closed)):
            return route
    return []


def _steps(
    stars: FieldStars, web: Web, route: list[int], place: Place, optics: Optics
) -> tuple[Hop, ...]:
    """Describe each leg of a route."""
    rows: list[int | None] = [int(web.rows[node]) for node in route[:-1]]
    if not rows:
        return ()
    ends = [*rows[1:], None]
    return tuple(
        _hop(stars, int(start), end, place, optics)
        for start, end in zip(rows, ends, strict=True)
        if start is not None
    )


def _hop(stars: FieldStars, start: int, end: int | None, place: Place, optics: Optics) -> Hop:
    """Describe one leg; ``end`` is None for the place itself."""
    origin = stars.vectors[start]
    arrival = place.vector if end is None else stars.vectors[end]
    up = np.array(UP)
    shown = ViewFrame(origin, up, optics.viewing).angle_towards(arrival)
    pushed = ViewFrame(origin, up).angle_towards(arrival)
    leg_deg = float(angles_deg(origin, arrival))
    longitude_deg, altitude_deg = ra_dec_of(arrival)
    hop = Hop(
        start_hip=int(stars.hip[start]),
        start_name=stars.name_of(int(stars.hip[start])),
        hip=0 if end is None else int(stars.hip[end]),
        name=place.name if end is None else stars.name_of(int(stars.hip[end])),
        magnitude=place.magnitude if end is None else float(stars.magnitude[end]),
        leg_deg=leg_deg,
        fields=leg_deg / optics.field_deg,
        view_angle_deg=shown,
        clock=clock_hour(shown),
        view=seen_course(shown),
        push=seen_course(pushed),
        landmark=_landmark(stars, end, arrival, optics.field_deg),
        azimuth_deg=float(-longitude_deg % 360.0),
        altitude_deg=float(altitude_deg),
        sentence="",
    )
    return replace(hop, sentence=hop_sentence(hop))


def _landmark(stars: FieldStars, row: int | None, vector: FloatArray, field_deg: float) -> str:
    if row is None:
        return place_landmark(stars, vector, field_deg)
    return landmark(stars, row, field_deg)


def _no_way(stars: FieldStars, place: Place, optics: Optics) -> str:
    """Say what was in the way of a way."""
    if not stars.by_eye.any():
        return f"The eye finds no star yet to start from towards {place.name}: set the dials."
    near = float(angles_deg(stars.vectors, place.vector).min(initial=180.0))
    if near > leg_limit_deg(optics.field_deg):
        return (
            f"No star stands within a field of {optics.field_deg:g}° of {place.name}: use a wider "
            "view, or set the dials."
        )
    return (
        f"The stars around {place.name} lie too far apart for a field of {optics.field_deg:g}°: "
        "use a wider view, or set the dials."
    )
