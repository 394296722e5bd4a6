"""What a host says of a target: what it is, how far, a human fact, a question to look by.

Made of the page of that target through this instrument at this moment, so that a question is asked
only if this view answers it. The answer is for the host. Common practice, no source, where no
number of the page stands in a sentence. Never a colour that the instrument doesn't show, and what
is small and grey is called so before anybody looks.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from companion.about.fixed_page import WHAT
from companion.about.human import drive_words, far_words, light_words
from companion.about.jupiter_moons import MoonState
from companion.about.moon_words import phase_name
from companion.about.planet_words import EARTH_KM, WHAT as WHAT_PLANET, state_text
from companion.about.record import About
from companion.about.rings import RingShows
from companion.about.seeing_power import Power
from companion.about.star_page import colour_word
from companion.about.words import a, figures, listed, percent
from companion.finding import InstrumentKind
from companion.sky import Kind, kind_text

_GREY: Final = frozenset(
    {Kind.CLUSTER_NEBULA, Kind.GLOBULAR, Kind.GALAXY, Kind.NEBULA, Kind.PLANETARY, Kind.REMNANT}
)
_LOOK_BESIDE: Final = "give your eye time, and look a little beside it."
_DISC_ARCMIN, _SHELL_ARCMIN = 4.0, 15.0  # apparent, of something sharp and of a glow: no point
_LONG: Final = 1.5  # length over width from which something looks long
_MOONS_FROM_POWER: Final = 7.0
_GALILEAN: Final = ("Io", "Europa", "Ganymede", "Callisto")
_STEADY: Final = (
    "Does it twinkle as the stars do, or shine steadily?",
    "Steadily, unless it stands low: it is a disc, not a point.",
)
_BESIDE: Final = (
    "Do you see it better when you look a little beside it?",
    "Most people do: the edge of the eye sees faint light best.",
)
_FACTS: Final[Mapping[str, str]] = {
    "mercury": "The smallest planet: its year is 88 of our days.",
    "venus": "Hot enough on the ground to melt lead, by day and by night.",
    "mars": "Its day is forty minutes longer than ours, its year nearly two of ours.",
    "saturn": "Once around the Sun takes it 29 years: how often in your life?",
}
_KIND_FACTS: Final[Mapping[Kind, str]] = {
    Kind.DOUBLE: "Two suns where the eye sees one; about half of all stars like ours have such "
    "a companion.",
    Kind.OPEN_CLUSTER: "Stars of one birth; when it began, there were no people.",
    Kind.CLUSTER_NEBULA: "Stars are born there, in a cloud that light needs years to cross.",
    Kind.GLOBULAR: "Some hundred thousand suns in one ball, more than twice as old as the Earth.",
    Kind.GALAXY: "Another Milky Way, of billions of suns.",
    Kind.NEBULA: "A cloud of gas that stars make glow.",
    Kind.PLANETARY: "The shell of a sun that has ended: ours will make one in five thousand "
    "million years.",
    Kind.GROUP: "People have had a name for it for as long as anybody can remember.",
}
_USUAL_FACT: Final = "It shone long before anybody here was born."


@dataclass(frozen=True, slots=True)
class Saying:
    """``before`` is said to those who wait, ``fact`` at the eyepiece, ``ask`` while they look.

    ``called`` is what people call it besides its number, empty where there is no such name.
    ``what`` and ``far`` go with the name: what it is, and how far, empty where nobody knows.
    ``answer`` is what this view shows now, for the host; empty where the page doesn't tell.
    """

    called: str
    what: str
    far: str
    fact: str
    ask: str
    answer: str
    before: str


def saying_of(page: About, power: Power) -> Saying:
    """Give what is said of a target.

    Parameters
    ----------
    page : About
        Its page, for this instrument and moment.
    power : Power
        What the instrument resolves, as the page was made with.
    """
    ask, answer = _question(page, power)
    far = far_words(page.figures)
    return Saying(_called(page), _what(page), far, _fact(page), ask, answer, _before(page))


def _called(page: About) -> str:
    """Give the name of a numbered object that people use: "Ring Nebula"."""
    target = page.target
    if target.kind not in WHAT or not any(letter.isdigit() for letter in target.name):
        return ""
    return next((one for one in target.aliases if _is_name(one)), "")


def _is_name(text: str) -> bool:
    return text[-1:].islower() and not any(letter.isdigit() for letter in text)


def _what(page: About) -> str:
    target = page.target
    if page.moon is not None:
        return f"our Moon, {phase_name(page.moon.here)}"
    if target.body in WHAT_PLANET:
        return WHAT_PLANET[target.body]
    return WHAT.get(target.kind) or a(kind_text(target.kind))


def _fact(page: About) -> str:
    """Give one fact with one number: of the page where it has one."""
    target, known = page.target, page.figures
    if known.distance_km is not None:
        return drive_words(known.distance_km)
    if target.body == "jupiter" and known.true_size_km is not None:
        earths = figures(known.true_size_km / (2.0 * EARTH_KM))
        return f"{earths} Earths side by side fit across it; it turns in ten hours."
    return (
        _FACTS.get(target.body) or light_words(known) or _KIND_FACTS.get(target.kind, _USUAL_FACT)
    )


def _before(page: About) -> str:
    target = page.target
    if target.kind not in _GREY:
        return "A small disc at best." if target.body in {"uranus", "neptune"} else ""
    if page.instrument.kind is InstrumentKind.EYE:
        return f"A faint glow: {_LOOK_BESIDE}"
    return f"Grey, not as in pictures: {_LOOK_BESIDE}"


# The question that this view answers, and the answer.


def _question(page: About, power: Power) -> tuple[str, str]:
    target = page.target
    if page.moon is not None:
        return _of_moon(page)
    if target.body:
        return _PLANETS.get(target.body, _of_far_planet)(page, power)
    if page.double is not None and page.double.magnification is not None:
        return _of_pair(page)
    if target.kind in _GREY and page.instrument.kind is InstrumentKind.EYE:
        return _BESIDE
    asked = _KINDS.get(target.kind)
    return _of_star(page) if asked is None else asked(page, power)


def _of_moon(page: About) -> tuple[str, str]:
    ground = page.moon.ground if page.moon is not None else None
    if ground is None or not ground.crater_count:
        return "How many dark plains do you count?", "They are lava, long cold."
    names = [ground.features.names[row] for row in ground.tour()[:3]]
    if not names:
        return "Is any shadow left, or is the Sun high everywhere?", "High nearly everywhere."
    return (
        "Where are the shadows longest?",
        f"Along the edge of the night, at {listed(tuple(names))}.",
    )


def _of_jupiter(page: About, power: Power) -> tuple[str, str]:
    moons = () if page.planet is None else page.planet.moons
    if page.instrument.kind is InstrumentKind.EYE or (
        power.view.magnification < _MOONS_FROM_POWER or not moons
    ):
        return _STEADY
    great = [moon for moon in moons if moon.name in _GALILEAN]
    beside = tuple(moon.name for moon in great if moon.state is MoonState.BESIDE)
    away = [f"{m.name} is {state_text(m.state)}" for m in great if m.state is not MoonState.BESIDE]
    said = f"At most {len(beside)}: {listed(beside)}" if beside else "None"
    return "How many points stand in a row beside it?", f"{'; '.join([said, *away])}."


def _of_saturn(page: About, _power: Power) -> tuple[str, str]:
    shows = None if page.planet is None else page.planet.ring_shows
    if page.instrument.kind is InstrumentKind.EYE or shows in {None, RingShows.NOTHING}:
        return _STEADY
    if shows is RingShows.HINT:
        return "Is it round, or longer one way?", "Longer one way: that is its ring."
    ring = page.planet.ring if page.planet is not None else None
    opened = "" if ring is None else f", open by {figures(abs(ring.opening_deg))}°"
    return (
        "Can you see the ring apart from the ball, and which of the two is brighter?",
        f"The ring stands apart{opened}.",
    )


def _of_inner(page: About, _power: Power) -> tuple[str, str]:
    lit = page.figures.illuminated_fraction
    if "its phase" not in page.look_for or lit is None:
        return _STEADY
    return "Is it round, or does it have a phase like the Moon?", f"{percent(lit)} of it is lit."


def _of_mars(_page: About, _power: Power) -> tuple[str, str]:
    return "What colour is it to you?", "Yellow to orange: rust in its dust."


def _of_far_planet(page: About, power: Power) -> tuple[str, str]:
    across = page.figures.diameter_arcsec
    if across is None:
        return "What do you see first?", ""
    disc = across / 60.0 * power.view.magnification >= _DISC_ARCMIN
    ask = "Is it a point like the stars beside it, or a tiny disc?"
    return ask, "A tiny disc." if disc else "A point at this power."


_PLANETS: Final[Mapping[str, Callable[[About, Power], tuple[str, str]]]] = {
    "jupiter": _of_jupiter,
    "saturn": _of_saturn,
    "venus": _of_inner,
    "mercury": _of_inner,
    "mars": _of_mars,
}


def _of_pair(page: About) -> tuple[str, str]:
    pair = page.double
    if pair is None:
        return _of_star(page)
    ask = "Which of the two is the brighter, and are their colours alike?"
    told = f"Magnitudes {min(pair.magnitudes):.1f} and {max(pair.magnitudes):.1f}"
    colours = f", {pair.colours}" if pair.colours else ""
    return ask, f"{told}{colours}, {pair.separation_arcsec:.0f}″ apart."


def _of_star(page: About) -> tuple[str, str]:
    told = colour_word(page.target.colour_index).strip()
    if not told:
        return "Does it twinkle?", ""
    return "Is it white, yellow or orange to you?", f"{told.capitalize()}, measured."


def _of_stars(page: About, _power: Power) -> tuple[str, str]:
    if "a glow without single stars" in page.look_for:
        return "Is it smooth, or grainy when you wait?", "Smooth here: a glow without single stars."
    told = "Many stars show." if "resolved into many stars" in page.look_for else ""
    return "Count for ten seconds: how many stars do you see?", told


def _of_ball(page: About, _power: Power) -> tuple[str, str]:
    ask = "Does its edge fall into points when you wait?"
    if "a glow without single stars" in page.look_for:
        return ask, "Not in this view: it stays a glow."
    if "resolved into many stars" in page.look_for:
        return ask, "Yes, into many."
    return ask, "Its brightest stars, singly, with patience."


def _of_glow(page: About, _power: Power) -> tuple[str, str]:
    target = page.target
    ask = "Is it round or long, and where is it brightest?"
    if not target.major_arcmin or not target.minor_arcmin:
        return ask, ""
    ratio = target.major_arcmin / target.minor_arcmin
    if ratio < _LONG:
        return ask, "Nearly round."
    return ask, f"Long in pictures, {figures(ratio)} times its width; the eye sees the middle."


def _of_shell(page: About, power: Power) -> tuple[str, str]:
    ask = "Is it a point like the stars, or a little disc?"
    if not page.target.major_arcmin:
        return ask, ""
    return ask, (
        "A disc."
        if page.target.major_arcmin * power.view.magnification >= _SHELL_ARCMIN
        else "A point at this power."
    )


_KINDS: Final[Mapping[Kind, Callable[[About, Power], tuple[str, str]]]] = {
    Kind.OPEN_CLUSTER: _of_stars,
    Kind.GROUP: _of_stars,
    Kind.CLUSTER_NEBULA: _of_glow,
    Kind.NEBULA: _of_glow,
    Kind.GALAXY: _of_glow,
    Kind.REMNANT: _of_glow,
    Kind.COMET: _of_glow,
    Kind.GLOBULAR: _of_ball,
    Kind.PLANETARY: _of_shell,
}
