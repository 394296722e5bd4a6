"""What stands beside a chart, in words: pure text of the facts, without a widget."""

from dataclasses import dataclass

import numpy as np

from companion.arrays import FloatArray
from companion.charts import (
    ChartKind,
    InField,
    Lens,
    Pointed,
    SkyFrame,
    SkyHop,
    crossing_s,
    double_of,
    in_field,
)
from companion.finding import viewing_text
from companion.sky import (
    ASTRONOMICAL_DEG,
    SUN_UP_DEG,
    angle_text,
    compass_point,
    declination_text,
    duration_text,
    kind_text,
    magnitude_text,
    right_ascension_text,
)
from companion.window.aim.words import EMPTY, NO_PLACE, NOTHING, Notice


@dataclass(frozen=True, slots=True)
class Passage:
    """A caption and what stands under it."""

    caption: str
    text: str


@dataclass(frozen=True, slots=True)
class Walk:
    """Where a person is on the ways: which way by eye, which route, which step (None: at rest)."""

    way: int | None = 0
    route: int = 0
    step: int | None = None


def heading(sky: SkyFrame) -> str:
    """Name what the chart is about."""
    if sky.pointed is not None:
        return "Where the tube points"
    return "The sky now" if sky.target is None else sky.target.name


def about(sky: SkyFrame) -> str:
    """Say what the target is."""
    target = sky.target
    if target is None or sky.pointed is not None:
        return ""
    kind = kind_text(target.kind)
    where = f"{kind} in {target.constellation}" if target.constellation else kind
    light = "" if target.magnitude is None else magnitude_text(target.magnitude)
    parts = (str(where), light, target.size)
    return " · ".join(part for part in parts if part)


def waiting(*, homeless: bool) -> Notice:
    """Say why there is no chart yet."""
    if homeless:
        return NO_PLACE
    return Notice("The sky is being computed.", "The chart comes in a moment.")


def notice(sky: SkyFrame) -> Notice:
    """Say what needs attention."""
    if sky.caution:
        return Notice("Keep away from the Sun.", sky.caution, caution=True)
    if sky.target is None and sky.pointed is None:
        return EMPTY
    if sky.target is not None and sky.pointed is None and sky.target.vector[2] < 0.0:
        return Notice(f"{sky.target.name} is below the horizon now.")
    return NOTHING


def chart_words(sky: SkyFrame, lens: Lens, centre: FloatArray) -> str:
    """Say what the chart shows, which way up, and how faint."""
    if lens.kind is ChartKind.WHOLE:
        azimuth = float(np.degrees(np.arctan2(-centre[1], centre[0])))
        said = [f"As you stand facing {compass_point(azimuth)}"]
    elif lens.kind is ChartKind.WIDE:
        said = [f"As the eye sees it · circle: {angle_text(sky.finder.field_deg)} finder"]
    else:
        narrow = lens.kind is ChartKind.EYEPIECE and lens.optics is not None
        power = f" at {lens.optics.magnification:.0f}×" if lens.optics and narrow else ""
        said = [
            f"{lens.name[0].upper()}{lens.name[1:]}{power}",
            f"field {angle_text(lens.field_deg)}",
        ]
    said.append(_stars_words(sky, lens))
    return " · ".join(said) + "."


def _stars_words(sky: SkyFrame, lens: Lens) -> str:
    """Say to which magnitude all stars are on a chart."""
    if not lens.by_eye:
        limit = f"stars to magnitude {lens.complete_to:.1f}"
        return limit if lens.complete_to == lens.star_limit else f"all {limit}, some fainter"
    shown = "as this sky shows them" if sky.drawn_limit == sky.eye_limit else "as in the dark"
    return f"stars to magnitude {lens.complete_to:.1f} at best, {shown}"


def pointed_words(pointed: Pointed) -> tuple[str, str]:
    """Say what stands under the pointer, and where: in the mount's own numbers where it has any."""
    thing = pointed.thing
    light = "" if thing is None or thing.magnitude is None else magnitude_text(thing.magnitude)
    what = (
        ""
        if thing is None
        else " · ".join(part for part in (thing.name, thing.kind, light) if part)
    )
    if pointed.near_sun:
        return what, "near the Sun, which is up: numbers withheld, caps on"
    where = f"altitude {pointed.altitude_deg:.1f}°, azimuth {pointed.azimuth_deg:.1f}°"
    if pointed.readings:
        where = f"dials: {pointed.readings}"
    place = f"{right_ascension_text(pointed.ra_deg)} {declination_text(pointed.dec_deg)}"
    return what, f"{where} · {place}"


def viewing_words(lens: Lens, usual: Lens) -> str:
    """Say which way up the view is; by the key it may differ from the instrument's own."""
    said = f"The view is {viewing_text(lens.viewing)}"
    return f"{said}." if lens.viewing == usual.viewing else f"{said}; the instrument's is not."


