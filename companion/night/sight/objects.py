"""Many targets as columns, made once and used for every night."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from companion.night.sight.brightness import (
    ALWAYS_SEEN,
    BODY_SIGMA,
    CENTRE,
    CORE_SIZE,
    POINTS,
    STAR_CLUSTERS,
    STARS_BELOW_TOTAL,
    Brightness,
    Known,
    brightness_of,
)
from companion.night.sight.star_limit import SKY_COLOUR
from companion.sky import DoubleStar, Target

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class NightObjects:
    """What the visibility of n targets is computed from; every array has shape (n,).

    ``magnitude`` is NaN where nothing is known. ``core_size`` is the part of the size that holds
    half of the light, ``centre_size`` that of a bright centre ``centre_loss`` fainter than the
    total, NaN where the whole is the best guess. ``stars_below`` is how much fainter than the total
    single stars are, infinite where there are none to see. Of a double star with
    known separation, ``magnitude`` is that of the companion: seeing both is the point.
    """

    targets: tuple[Target, ...]
    magnitude: FloatArray
    sigma_mag: FloatArray
    colour_index: FloatArray
    area_arcmin2: FloatArray
    major_arcmin: FloatArray
    core_size: FloatArray
    centre_size: FloatArray
    centre_loss: FloatArray
    stars_below: FloatArray
    separation_arcsec: FloatArray  # NaN where it is no double star, or nothing is known
    point: NDArray[np.bool_]
    always: NDArray[np.bool_]
    known: tuple[Known, ...]
    guessed: NDArray[np.bool_]  # the magnitude, from kind and size alone
    size_guessed: NDArray[np.bool_]

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
        colours = [SKY_COLOUR if t.colour_index is None else t.colour_index for t in chosen]
        centres = [CENTRE.get(t.kind, (np.nan, np.nan)) for t in chosen]
        centre = np.array(centres, dtype=np.float64).reshape(-1, 2)
        # Of a guessed total nothing follows for single stars.
        clusters = np.array(
            [
                t.kind in STAR_CLUSTERS and b.known is not Known.GUESSED
                for t, b in zip(chosen, found, strict=True)
            ],
            dtype=bool,
        )
        return cls(
            targets=chosen,
            magnitude=np.array([b.magnitude for b in found], dtype=np.float64),
            sigma_mag=np.array([b.sigma_mag for b in found], dtype=np.float64),
            colour_index=np.array(colours, dtype=np.float64),
            area_arcmin2=np.pi / 4.0 * size[:, 0] * size[:, 1],
            major_arcmin=size[:, 0],
            core_size=np.array([CORE_SIZE.get(t.kind, np.nan) for t in chosen], dtype=np.float64),
            centre_size=centre[:, 0],
            centre_loss=centre[:, 1],
            stars_below=np.where(clusters, STARS_BELOW_TOTAL, np.inf),
            separation_arcsec=np.array(
                [np.nan if pair is None else pair.separation_arcsec for pair in pairs],
                dtype=np.float64,
            ),
            point=np.array([t.kind in POINTS for t in chosen], dtype=bool),
            always=np.array([t.kind in ALWAYS_SEEN for t in chosen], dtype=bool),
            known=tuple(b.known for b in found),
            guessed=np.array([b.known is Known.GUESSED for b in found], dtype=bool),
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

    def take(self, rows: NDArray[np.intp]) -> "NightObjects":
        """Give some of the rows as columns of their own."""
        picked = rows.tolist()
        return NightObjects(
            targets=tuple(self.targets[i] for i in picked),
            magnitude=self.magnitude[rows],
            sigma_mag=self.sigma_mag[rows],
            colour_index=self.colour_index[rows],
            area_arcmin2=self.area_arcmin2[rows],
            major_arcmin=self.major_arcmin[rows],
            core_size=self.core_size[rows],
            centre_size=self.centre_size[rows],
            centre_loss=self.centre_loss[rows],
            stars_below=self.stars_below[rows],
            separation_arcsec=self.separation_arcsec[rows],
            point=self.point[rows],
            always=self.always[rows],
            known=tuple(self.known[i] for i in picked),
            guessed=self.guessed[rows],
            size_guessed=self.size_guessed[rows],
        )


def _double_of(target: Target, doubles: Mapping[int, DoubleStar]) -> DoubleStar | None:
    family, _colon, number = target.key.partition(":")
    return doubles.get(int(number)) if family == "hip" and number.isdigit() else None


def _companion(brightness: Brightness, pair: DoubleStar | None) -> Brightness:
    if pair is None:
        return brightness
    return replace(brightness, magnitude=pair.companion_magnitude, known=Known.MEASURED)
