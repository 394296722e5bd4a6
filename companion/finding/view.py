"""What stands in a field of view: for what the eyepiece shows, and for where the tube points."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np

from companion.finding.guide import FloatArray, IntArray
from companion.finding.lines import angles_deg
from companion.finding.projection import position_angle_deg
from companion.sky import (
    Catalogue,
    Kind,
    Target,
    constellation_name,
    constellation_of,
    ra_dec_of,
    unit_vectors,
)

_POLE: Final = np.array([0.0, 0.0, 1.0])
_BRIGHT: Final = 3.5
_MOST: Final = 60
_SAME_DEG: Final = 0.002


@dataclass(frozen=True, slots=True)
class Neighbour:
    """Something near a place; the position angle is counted from north through east."""

    target: Target
    separation_deg: float
    position_angle_deg: float


@dataclass(frozen=True, slots=True)
class FieldContents:
    """What is in a field: everything with a name, brightest first."""

    constellation: str
    nearest_bright: Neighbour
    objects: tuple[Neighbour, ...]  # deep sky, bodies
    stars: tuple[Neighbour, ...]  # named, double or variable


class FieldIndex:
    """The catalogue ready to be asked what is around a direction.

    Stars stand where they stood in 1991.25: the fastest has moved by 6 arcminutes since, the
    bright ones by less than 3.
    """

    def __init__(self, catalogue: Catalogue) -> None:
        self._catalogue = catalogue

    @cached_property
    def _stars(self) -> FloatArray:
        stars = self._catalogue.stars
        return unit_vectors(stars.ra_deg, stars.dec_deg)

    @cached_property
    def _bright_rows(self) -> IntArray:
        return self._catalogue.stars.brighter_than(_BRIGHT)

    @cached_property
    def _named_rows(self) -> IntArray:
        stars, names = self._catalogue.stars, self._catalogue.names
        known = set(names.stars) | set(names.doubles) | set(names.variables)
        rows = [row for hip in known if (row := stars.row(hip)) is not None]
        return np.array(sorted(rows), np.int64)

    @cached_property
    def _deep_rows(self) -> IntArray:
        deep = self._catalogue.deep_sky
        keep = deep.columns.real & (deep.columns.duplicate_of < 0)
        rows = np.flatnonzero(keep)
        return np.array([row for row in rows.tolist() if deep.has_place(row)], np.int64)

    @cached_property
    def _deep(self) -> FloatArray:
        columns = self._catalogue.deep_sky.columns
        return unit_vectors(columns.ra_deg[self._deep_rows], columns.dec_deg[self._deep_rows])

    def contents(
        self,
        middle: FloatArray,
        field_deg: float,
        *,
        faintest: float,
        bodies: Sequence[tuple[Target, FloatArray]] = (),
    ) -> FieldContents:
        """Say what is in the field around a direction.

        Parameters
        ----------
        middle : FloatArray
            ICRS unit vector (3,).
        field_deg : float
            True field, across.
        faintest : float
            Magnitude of the faintest object to name; those of unknown brightness are left out,
            unless they bear a Messier or Caldwell number.
        bodies : sequence of (Target, FloatArray), optional
            Sun, Moon and planets with their ICRS unit vectors at the moment.
        """
        ra_deg, dec_deg = ra_dec_of(middle)
        objects = [*self._deep_near(middle, field_deg, faintest), *_near(bodies, middle, field_deg)]
        return FieldContents(
            constellation=constellation_name(str(constellation_of(ra_deg, dec_deg))),
            nearest_bright=self.nearest_bright(middle),
            objects=_brightest_first(objects),
            stars=_brightest_first(self._stars_near(middle, field_deg, faintest)),
        )

    def nearest_bright(self, middle: FloatArray) -> Neighbour:
        """Give the nearest star that the eye finds by itself."""
        rows = self._bright_rows
        row = int(rows[np.argmax(self._stars[rows] @ middle)])
        return neighbour(
            self._catalogue.star(int(self._catalogue.stars.hip[row])), self._stars[row], middle
        )

    def _stars_near(self, middle: FloatArray, field_deg: float, faintest: float) -> list[Neighbour]:
        stars, rows = self._catalogue.stars, self._named_rows
        rows = rows[stars.magnitude[rows] <= faintest]
        rows = rows[angles_deg(self._stars[rows], middle) <= field_deg / 2.0]
        rows = rows[np.argsort(stars.magnitude[rows], kind="stable")][:_MOST]
        return [
            neighbour(self._catalogue.star(int(stars.hip[row])), self._stars[row], middle)
            for row in rows.tolist()
        ]

    def _deep_near(self, middle: FloatArray, field_deg: float, faintest: float) -> list[Neighbour]:
        deep = self._catalogue.deep_sky
        columns, rows = deep.columns, self._deep_rows
        near = np.flatnonzero(angles_deg(self._deep, middle) <= field_deg / 2.0)
        famous = (columns.messier[rows[near]] > 0) | (columns.caldwell[rows[near]] > 0)
        near = near[famous | (columns.magnitude[rows[near]] <= faintest)]
        order = np.argsort(columns.magnitude[rows[near]], kind="stable")[:_MOST]
        return [
            neighbour(deep.target(int(rows[at])), self._deep[at], middle)
            for at in near[order].tolist()
        ]


def neighbour(target: Target, vector: FloatArray, middle: FloatArray) -> Neighbour:
    """Describe where a target stands against the middle of a field, ICRS unit vectors (3,)."""
    separation = float(angles_deg(vector, middle))
    angle = float(position_angle_deg(middle, vector, _POLE)) if separation > _SAME_DEG else 0.0
    return Neighbour(target, separation, angle)


def _near(
    bodies: Sequence[tuple[Target, FloatArray]], middle: FloatArray, field_deg: float
) -> list[Neighbour]:
    """Keep the bodies in the field; the Sun and the Moon reach in with half a degree."""
    wide = {Kind.SUN: 0.27, Kind.MOON: 0.27}
    found = [neighbour(target, vector, middle) for target, vector in bodies]
    return [
        near
        for near in found
        if near.separation_deg <= field_deg / 2.0 + wide.get(near.target.kind, 0.0)
    ]


def _brightest_first(found: list[Neighbour]) -> tuple[Neighbour, ...]:
    """Order by brightness; what has none known comes last, nearest first."""
    return tuple(
        sorted(
            found,
            key=lambda near: (
                near.target.magnitude is None and not near.target.body,
                near.target.magnitude if near.target.magnitude is not None else -5.0,
                near.separation_deg,
            ),
        )
    )
