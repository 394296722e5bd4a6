"""Doubts in words, and the doubts that need no fit: what a set of sightings cannot tell."""

from collections.abc import Sequence
from typing import Final

import numpy as np

from companion.mount.alignment import Alignment
from companion.mount.bump import Bump
from companion.mount.doubts import Doubt, DoubtKind, Fitting
from companion.mount.hour import Shift
from companion.mount.outliers import Outlier
from companion.mount.pair import pair_angle, widest_deg
from companion.mount.records import Sighting
from companion.sky import angle_text, compass_point, horizontal_separation_deg, signed_text

_NARROW_DEG: Final = 25.0
_SAME_PLACE_DEG: Final = 10.0
_BELOW_DEG: Final = -1.0
_LEAN_DEG: Final = 2.5  # more than a base leans that was levelled by eye
_SURE_SIGMAS: Final = 3.0


def star_words(
    outlier: Outlier, fits: Sequence[Fitting], used: Sequence[Sighting]
) -> tuple[str, str]:
    """Say that a sighting does not fit, and which star it might have been."""
    name = outlier.sighting.name
    wrong = f"{name} does not fit the other sightings: {angle_text(outlier.off_deg)} off."
    others = [one for one in used if one is not outlier.sighting and not one.weak]
    if not others:
        wrong = (
            f"{name} does not fit the mount as it is described: {angle_text(outlier.off_deg)} off."
        )
    if len(others) == 1:
        wrong = _pair_words(outlier, others[0]) or wrong
    if outlier.exchanged:
        return wrong, (
            "With its two readings exchanged it fits: was the altitude typed for the azimuth? "
            "Set it aside and type it again, the altitude first."
        )
    if not fits:
        return wrong, (
            "No bright star would fit these readings. Read both dials again and check the clock; "
            "if both are right, a dial may have been bumped: centre a star that you are sure of."
        )
    either = " or ".join(_fit_words(fit) for fit in fits[:2])
    return wrong, f"The readings fit {either}. Was it that?"


def _fit_words(fit: Fitting) -> str:
    """Name a star and how well it fits; while a dial's zero is unknown, the angle says nothing."""
    return f"{fit.name} ({angle_text(fit.off_deg)} off)" if fit.off_deg < _NARROW_DEG else fit.name


def weak_words(outlier: Outlier) -> tuple[str, str]:
    """Say that the compass or the level disagrees with the stars."""
    name = outlier.sighting.name
    return (
        f"The {name} disagrees with the stars by {angle_text(outlier.off_deg)}.",
        "If the stars are right, set it aside. Iron, a car or a telephone turns a compass.",
    )


def _pair_words(outlier: Outlier, other: Sighting) -> str:
    """Say how the angle between two stars differs from that between their readings."""
    name = outlier.sighting.name
    angle = pair_angle(outlier.without.mount, outlier.sighting, other)
    if angle is None or not angle.questioned:
        return ""
    return (
        f"{name} and {other.name} are {angle_text(angle.known_deg)} apart, but the dials say "
        f"{angle_text(angle.measured_deg)}: one of them is another star."
    )


def hour_words(shift: Shift) -> tuple[str, str]:
    """Name the turn of the sky that explains all sightings at once."""
    turn = angle_text(abs(shift.hours) * 15.0)
    later = "later" if shift.hours > 0.0 else "earlier"
    if shift.whole:
        count = abs(round(shift.hours))
        amount = "1 hour" if count == 1 else f"{count} hours"
        cause = "a wrong hour, time zone or summer time"
    elif shift.quarter:
        amount, cause = f"{abs(shift.hours):g} hours", "a time zone that is not a whole hour off"
    else:
        amount, cause = (
            f"about {abs(shift.hours) * 60.0:.0f} minutes",
            "a clock in the wrong minute, or a base that leans far",
        )
    level = "" if shift.quarter else " If they are right, level the base."
    return (
        f"All sightings are off by the same turn of the sky, {turn}: {cause}.",
        f"They fit if the time is {amount} {later}. Check clock, date and time zone.{level}",
    )


def confused_words(looked: int, count: int) -> tuple[str, str]:
    """Say that sightings do not agree, and that it was given up to look for the wrong ones."""
    wrong = f"The {count} sightings contradict each other"
    if looked:
        wrong += f": without the {looked} that fit least the others still do not agree"
    do = (
        "Check the mount's description, the site and the clock. If they are right, begin anew: "
        "set all aside, centre one bright star that you are sure of, then a second one."
    )
    return f"{wrong}.", do