def light_words(sky: SkyFrame) -> str:
    """Say what the Sun does to what is drawn; nothing in the dark."""
    if sky.sun_altitude_deg > SUN_UP_DEG:
        return "The Sun is up: no star shows. They are drawn as in the dark."
    if sky.eye_limit < sky.drawn_limit:
        return "It is too bright for stars still: they are drawn as in the dark."
    if sky.sun_altitude_deg > ASTRONOMICAL_DEG and sky.eye_limit < 4.5:
        return f"Twilight: the eye finds stars to magnitude {sky.eye_limit:.1f} only."
    return ""


def passages(sky: SkyFrame, lens: Lens, centre: FloatArray, walk: Walk) -> tuple[Passage, ...]:
    """Give what stands beside the chart, the most useful first."""
    made: list[Passage] = []
    narrow = lens.kind in {ChartKind.FINDER, ChartKind.EYEPIECE}
    if sky.target is not None and sky.pointed is None:
        by_eye, by_finder = by_eye_passage(sky, walk), _by_finder(sky, walk)
        made += [by_finder, by_eye] if narrow or walk.step is not None else [by_eye, by_finder]
        if lens.kind is ChartKind.EYEPIECE:
            made = [double_passage(sky)]
    if lens.kind is ChartKind.EYEPIECE and sky.target is not None and sky.target.size:
        made.append(Passage("SIZE", f"{sky.target.size} in {angle_text(lens.field_deg)}."))
    if narrow:
        made += [_field(in_field(sky, lens, centre)), drift_passage(sky, lens, centre)]
    made.append(Passage("LIGHT", light_words(sky)))
    return tuple(passage for passage in made if passage.text)


def by_eye_passage(sky: SkyFrame, walk: Walk) -> Passage:
    """Give the way by eye that is walked, or why there is none."""
    ways = sky.paths.ways
    if not ways or walk.way is None:
        advice = sky.paths.ways_advice
        return Passage("BY EYE", advice or ("Press p for a pointer line." if ways else ""))
    count = f", WAY {walk.way + 1} OF {len(ways)}" if len(ways) > 1 else ""
    return Passage(f"BY EYE{count}", ways[walk.way].sentence)


def _by_finder(sky: SkyFrame, walk: Walk) -> Passage:
    steps = route(sky, walk)
    if not steps:
        return Passage("BY FINDER", sky.paths.hops_advice)
    other = ", SECOND ROUTE" if walk.route and sky.paths.second else ""
    if walk.step is None:
        many = "one step" if len(steps) == 1 else f"{len(steps)} steps"
        return Passage(f"BY FINDER{other}", f"In {many}. Press h for the first.")
    hop = steps[min(walk.step, len(steps) - 1)]
    dials = f" Dials then: {hop.readings}." if hop.readings else ""
    return Passage(f"BY FINDER{other}, STEP {walk.step + 1} OF {len(steps)}", hop.sentence + dials)


def route(sky: SkyFrame, walk: Walk) -> tuple[SkyHop, ...]:
    """Give the steps of the route that is walked."""
    return sky.paths.second if walk.route and sky.paths.second else sky.paths.hops


def _field(found: tuple[InField, ...]) -> Passage:
    return Passage("IN THE FIELD", "\n".join(map(found_words, found)) or "Nothing with a name.")


def found_words(one: InField) -> str:
    """Say what stands in a field, and where from its middle."""
    parts = [one.name, one.kind]
    if one.magnitude is not None:
        parts.append(magnitude_text(one.magnitude))
    if one.position_angle_deg is not None:
        parts.append(f"{angle_text(one.separation_deg)} {_side(one.position_angle_deg)}")
    return " · ".join(part for part in parts if part)


def _side(position_angle_deg: float) -> str:
    """Say on which side of the middle, as the sky has it."""
    return compass_point(position_angle_deg, 8)


def drift_passage(sky: SkyFrame, lens: Lens, centre: FloatArray) -> Passage:
    """Say how fast the sky carries a star through the field."""
    seconds = crossing_s(sky, lens, centre)
    if seconds is None:
        return Passage("DRIFT", "Here the sky turns on the spot: nothing drifts out.")
    return Passage("DRIFT", f"A star crosses the field in {_together(duration_text(seconds))}.")


def _together(text: str) -> str:
    """Keep a number and its unit on one line."""
    return text.replace(" ", "\u00a0")


def double_passage(sky: SkyFrame) -> Passage:
    """Tell the target's companion, where it has one."""
    double = None if sky.target is None else double_of(sky, sky.target)
    if double is None:
        return Passage("", "")
    return Passage(
        "DOUBLE STAR",
        f"Magnitudes {double.primary_magnitude:.1f} and {double.companion_magnitude:.1f}, "
        f"{double.separation_arcsec:g}″ apart, the fainter one towards "
        f"{compass_point(double.position_angle_deg)} (position angle "
        f"{double.position_angle_deg:.0f}°): {double.colours}.",
    )
