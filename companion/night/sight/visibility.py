"""Whether a thing shows through an instrument, as a grade with its reasons in words."""

import math
from dataclasses import dataclass

import numpy as np

from companion.night.sight.brightness import Known
from companion.night.sight.detail import detail_of
from companion.night.sight.grades import GRADES, Grade, grade_text
from companion.night.sight.judgement import Judgement
from companion.night.sight.limits import SPLIT_AT_ARCSEC
from companion.night.sight.views import View
from companion.sky import Kind, Target, angle_text

SUN_CAUTION = (
    "too close to the Sun, which is up: never look there through any instrument or finder, "
    "a glance blinds"
)
_WORTH_SAYING_MAG = 0.2
_LOW_COST_MAG = 0.4
_PLENTY_MAG = 9.0
_FILLS_FIELD = 0.8


_KNOWN_WORDS = {
    Known.FROM_BLUE: "brightness estimated from blue light",
    Known.BY_EYE: "brightness as observers estimate it",
    Known.GUESSED: "brightness guessed from kind and size",
}


@dataclass(frozen=True, slots=True)
class Visibility:
    """One object, moment and instrument; ``words`` is one line for a person, reasons included."""

    grade: Grade
    margin_mag: float | None  # brighter than the limit by so much; None where nothing is known
    uncertainty_mag: float  # one standard deviation
    best_magnification: float
    view: str  # the eyepiece, or the instrument's name
    reasons: tuple[str, ...]
    words: str


def visibility_of(judgement: Judgement, row: int) -> Visibility:
    """Put one row of a judgement into words."""
    view = judgement.views[int(judgement.view[row])]
    grade = GRADES[int(judgement.grade[row])]
    margin = float(judgement.margin_mag[row])
    shows = judgement.spots.altitude_deg[row] > 0.0 and not judgement.spots.in_danger[row]
    reasons = _reasons(judgement, row, view) if shows else ()
    return Visibility(
        grade=grade,
        margin_mag=None if np.isnan(margin) else margin,
        uncertainty_mag=float(judgement.sigma_mag[row]),
        best_magnification=view.magnification,
        view=view.name,
        reasons=reasons,
        words="; ".join((_verdict(judgement, row, view, grade), *reasons)),
    )


def _verdict(judgement: Judgement, row: int, view: View, grade: Grade) -> str:
    """Say the grade, where it holds and by how much."""
    if judgement.spots.altitude_deg[row] <= 0.0:
        return "below the horizon"
    if judgement.spots.in_danger[row]:
        return SUN_CAUTION
    if grade is Grade.UNKNOWN:
        return "unknown: nobody has published how bright it is"
    if not judgement.split[row]:
        return _one_star(judgement, row, view)
    return _with_margin(judgement, row, view, grade)


def _one_star(judgement: Judgement, row: int, view: View) -> str:
    """Say what a double star would need."""
    apart = float(judgement.objects.separation_arcsec[row])
    needed = math.ceil(SPLIT_AT_ARCSEC / apart)
    said = f"stays one star {_through(view)}, {angle_text(apart / 3600.0)} apart"
    if needed > view.magnification:
        return f"{said}: it takes {needed}×"
    return f"{said}: closer than air or aperture allow"


def _with_margin(judgement: Judgement, row: int, view: View, grade: Grade) -> str:
    through, margin = _through(view), float(judgement.margin_mag[row])
    if grade is Grade.OUT_OF_REACH:
        return f"{grade_text(grade)} {through}, {_magnitudes(-margin)} too faint"
    if grade is Grade.DOUBTFUL:
        side = "to spare" if margin >= 0.0 else "too faint"
        sigma = float(judgement.sigma_mag[row])
        spare = f"{_magnitudes(abs(margin))} {side}, give or take {sigma:.1f}"
        return f"{grade_text(grade)} {through}: {spare}"
    if margin >= _PLENTY_MAG:
        return f"{grade_text(grade)} {through}"
    return f"{grade_text(grade)} {through}, {_magnitudes(margin)} to spare"


def _magnitudes(value: float) -> str:
    text = f"{value:.1f}"
    return f"{text} magnitude" if text == "1.0" else f"{text} magnitudes"


def _through(view: View) -> str:
    if view.magnification == 1.0 and view.both_eyes:
        return "by eye"
    return f"in {view.name}" if view.both_eyes else f"at {view.magnification:.0f}×"


def _reasons(judgement: Judgement, row: int, view: View) -> tuple[str, ...]:
    """Give what helps, what costs, and what is not known."""
    target = judgement.objects.targets[row]
    detail = ""
    if target.body:
        detail = detail_of(
            target.body,
            float(judgement.spots.diameter_arcsec[row]),
            view,
            judgement.conditions.seeing_arcsec,
        )
    found = [detail, *_costs(judgement, row), *_doubts(judgement, row, view)]
    return tuple(filter(None, found))


def _costs(judgement: Judgement, row: int) -> list[str]:
    """Say what Moon, twilight and air take, where it is worth saying."""
    if judgement.objects.always[row]:
        return []
    spots, costs = judgement.spots, []
    moon = float(judgement.moon_cost_mag[row])
    if moon >= _WORTH_SAYING_MAG:
        costs.append(f"Moon {spots.moon_distance_deg[row]:.0f}° away costs {moon:.1f}")
    twilight = float(judgement.twilight_cost_mag[row])
    if twilight >= _WORTH_SAYING_MAG:
        costs.append(f"twilight costs {twilight:.1f}")
    air = float(judgement.air_cost_mag[row])
    if air >= _LOW_COST_MAG:
        costs.append(f"only {spots.altitude_deg[row]:.0f}° up, the air costs {air:.1f}")
    return costs


def _range(target: Target) -> str:
    """Say that nobody knows how bright a variable star is tonight."""
    faintest, brightest = target.faintest_magnitude, target.brightest_magnitude
    if brightest is None:
        return f"taken at its usual {faintest:.1f}"
    # Of a plain star only the scatter of its measurements is known.
    least = "at least " if target.kind is Kind.STAR else ""
    return f"changes {least}from {brightest:.1f} to {faintest:.1f}, taken at its faintest"


def _doubts(judgement: Judgement, row: int, view: View) -> list[str]:
    """Say what is guessed, and what does not fit the field."""
    objects, doubts = judgement.objects, []
    known = objects.known[row]
    if known is Known.VARIES:
        doubts.append(_range(objects.targets[row]))
    doubts += filter(None, [_KNOWN_WORDS.get(known)])
    if objects.size_guessed[row] and not objects.point[row] and not objects.always[row]:
        doubts.append("size guessed")
    if objects.major_arcmin[row] > view.field_deg * 60.0 * _FILLS_FIELD:
        doubts.append("larger than the field")
    return doubts