def unsure_words(
    alignment: Alignment, sighting: Sighting, fits: Sequence[Fitting]
) -> tuple[str, str]:
    """Say that a base that leans, or another star, would explain the readings about as well."""
    size, towards = _lean_of(alignment)
    other = f" The readings fit {' or '.join(_fit_words(fit) for fit in fits[:2])}." if fits else ""
    wrong = (
        f"Either the base leans by about {angle_text(size)} towards {towards}, or {sighting.name} "
        "was another star or is misread."
    )
    return (
        wrong,
        f"Look at the level, or sight one more star: it will tell.{other}",
    )


def lean_doubts(alignment: Alignment) -> list[Doubt]:
    """Say that the base leans, where the sightings are sure of it."""
    north, east = (alignment.parameters[name] for name in ("tilt_north", "tilt_east"))
    size = float(np.hypot(north.value_deg, east.value_deg))
    if size < _LEAN_DEG or size < _SURE_SIGMAS * max(north.sigma_deg, east.sigma_deg):
        return []
    size, towards = _lean_of(alignment)
    return [
        Doubt(
            DoubtKind.LEAN,
            (),
            f"The base leans by about {angle_text(size)} towards {towards}.",
            "The numbers allow for it. If you level it, set the sightings aside and begin anew.",
        )
    ]


def _lean_of(alignment: Alignment) -> tuple[float, str]:
    """Give by how much the base leans, and towards where."""
    north, east = (alignment.parameters[name].value_deg for name in ("tilt_north", "tilt_east"))
    return float(np.hypot(north, east)), compass_point(float(np.degrees(np.arctan2(east, north))))


def bump_words(bump: Bump) -> tuple[str, str]:
    """Say when a dial jumped, and what to set aside."""
    first, last = bump.later[0], bump.earlier[-1]
    turned, raised = signed_text(bump.azimuth_jump_deg), signed_text(bump.altitude_jump_deg)
    count = len(bump.earlier)
    between = f"Between {last.name} and {first.name}"
    return (
        f"{between} the dials jumped, by {raised}° in altitude and {turned}° in azimuth.",
        f"If something was bumped, set the {count} earlier sightings aside: nothing is deleted.",
    )


def geometry_doubts(used: Sequence[Sighting]) -> list[Doubt]:
    """Name what a set of sightings cannot tell, whatever its readings are."""
    stars = [one for one in used if not one.weak]
    return [*_below(stars), *_twice(stars), *_one_side(stars)]


def _below(stars: Sequence[Sighting]) -> list[Doubt]:
    return [
        Doubt(
            DoubtKind.BELOW,
            (one,),
            f"{one.name} was {angle_text(-one.altitude_deg)} below the horizon then.",
            "It must have been another star, another time or another place: check clock, date, "
            "time zone and site.",
        )
        for one in stars
        if one.altitude_deg < _BELOW_DEG
    ]


def _twice(stars: Sequence[Sighting]) -> list[Doubt]:
    """Find stars that were sighted twice before they had moved far."""
    doubts = []
    for i, later in enumerate(stars):
        for earlier in stars[:i]:
            if later.name == earlier.name and _apart_deg(earlier, later) < _SAME_PLACE_DEG:
                doubts.append(
                    Doubt(
                        DoubtKind.TWICE,
                        (earlier, later),
                        f"{later.name} was sighted twice in about the same place.",
                        "It counts, but a star in another part of the sky says far more.",
                    )
                )
                break
    return doubts


def _one_side(stars: Sequence[Sighting]) -> list[Doubt]:
    if len(stars) < 2:
        return []
    widest = widest_deg(stars)
    if widest >= _NARROW_DEG:
        return []
    return [
        Doubt(
            DoubtKind.ONE_SIDE,
            tuple(stars),
            f"All sightings lie within {angle_text(widest)} of each other: aims elsewhere "
            "in the sky are less sure.",
            "Sight a star at least 40° away, best in another direction and at another height.",
        )
    ]


def _apart_deg(first: Sighting, second: Sighting) -> float:
    return float(
        horizontal_separation_deg(
            first.azimuth_deg, first.altitude_deg, second.azimuth_deg, second.altitude_deg
        )
    )
