"""The fit that aims are made from: what is contradicted has no part in it."""

from collections.abc import Sequence

from companion.mount.alignment import Alignment
from companion.mount.doubts import Doubt
from companion.mount.fit import fit
from companion.mount.records import Mount, Sighting


def trusted(mount: Mount, sightings: Sequence[Sighting], doubts: Sequence[Doubt]) -> Alignment:
    """Fit a mount to those of its sightings that nothing contradicts.

    Where it is not known which of two is the wrong one, or all would be explained by a wrong
    clock, none of them is trusted, and the radius says that little is known.

    Parameters
    ----------
    mount : Mount
        With its dials.
    sightings : sequence of Sighting
        Those set aside are passed over.
    doubts : sequence of Doubt
        What ``doubt.examine`` said of them.
    """
    doubted = [one for doubt in doubts if doubt.contradicts for one in doubt.sightings]
    return fit(mount, sightings, tuple(dict.fromkeys(doubted)))
