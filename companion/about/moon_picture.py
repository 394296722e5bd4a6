"""The Moon as it hangs in the view: limb, terminator, seas, craters, names."""

import math

import numpy as np

from companion.about.moon import MoonLook
from companion.about.moon_ground import DARK_GROUND, Ground
from companion.about.picture import Label, Picture, Shape, Tone
from companion.about.record import MoonPage
from companion.about.view_turn import ViewTurn
from companion.sky import FEATURE_KINDS

_STEPS = 48
_ELLIPSE = np.linspace(0.0, math.tau, 24, endpoint=False)
_MOST_CRATERS = 260
_MARGIN = 1.12


def moon_picture(page: MoonPage, turn: ViewTurn, caption: str) -> Picture:
    """Draw the disk with what lies on it; the side without sunlight stays black."""
    look, ground = page.here, page.ground
    radius = look.diameter_arcsec / 2.0
    lit = Shape(_lit_part(look, turn, radius), Tone.LIGHT)
    limb = Shape(turn.points(radius * np.cos(_ring()), radius * np.sin(_ring())), Tone.QUIET, False)
    shapes = [lit, *_seas(ground, turn, radius), *_craters(ground, turn, radius), limb]
    return Picture(
        radius_arcsec=radius * _MARGIN,
        caption=caption,
        shapes=tuple(shapes),
        labels=tuple(_labels(page, turn, radius)),
        north_deg=turn.north_deg,
    )


def _ring() -> np.ndarray:
    return np.linspace(0.0, math.tau, 2 * _STEPS, endpoint=False)


def _lit_part(look: MoonLook, turn: ViewTurn, radius: float) -> tuple[tuple[float, float], ...]:
    """Give the lit part: the bright half of the limb, and back along the terminator."""
    across = np.linspace(-math.pi / 2.0, math.pi / 2.0, _STEPS)
    towards = np.concatenate([np.cos(across), (1.0 - 2.0 * look.lit) * np.cos(across[::-1])])
    beside = np.concatenate([np.sin(across), np.sin(across[::-1])])
    angle = math.radians(look.bright_limb_angle_deg)
    east = towards * math.sin(angle) + beside * math.cos(angle)
    north = towards * math.cos(angle) - beside * math.sin(angle)
    return turn.points(radius * east, radius * north)


def _outline(
    ground: Ground, row: int, turn: ViewTurn, radius: float
) -> tuple[tuple[float, float], ...]:
    """Give the outline of a round feature, foreshortened towards the limb."""
    half = float(ground.features.diameter_km[row]) / 2.0 / 1737.4
    east, north = float(ground.east[row]), float(ground.north[row])
    out = math.atan2(north, east)
    along = half * np.sin(_ELLIPSE)
    inward = half * float(ground.foreshortening[row]) * np.cos(_ELLIPSE)
    return turn.points(
        radius * (east + inward * math.cos(out) - along * math.sin(out)),
        radius * (north + inward * math.sin(out) + along * math.cos(out)),
    )


def _rows(ground: Ground, codes: tuple[str, ...]) -> list[int]:
    kinds = [FEATURE_KINDS.index(code) for code in codes]
    seen = np.isin(ground.features.kind, kinds) & (ground.foreshortening > 0.08) & ground.lit
    return [int(row) for row in np.flatnonzero(seen)]


def _seas(ground: Ground, turn: ViewTurn, radius: float) -> list[Shape]:
    """Give the plains of lava; the table has only their size, so that they are drawn round."""
    large = [row for row in _rows(ground, DARK_GROUND) if ground.features.diameter_km[row] < 1300.0]
    return [Shape(_outline(ground, row, turn, radius), Tone.QUIET) for row in large]


def _craters(ground: Ground, turn: ViewTurn, radius: float) -> list[Shape]:
    """Give the largest craters that show, those in low sunlight first."""
    rows = [row for row in _rows(ground, ("crater",)) if ground.resolved[row]]
    rows.sort(key=lambda row: (not ground.shadowed[row], row))
    return [
        Shape(
            _outline(ground, row, turn, radius),
            Tone.DARK if ground.shadowed[row] else Tone.QUIET,
            False,
        )
        for row in rows[:_MOST_CRATERS]
    ]


def _labels(page: MoonPage, turn: ViewTurn, radius: float) -> list[Label]:
    """Name what was asked for, else what the tour along the terminator names."""
    ground, found = page.ground, []
    for row in ground.tour() if page.feature is None else (page.feature,):
        if ground.seen_altitude_deg[row] <= 0.0:
            continue
        x, y = turn.point(radius * float(ground.east[row]), radius * float(ground.north[row]))
        found.append(Label(x, y, ground.features.names[row]))
    return found
