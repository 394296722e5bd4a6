"""What a guide map may end at: bright stars, groups that people know, the southern pole."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.finding.groups import Group
from companion.finding.guide import GuideStars
from companion.finding.lines import angles_deg
from companion.sky import Catalogue, Target

LOWEST_END_DEG: Final = 15.0
_FAINTEST_END: Final = 2.5
_POLARIS: Final = 11767
_WIDEST_GROUP_DEG: Final = 22.0  # a wider one is no end of a line

# Groups that every beginner knows or should, and the star magnitude that each is worth as an end
# (common practice, no source). The order of the table is that in which one is offered to begin at.
WELL_KNOWN: Final[Mapping[str, float]] = {
    "dipper": 0.2, "orion": 0.2, "southern-cross": 0.2, "cassiopeia-w": 1.0,
    "southern-pointers": 0.6, "summer-triangle": 0.5, "fish-hook": 1.2, "great-square": 1.6,
    "winter-triangle": 0.5, "spring-triangle": 0.8, "teapot": 1.8, "sickle": 1.9, "twins": 1.5,
    "pleiades": 1.4, "orion-belt": 0.3, "northern-cross": 1.8, "corvus-sail": 2.4,
    "auriga-pentagon": 2.2, "great-dog": 1.5, "false-cross": 2.3, "virgo-diamond": 2.0,
    "kite": 2.2, "winter-hexagon": 1.0,
}  # fmt: skip
_NOT_AN_END: Final = frozenset(
    {"twins", "great-dog", "kite", "fish-hook", "orion", "sickle"}
)  # stars are
_CLUSTER_OF: Final = {"pleiades": "ngc:Mel022"}


@dataclass(frozen=True, slots=True, eq=False)
class End:
    """Something that a line of a figure may lead to.

    ``worth`` is a magnitude: what stands at the end catches the eye like such a star.
    ``own`` are the stars that it is made of, ``across_deg`` how wide it is.
    """

    target: Target
    vector: FloatArray  # (3,)
    worth: float
    own: frozenset[int]
    across_deg: float = 0.0
    group: Group | None = None

    @property
    def altitude_deg(self) -> float:
        """How high it stands."""
        return float(np.degrees(np.arcsin(np.clip(self.vector[2], -1.0, 1.0))))

    @property
    def azimuth_deg(self) -> float:
        """Where it stands, from north through east."""
        return float(np.degrees(np.arctan2(-self.vector[1], self.vector[0])) % 360.0)

    @property
    def is_pole(self) -> bool:
        """Whether it marks a pole of the sky: what shows north or south comes first."""
        return _POLARIS in self.own or self.target.key == "point:south-pole"


def ends_for(
    catalogue: Catalogue, stars: GuideStars, group: Group, south_pole: FloatArray
) -> tuple[End, ...]:
    """Give what a map of a group may end at: what stands well and is no part of the group."""
    inside = frozenset(group.stars)
    found = [*_star_ends(catalogue, stars), *_group_ends(catalogue, stars)]
    pole = catalogue.target("point:south-pole")
    found += [End(pole, south_pole, 0.0, frozenset())]
    return tuple(
        end for end in found if end.altitude_deg >= LOWEST_END_DEG and not end.own & inside
    )


def _star_ends(catalogue: Catalogue, stars: GuideStars) -> list[End]:
    return [
        End(catalogue.star(hip), stars.vectors[row], float(stars.magnitude[row]), frozenset({hip}))
        for hip, row in stars.rows.items()
        if stars.magnitude[row] <= _FAINTEST_END
    ]


def _group_ends(catalogue: Catalogue, stars: GuideStars) -> list[End]:
    found = []
    for group in stars.groups:
        worth = WELL_KNOWN.get(group.key)
        if worth is None or group.key in _NOT_AN_END:
            continue
        middle, across_deg = extent(stars, group)
        if across_deg <= _WIDEST_GROUP_DEG:
            key = _CLUSTER_OF.get(group.key, f"group:{group.key}")
            own = frozenset(group.stars)
            found.append(End(catalogue.target(key), middle, worth, own, across_deg, group))
    return found


def extent(stars: GuideStars, group: Group) -> tuple[FloatArray, float]:
    """Give the middle (3,) of a group's seen stars and how far its farthest two are apart."""
    vectors = stars.vectors[[stars.rows[hip] for hip in group.stars if hip in stars.rows]]
    middle = vectors.mean(axis=0)
    across = angles_deg(vectors[:, None, :], vectors[None, :, :])
    return middle / np.linalg.norm(middle), float(across.max())


def best_known(stars: GuideStars, *, lowest_deg: float = 25.0) -> tuple[Group, ...]:
    """Give the well-known groups that stand well now, the one to begin at first."""
    up = [
        group
        for group in stars.groups
        if group.key in WELL_KNOWN and stands_well(stars, group, lowest_deg)
    ]
    order = list(WELL_KNOWN)
    return tuple(sorted(up, key=lambda group: order.index(group.key)))


def stands_well(stars: GuideStars, group: Group, lowest_deg: float = LOWEST_END_DEG) -> bool:
    """Say whether a group can be made out, is not half set and has its middle so high."""
    if group not in stars.groups:
        return False
    middle, _across = extent(stars, group)
    return float(np.degrees(np.arcsin(middle[2]))) >= lowest_deg
