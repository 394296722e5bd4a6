"""Many targets as columns, made once and used for every night."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, replace

import numpy as np

from companion.arrays import BoolArray, FloatArray, RowArray
from companion.night.sight.brightness import (
    ALWAYS_SEEN,
    BODY_SIGMA,
    POINTS,
    STAR_CLUSTERS,
    STARS_BELOW_TOTAL,
    Brightness,
    Known,
    brightness_of,
)
from companion.night.sight.star_limit import SKY_COLOUR
from companion.sky import DoubleStar, Target


@dataclass(frozen=True, slots=True, eq=False)
class NightObjects:
    """What the visibility of n targets is computed from; every array has shape (n,).

    ``magnitude`` is NaN where nothing is known, of a variable star the faint end of its range:
    ``brighter_mag`` is what it may be brighter. ``parts`` has shape (n, 2, 2): a bright part and
    the very middle, each as a part of the size and what it is fainter than the total, NaN where
    the whole is the best guess. ``stars_below`` is how much fainter than the total single stars
    are, infinite where there are none to see. Of a double star with known separation,
    ``magnitude`` is that of the companion: seeing both is the point.
    """

    targets: tuple[Target, ...]
    magnitude: FloatArray
    sigma_mag: FloatArray
    brighter_mag: FloatArray
    colour_index: FloatArray
    area_arcmin2: FloatArray
    major_arcmin: FloatArray
    parts: FloatArray
    stars_below: FloatArray
    separation_arcsec: FloatArray  # NaN where it is no double star, or nothing is known
    point: BoolArray
    always: BoolArray
    known: tuple[Known, ...]
    guessed: BoolArray  # the magnitude, from kind and size alone
    size_guessed: BoolArray

    def __len__(self) -> int:
        return len(self.targets)

    @classmethod
    def of(
        cls, targets: Iterable[Target], doubles: Mapping[int, DoubleStar] | None = None
    ) -> "NightObjects":
        """Make the columns of some targets, in their order.

        Parameters
        ----------
        targets : iterable of Target
            Fixed targets and bodies.
        doubles : mapping, optional
            Double stars by Hipparcos number, as ``Catalogue.names.doubles`` has them.
        """
        chosen = tuple(targets)
        pairs = [_double_of(target, doubles or {}) for target in chosen]
        found = [
            _companion(brightness_of(target), pair)
            for target, pair in zip(chosen, pairs, strict=True)
        ]
        size = np.array([(b.major_arcmin, b.minor_arcmin) for b in found]).reshape(-1, 2)
        guessed = np.array([b.known is Known.GUESSED for b in found], dtype=bool)
        clusters = np.array([t.kind in STAR_CLUSTERS for t in chosen], dtype=bool)
        return cls(
            targets=chosen,
            magnitude=_floats(b.magnitude for b in found),
            sigma_mag=_floats(b.sigma_mag for b in found),
            brighter_mag=_floats(b.brighter_mag for b in found),
            colour_index=_floats(
                SKY_COLOUR if t.colour_index is None else t.colour_index for t in chosen
            ),
            area_arcmin2=np.pi / 4.0 * size[:, 0] * size[:, 1],
            major_arcmin=size[:, 0],
            parts=np.array([b.parts for b in found], dtype=np.float64).reshape(-1, 2, 2),
            # Of a guessed total nothing follows for single stars.
            stars_below=np.where(clusters & ~guessed, STARS_BELOW_TOTAL, np.inf),
            separation_arcsec=_floats(np.nan if p is None else p.separation_arcsec for p in pairs),
            point=np.array([t.kind in POINTS for t in chosen], dtype=bool),
            always=np.array([t.kind in ALWAYS_SEEN for t in chosen], dtype=bool),
            known=tuple(b.known for b in found),
            guessed=guessed,
            size_guessed=np.array([b.size_guessed for b in found], dtype=bool),
        )

    def with_magnitudes(self, magnitude_of: Mapping[str, float | None]) -> "NightObjects":
        """Fill in how bright the bodies are tonight, by their names."""
        magnitude, sigma, known = self.magnitude.copy(), self.sigma_mag.copy(), list(self.known)
        for row, target in enumerate(self.targets):
            value = magnitude_of.get(target.body) if target.body else None
            if value is not None:
                magnitude[row], sigma[row], known[row] = value, BODY_SIGMA, Known.MEASURED
        return replace(self, magnitude=magnitude, sigma_mag=sigma, known=tuple(known))

    def take(self, rows: RowArray) -> "NightObjects":
        """Give some of the rows as columns of their own."""
        picked = rows.tolist()
        columns = {column.name: getattr(self, column.name) for column in fields(self)}
        for name, values in columns.items():
            tuples = isinstance(values, tuple)
            columns[name] = tuple(values[i] for i in picked) if tuples else values[rows]
        return NightObjects(**columns)


def _floats(values: Iterable[float]) -> FloatArray:
    return np.array(list(values), dtype=np.float64)


def _double_of(target: Target, doubles: Mapping[int, DoubleStar]) -> DoubleStar | None:
    family, _colon, number = target.key.partition(":")
    return doubles.get(int(number)) if family == "hip" and number.isdigit() else None


def _companion(brightness: Brightness, pair: DoubleStar | None) -> Brightness:
    if pair is None:
        return brightness
    return replace(brightness, magnitude=pair.companion_magnitude, known=Known.MEASURED)
