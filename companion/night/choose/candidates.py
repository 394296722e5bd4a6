"""Everything that may be worth a look, as columns made once a session."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from companion.arrays import BoolArray
from companion.night.choose.worth import Worth
from companion.night.sight.limits import SPLIT_AT_ARCSEC
from companion.night.sight.objects import NightObjects
from companion.sky import Catalogue, Kind, Target

_STARS = frozenset({Kind.STAR, Kind.OTHER})
BRIGHT_STAR_MAG = 4.5  # fainter stars only if they are double, variable or coloured


@dataclass(frozen=True, slots=True, eq=False)
class Candidates:
    """n targets with what the list needs of them; arrays of shape (n,).

    ``singles`` are the same objects for somebody who does not expect double stars to part.
    ``by_eye`` leaves out the double stars that only glass parts, except those that are worth a
    look by eye for something else.
    """

    objects: NightObjects
    singles: NightObjects
    worth: Worth
    by_eye: BoolArray
    keys: tuple[str, ...]
    kinds: NDArray[np.object_]  # Kind
    constellations: NDArray[np.str_]

    @classmethod
    def of(cls, catalogue: Catalogue, own: tuple[Target, ...] = ()) -> "Candidates":
        """Take planets and Moon, groups, the deep sky, showpiece stars, and one's own objects.

        The Sun is left out: it is no target for a night, and never one by accident.
        """
        return cls.from_targets((*_targets(catalogue), *own), catalogue)

    @classmethod
    def from_targets(cls, targets: tuple[Target, ...], catalogue: Catalogue) -> "Candidates":
        """Take just these targets."""
        chosen = tuple({target.key: target for target in targets}.values())
        objects = NightObjects.of(chosen, catalogue.names.doubles)
        worth = Worth.of(chosen, catalogue)
        close = objects.separation_arcsec < SPLIT_AT_ARCSEC
        varies = np.array([target.faintest_magnitude is not None for target in chosen], dtype=bool)
        return cls(
            objects=objects,
            singles=NightObjects.of(chosen),
            worth=worth,
            by_eye=~close | worth.listed_by_eye | varies,
            keys=tuple(target.key for target in chosen),
            kinds=np.array([target.kind for target in chosen], dtype=object),
            constellations=np.array([target.constellation for target in chosen], dtype=np.str_),
        )

    def __len__(self) -> int:
        return len(self.keys)


def _targets(catalogue: Catalogue) -> tuple[Target, ...]:
    names = catalogue.names
    showpieces = {*names.doubles, *names.variables, *names.colours}
    bright = catalogue.bright_stars(BRIGHT_STAR_MAG)
    known = {star.key for star in bright}
    faint = [hip for hip in sorted(showpieces) if f"hip:{hip}" not in known]
    return (
        *(body for body in catalogue.bodies if body.kind is not Kind.SUN),
        *names.groups.values(),
        # Stars among them are those of the star catalogue once more.
        *(one for one in catalogue.deep_sky.targets if one.kind not in _STARS),
        *bright,
        *(catalogue.star(hip) for hip in faint),
    )
