"""Everything that can be aimed at, by its key: stars, deep sky, groups, bodies, positions."""

import re
from functools import cached_property, lru_cache

from companion.advice import AdviceError
from companion.sky.borders import constellation_of
from companion.sky.carried import CARRIED
from companion.sky.deep_sky import DeepSky, load_deep_sky
from companion.sky.moon_places import moon_row, moon_target
from companion.sky.movers import Mover
from companion.sky.names import Names, load_names
from companion.sky.sky_points import SKY_POINTS
from companion.sky.solar_system import SOLAR_SYSTEM
from companion.sky.stars_data import EPOCH_YEAR, StarColumns, load_stars
from companion.sky.target import Kind, Target
from companion.sky.text import declination_text, right_ascension_text

_MOVERS: tuple[Mover, ...] = (*SOLAR_SYSTEM, *SKY_POINTS)
_NAMED = {mover.target.key: mover.target for mover in _MOVERS}
# A star whose measurements scatter by so much varies, whatever its brightness: steady stars of the
# 11th magnitude scatter by 0.05. Mira stars reach twice the scatter on either side of their mean.
_VARIES_MAG, _SCATTERS_TO_THE_END = 0.25, 2.0
_PLACE_KEY = re.compile(r"icrs:(\d{1,3}(?:\.\d{1,12})?)([+-]\d{1,2}(?:\.\d{1,12})?)\Z")


class Catalogue:
    """Stars, deep sky, groups and bodies; each part is read from its file on first use."""

    @cached_property
    def stars(self) -> StarColumns:
        """The Hipparcos stars as columns, ICRS at epoch 1991.25."""
        return load_stars()

    @cached_property
    def names(self) -> Names:
        """Star names and letters, groups, doubles, variables."""
        return load_names()

    @cached_property
    def deep_sky(self) -> DeepSky:
        """The NGC and IC with what Messier and Caldwell add."""
        return load_deep_sky()

    @property
    def bodies(self) -> tuple[Target, ...]:
        """Sun, Moon and planets from Mercury to Pluto."""
        return tuple(body.target for body in SOLAR_SYSTEM)

    def star(self, hip: int) -> Target:
        """Give a star by its Hipparcos number.

        Raises
        ------
        AdviceError
            If the catalogue has no such star.
        """
        row = self.stars.row(hip)
        if row is None:
            last = int(self.stars.hip[-1])
            raise AdviceError(
                f"The catalogue has no star HIP {str(hip)[:20]}.",
                f"Give a number from 1 to {last}; a few in between are not used.",
            )
        return self._star_of_row(row)

    def target(self, key: str) -> Target:
        """Give the target of a key such as ``hip:91262``, ``ngc:NGC0224`` or ``body:saturn``.

        Raises
        ------
        AdviceError
            If the catalogue knows no such key.
        """
        family, _colon, rest = key[:80].partition(":")
        if family == "hip" and rest.isascii() and rest.isdigit():
            return self.star(int(rest))
        if family == "ngc" and rest in self.deep_sky.rows:
            return self._deep_sky_target(rest)
        if family == "group" and key in self.names.groups:
            return self.names.groups[key]
        if family == "moon" and (row := moon_row(key)) is not None:
            return moon_target(row)
        body = _NAMED.get(key) or CARRIED.target(key)
        place = _PLACE_KEY.match(key) if body is None else None
        if body is None and place:
            return place_target(float(place[1]), float(place[2]))
        if body is None:
            raise AdviceError(
                f"The catalogue has no target with the key {key[:60]!r}.",
                "Search for it by name, number or position.",
            )
        return body

    def _deep_sky_target(self, name: str) -> Target:
        row = self.deep_sky.rows[name]
        if not self.deep_sky.has_place(row):
            raise AdviceError(
                f"{name} was never found again, and nobody knows where it was seen.",
                "Choose another target.",
            )
        return self.deep_sky.target(row)

    def bright_stars(self, limit_magnitude: float) -> tuple[Target, ...]:
        """Give the stars brighter than a V magnitude, brightest first."""
        rows = self.stars.brighter_than(limit_magnitude).tolist()
        return tuple(self._star_of_row(row) for row in rows)

    def _star_of_row(self, row: int) -> Target:
        s = self.stars
        hip = int(s.hip[row])
        called = self.names.stars.get(hip)
        brightest, faintest = self._range(row, hip)
        written = called.all() if called else (f"HIP {hip}",)
        return Target(
            key=f"hip:{hip}",
            name=written[0],
            kind=self.names.kind(hip),
            ra_deg=float(s.ra_deg[row]),
            dec_deg=float(s.dec_deg[row]),
            pm_ra_mas_per_yr=round(float(s.pm_ra_mas_per_yr[row]), 1),
            pm_dec_mas_per_yr=round(float(s.pm_dec_mas_per_yr[row]), 1),
            # Measuring errors leave some parallaxes below zero: too far away to be measured.
            parallax_mas=max(round(float(s.parallax_mas[row]), 2), 0.0),
            epoch_year=EPOCH_YEAR,
            magnitude=round(float(s.magnitude[row]), 3),
            faintest_magnitude=faintest,
            brightest_magnitude=brightest,
            colour_index=round(float(s.colour_index[row]), 3),
            constellation=s.constellation_of_row(row),
            aliases=written[1:],
            note=self.names.note(hip),
        )

    def _range(self, row: int, hip: int) -> tuple[float | None, float | None]:
        """Give the brightest and the faintest that a star gets, None for what stays as it is.

        Where no table has its range, it is at least what the scatter of its measurements says.
        """
        variable = self.names.variables.get(hip)
        if variable is not None:
            return variable.brightest_again, variable.faintest
        mean, scatter = float(self.stars.magnitude[row]), float(self.stars.scatter_mag[row])
        if scatter < _VARIES_MAG:
            return None, None
        half = _SCATTERS_TO_THE_END * scatter
        return round(mean - half, 1), round(mean + half, 1)


def place_target(ra_deg: float, dec_deg: float) -> Target:
    """Make the target of a bare ICRS position.

    Raises
    ------
    AdviceError
        If the declination lies outside -90° to 90°, or the right ascension outside 0° to 360°.
    """
    if not (0.0 <= ra_deg <= 360.0 and -90.0 <= dec_deg <= 90.0):
        raise AdviceError(
            f"The position {ra_deg:g}° {dec_deg:+g}° is not in the sky: right ascension runs from "
            "0° to 360° (0h to 24h), declination from −90° to 90°.",
            'Give it like "05 35.3 -05 23" or "83.82 -5.39 deg".',
        )
    # Rounded as the key is, so that the key leads back to the same direction.
    ra, dec = round(ra_deg, 5) % 360.0, round(dec_deg, 5) + 0.0
    return Target(
        key=f"icrs:{ra:.5f}{dec:+.5f}",
        name=f"{right_ascension_text(ra)} {declination_text(dec)}",
        kind=Kind.PLACE,
        ra_deg=ra,
        dec_deg=dec,
        constellation=str(constellation_of(ra, dec)),
    )


@lru_cache(maxsize=1)
def load_catalogue() -> Catalogue:
    """Give the one catalogue of this process."""
    return Catalogue()
