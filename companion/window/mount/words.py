"""What the screen of the mount says: pure text of the facts, without a widget."""

from dataclasses import dataclass
from datetime import tzinfo
from math import copysign, sqrt

from companion.instant import AlignmentFacts, SightingFacts
from companion.mount import Doubt, Parameter
from companion.sky import angle_text, clock_text
from companion.window.aim.words import NOTHING, Notice
from companion.window.kit.facts import Fact

NO_MOUNT = Notice(
    "No mount is described yet.",
    "Press d to choose or describe one: from then on the aim gives what its own dials must show.",
)
_FITTING = Notice("The fit is being made.", "It comes in a moment.")
FURTHEST_DEG = 60.0  # a radius beyond says only that there is no aim yet


@dataclass(frozen=True, slots=True)
class SightingWords:
    """One row of the list: a name, four figures, and how it counts."""

    number: int  # identity in the journal
    name: str
    more: str  # "weak", "set aside", "questioned"
    figures: tuple[str, str, str, str]  # time, azimuth, altitude, residual
    aside: bool
    weak: bool
    questioned: bool


@dataclass(frozen=True, slots=True)
class ParameterWords:
    """One effect: its name, what is known of it, and its bar in units of what was held before."""

    name: str
    value: str
    known: bool
    at: float  # value in prior sigmas, held to the bar
    half: float  # sigma in prior sigmas


@dataclass(frozen=True, slots=True)
class PlotPoint:
    """A residual as it lies in the sky, right and up, in degrees; 0 where nothing was read."""

    number: int
    right_deg: float
    up_deg: float
    aside: bool
    weak: bool
    questioned: bool
    read: bool = True  # a base that was levelled has no reading: there is nothing to be drawn


def about(alignment: AlignmentFacts | None, instrument: str) -> str:
    """Say how far the dials are trusted, and what is looked through."""
    trust = "true directions, no mount" if alignment is None else alignment.words
    aside = 0 if alignment is None else alignment.sightings_set_aside
    parts = [trust, f"{aside} set aside" if aside else "", instrument]
    return " · ".join(part for part in parts if part)


def open_doubts(
    alignment: AlignmentFacts, kept: frozenset[tuple[str, tuple[int, ...]]]
) -> tuple[Doubt, ...]:
    """Give the doubts that the person has not left as they are."""
    return tuple(one for one in alignment.doubts if (one.kind, one.numbers) not in kept)


def notice(
    alignment: AlignmentFacts | None,
    kept: frozenset[tuple[str, tuple[int, ...]]],
    *,
    described: bool,
) -> Notice:
    """Give what needs attention: nothing yet, or what does not fit."""
    if not described:
        return NO_MOUNT
    if alignment is None:
        return _FITTING
    doubts = open_doubts(alignment, kept)
    if doubts:
        return _doubt_notice(doubts[0], len(doubts) - 1)
    if not any(not one.weak for one in alignment.sightings):
        return _first_notice(alignment)
    return NOTHING


def _first_notice(alignment: AlignmentFacts) -> Notice:
    star = alignment.next_sighting
    begin = "" if alignment.sightings else "Press g to set the mount up step by step. "
    then = (
        "Aim at a bright star (/), bring it to the centre and press s."
        if star is None
        else f"Press shift n to aim at {star.name}, bring it to the centre and press s."
    )
    return Notice("No star is sighted yet.", begin + then)


def _doubt_notice(doubt: Doubt, more: int) -> Notice:
    others = f" ({more} more)" if more else ""
    return Notice(
        doubt.wrong, " ".join(part for part in (doubt.do, keys_for(doubt)) if part) + others
    )


def keys_for(doubt: Doubt) -> str:
    """Say which keys answer a doubt."""
    if doubt.fits:
        return f"Press y: it was {doubt.fits[0].name}. Press x to keep it as it is."
    if doubt.aside and doubt.numbers:
        them = "it" if len(doubt.numbers) == 1 else "them"
        return f"Press y to set {them} aside, x to keep {them}."
    if doubt.contradicts and doubt.numbers:
        return "Press x to keep them: then they count."
    return "Press x once read."


def sighting_words(
    one: SightingFacts, zone: tzinfo | None, questioned: frozenset[int]
) -> SightingWords:
    """Give what a row of the list says."""
    doubted = one.number in questioned and not one.set_aside
    more = "set aside" if one.set_aside else "questioned" if doubted else ""
    more = more or ("kept" if one.kept else "weak" if one.weak else "")
    return SightingWords(
        one.number,
        one.name,
        more,
        (
            clock_text(one.utc.astimezone(zone)),
            f"{one.altitude_text}°" if one.altitude_text else "–",
            f"{one.azimuth_text}°" if one.azimuth_text else "–",
            angle_text(one.residual_deg) if one.azimuth_text or one.altitude_text else "–",
        ),
        one.set_aside,
        one.weak,
        doubted,
    )


def questioned_numbers(doubts: tuple[Doubt, ...]) -> frozenset[int]:
    """Give the sightings that would be set aside."""
    return frozenset(number for doubt in doubts if doubt.aside for number in doubt.numbers)


def plot_point(one: SightingFacts, questioned: frozenset[int]) -> PlotPoint:
    """Place a residual in the sky; its part along the horizon follows from the whole."""
    up = one.altitude_residual_deg or 0.0
    along = sqrt(max(0.0, one.residual_deg**2 - up**2))
    right = copysign(along, one.azimuth_residual_deg) if one.azimuth_residual_deg else 0.0
    doubted = one.number in questioned and not one.set_aside
    read = bool(one.azimuth_text or one.altitude_text)
    return PlotPoint(one.number, right, up, one.set_aside, one.weak, doubted, read)


def parameter_words(one: Parameter) -> ParameterWords:
    """Give what is known of an effect."""
    from companion.mount import parameter_words as words_of  # after first paint: numpy

    prior = one.prior_sigma_deg or 1.0
    value = (
        f"{angle_text(one.value_deg)} ± {angle_text(one.sigma_deg)}"
        if one.determined
        else f"not known yet · within {angle_text(one.sigma_deg)}"
    )
    at = min(max(one.value_deg / prior, -1.0), 1.0)
    return ParameterWords(
        words_of(one.name), value, one.determined, at, min(one.sigma_deg / prior, 1.0)
    )


def plot_radius(alignment: AlignmentFacts) -> float | None:
    """Give the 95% radius that is drawn; None while there is no aim to speak of."""
    radius = alignment.typical_radius95_deg
    return None if radius is None or radius > FURTHEST_DEG else radius


def next_fact(alignment: AlignmentFacts | None) -> Fact:
    """Give the next best sighting as numbers to set."""
    star = None if alignment is None else alignment.next_sighting
    if star is None:
        return Fact("NEXT BEST SIGHTING", "")
    return Fact(
        "NEXT BEST SIGHTING",
        f"{star.name}  {star.altitude_text}°  {star.azimuth_text}°",
        "shift n aims at it",
    )
