"""What can be searched: targets and towns, how a find is said and what taking it does."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from companion.sky import kind_text, magnitude_text, position_text
from companion.window.forms.find_sheet import Finding, FindWords
from companion.window.frame.keys import SEARCH, TOWNS

if TYPE_CHECKING:
    from companion.live import Evening
    from companion.sky import Hit, Town

_TARGETS = "M 31, Saturn, alp Lyr, HIP 91262, or a position: 05 35.3 −05 23."
_TOWNS = "Type the beginning of the nearest town's name."


def target_finding(evening: "Evening") -> "Finding[Hit]":
    """Search targets; a taken one goes into the queue."""
    return Finding(
        SEARCH,
        "What do you want to see?",
        _TARGETS,
        evening.find,
        hit_words,
        lambda hit, later: evening.queue.add(hit.target, aim=not later),
    )


def hit_words(hit: "Hit") -> FindWords:
    """Say what a find is: "galaxy in Andromeda · mag 3.4", and how it was found."""
    from companion.sky import constellation_name  # after first paint: it brings numpy

    target = hit.target
    where = f" in {constellation_name(target.constellation)}" if target.constellation else ""
    parts = [f"{kind_text(target.kind)}{where}"]
    if target.magnitude is not None:
        parts.append(magnitude_text(target.magnitude))
    return FindWords(target.name, " · ".join(parts), hit.why)


def town_finding(evening: "Evening", take: "Callable[[Town], None]") -> "Finding[Town]":
    """Search towns."""
    return Finding(
        TOWNS,
        "Which town is nearest?",
        _TOWNS,
        evening.find_towns,
        town_words,
        lambda town, _later: take(town),
    )


def town_words(town: "Town") -> FindWords:
    """Say which town it is."""
    where = ", ".join(part for part in (town.region, town.country) if part)
    return FindWords(town.name, where, position_text(town.latitude_deg, town.longitude_deg))
