"""A dial or a tripod that was moved during the night: one fit before it, another one after."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from companion.mount.fit import fit
from companion.mount.records import Mount, Sighting

_FEWEST: Final = 2  # sightings on either side: one alone is as well a wrong star


@dataclass(frozen=True, slots=True, eq=False)
class Bump:
    """Two segments of the night that fit well each for itself."""

    earlier: tuple[Sighting, ...]
    later: tuple[Sighting, ...]
    azimuth_jump_deg: float  # of the azimuth reading
    altitude_jump_deg: float
    cost: float


def best_bump(mount: Mount, sightings: Sequence[Sighting]) -> Bump | None:
    """Find the moment at which parting the sightings in two fits them best.

    None while there are fewer than two sightings on either side.
    """
    used = sorted((s for s in sightings if not s.set_aside and not s.weak), key=lambda s: s.utc)
    splits = range(_FEWEST, len(used) - _FEWEST + 1)
    return min((_split(mount, used, at) for at in splits), key=lambda b: b.cost, default=None)


def _split(mount: Mount, used: Sequence[Sighting], at: int) -> Bump:
    earlier, later = fit(mount, used[:at]), fit(mount, used[at:])
    middle = used[at]
    before = earlier.aim(middle.azimuth_deg, middle.altitude_deg)
    after = later.aim(middle.azimuth_deg, middle.altitude_deg)
    jump = after.azimuth_reading_deg - before.azimuth_reading_deg
    return Bump(
        tuple(used[:at]),
        tuple(used[at:]),
        (jump + 180.0) % 360.0 - 180.0,
        after.altitude_reading_deg - before.altitude_reading_deg,
        earlier.cost + later.cost,
    )
