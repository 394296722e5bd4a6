"""Planets' magnitudes by Mallama & Hilton 2018, as skyfield has the formulas.

Skyfield takes the Sun to stand in the barycentre of the solar system, which is worth 0.14
magnitudes of Mercury at times; here it stands where it is.
"""

from types import SimpleNamespace
from typing import Any

from skyfield.magnitudelib import planetary_magnitude

from companion.arrays import FloatArray


def magnitude_of(seen: Any, sun: Any) -> FloatArray:  # noqa: ANN401 - skyfield has no types
    """Give the magnitude of a planet, NaN where the formulas don't hold.

    Parameters
    ----------
    seen, sun : skyfield.positionlib.Astrometric
        Planet and Sun as one observer sees them, at one or more moments.
    """
    from_sun = SimpleNamespace(xyz=SimpleNamespace(au=-sun.xyz.au))
    given = SimpleNamespace(target=seen.target, xyz=seen.xyz, t=seen.t, center_barycentric=from_sun)
    magnitude: FloatArray = planetary_magnitude(given)
    return magnitude
