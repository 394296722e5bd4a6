"""What can be searched: targets and places, how a find is said and what taking it does."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from companion.live import Place, demo_places
from companion.sky import Site, kind_text, magnitude_text, position_text
from companion.window.forms.find_sheet import Finding, FindWords
from companion.window.frame.keys import SEARCH, TOWNS

if TYPE_CHECKING:
    from companion.live import Evening
    from companion.sky import Hit

_TARGETS = "M 31, Saturn, alp Lyr, HIP 91262, or a position: 05 35.3 −05 23."
_TOWNS = "Type the beginning of its name, or latitude and longitude: 45.2 N 62.3 W."
_FIRST = (
    "Type the beginning of the nearest town's name, or latitude and longitude: 45.2 N 62.3 W. "
    "Every number depends on it; nothing leaves this machine."
)


def target_finding(evening: "Evening") -> "Finding[Hit]":
    """Search targets; a taken one goes into the queue."""
    return Finding(
        SEARCH,
        "What do you want to see?",
        _TARGETS,
        evening.find,
        hit_words,
        lambda hit, later: evening.queue.add(hit.target, aim=not later),
        hit_doubt,
    )


def hit_words(hit: "Hit") -> FindWords:
    """Say what a find is: "galaxy in Andromeda · mag 3.4", and how it was found."""
    from companion.sky import Match, constellation_name, hit_text  # after first paint: numpy

    target = hit.target
    where = f" in {constellation_name(target.constellation)}" if target.constellation else ""
    parts = [f"{kind_text(target.kind)}{where}"]
    if target.magnitude is not None:
        parts.append(magnitude_text(target.magnitude))
    guess = hit.match in {Match.CORRECTED, Match.LIKE}
    return FindWords(target.name, " · ".join(parts), hit_text(hit), guess)


def hit_doubt(text: str, hits: "Sequence[Hit]") -> str:
    """Say why no find may be taken before it was chosen; empty where the first is surely meant."""
    from companion.sky import Match

    if not hits or hits[0].at_once:
        return ""
    shown = f"“{text.strip()[:40]}”"
    if hits[0].match is Match.SEVERAL:
        return f"{shown} may mean several things: ↓ chooses."
    return f"Nothing is called {shown}: ↓ chooses a guess."


def place_finding(
    evening: "Evening", take: Callable[[Site], None], *, first: bool = False
) -> Finding[Place]:
    """Search places; at the ``first`` start all the window asks, and offers the demo's sites."""
    return Finding(
        TOWNS,
        "Where are you?" if first else "Which town is nearest?",
        _FIRST if first else _TOWNS,
        evening.find_places,
        place_words,
        lambda place, _later: take(place.site),
        lambda _text, _places: "",
        demo_places() if first else (),
        wide=first,
    )


def place_words(place: Place) -> FindWords:
    """Say which place it is."""
    site = place.site
    position = position_text(site.latitude_deg, site.longitude_deg)
    return FindWords(site.name, place.about, "" if site.name == position else position)
