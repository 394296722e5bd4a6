"""A dial or a tripod that was moved during the night: one fit before it, another one after."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from companion.mount.fit import fit
from companion.mount.records import Mount, Sighting

_BUMPED: Final = 0.01  # how probable it is in a night (common practice, no source)
_FEWEST: Final = 2  # sightings on either side: one alone is as well a wrong star
_MOST_SPLITS: Final = 8  # moments that are looked at, from all of the night


@dataclass(frozen=True, slots=True, eq=False)
class Bump:
    """Two segments of the night that fit well each for itself.

    ``log_evidence`` is that of the readings and of such a bump at any moment together, ``tail``
    the probability that honest readings fit worse.
    """

    earlier: tuple[Sighting, ...]
    later: tuple[Sighting, ...]
    azimuth_jump_deg: float  # of the azimuth reading
    altitude_jump_deg: float
    log_evidence: float
    tail: float


def best_bump(mount: Mount, sightings: Sequence[Sighting]) -> Bump | None:
    """Find the moment at which parting the sightings in two fits them best.

    Compass and level belong to the segment that they were made in. None while there are fewer
    than two sightings of stars on either side.
    """
    used = sorted((one for one in sightings if not one.set_aside), key=lambda one: one.utc)
    stars = [i for i, one in enumerate(used) if not one.weak]
    if len(stars) < 2 * _FEWEST:
        return None
    splits = stars[_FEWEST : len(stars) - _FEWEST + 1]
    found = {at: _split(mount, used, at) for at in _few(splits)}
    evidence = [bump.log_evidence for bump in found.values()]
    total = float(np.logaddexp.reduce(evidence)) + math.log(_BUMPED / len(found))
    while len(found) < len(splits):
        best = max(found, key=lambda at: found[at].log_evidence)
        known = sorted(found)
        place = known.index(best)
        low, high = known[max(0, place - 1)], known[min(len(known) - 1, place + 1)]
        between = [at for at in splits if low < at < high and at not in found]
        if not between:
            break
        found |= {at: _split(mount, used, at) for at in _few(between)}
    best = max(found, key=lambda at: found[at].log_evidence)
    probable = math.log(_BUMPED / len(splits))
    return replace(found[best], log_evidence=max(total, found[best].log_evidence + probable))


def _few(splits: Sequence[int]) -> list[int]:
    """Give at most so many of the moments, evenly from first to last."""
    some = np.linspace(0, len(splits) - 1, min(len(splits), _MOST_SPLITS))
    return [splits[i] for i in some.round().astype(int).tolist()]


def _split(mount: Mount, used: Sequence[Sighting], at: int) -> Bump:
    earlier, later = fit(mount, used[:at]), fit(mount, used[at:])
    middle = used[at]
    before = earlier.aim(middle.azimuth_deg, middle.altitude_deg)
    after = later.aim(middle.azimuth_deg, middle.altitude_deg)
    jump = after.azimuth_reading_deg - before.azimuth_reading_deg
    return Bump(
        tuple(one for one in used[:at] if not one.weak),
        tuple(used[at:]),
        (jump + 180.0) % 360.0 - 180.0,
        after.altitude_reading_deg - before.altitude_reading_deg,
        earlier.posterior.log_evidence + later.posterior.log_evidence,
        min(earlier.posterior.tail, later.posterior.tail),
    )
