"""How the Moon and the planets turn: axes fixed to a body, against the axes of the sky.

Poles and meridians of the IAU Working Group on Cartographic Coordinates and Rotational Elements:
the Moon of its 2009 report (Archinal et al. 2011, Celest. Mech. Dyn. Astr. 109, 101: the mean axis
of the ephemerides to 0.005°), Mars, Jupiter and Saturn of the same and of 2015 (Archinal et al.
2018, 130, 22).
"""

import math
from collections.abc import Mapping
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.sky.vectors import cross

# The arguments E1 to E13 of the Moon: degrees at J2000, degrees a day.
_MOON_E: Final = np.array(
    [
        (125.045, -0.0529921), (250.089, -0.1059842), (260.008, 13.0120009),
        (176.625, 13.3407154), (357.529, 0.9856003), (311.589, 26.4057084),
        (134.963, 13.0649930), (276.617, 0.3287146), (34.226, 1.7484877),
        (15.134, -0.1589763), (119.743, 0.0036096), (239.961, 0.1643573),
        (25.053, 12.9590088),
    ]
)  # fmt: skip
_MOON_RA: Final = np.array(
    [-3.8787, -0.1204, 0.0700, -0.0172, 0.0, 0.0072, 0.0, 0.0, 0.0, -0.0052, 0.0, 0.0, 0.0043]
)
_MOON_DEC: Final = np.array(
    [1.5419, 0.0239, -0.0278, 0.0068, 0.0, -0.0029, 0.0009, 0.0, 0.0, 0.0008, 0.0, 0.0, -0.0009]
)
_MOON_W: Final = np.array(
    [
        3.5610, 0.1208, -0.0642, 0.0158, 0.0252, -0.0066, -0.0047, -0.0046, 0.0028, 0.0052,
        0.0040, 0.0019, -0.0044,
    ]
)  # fmt: skip
# Right ascension and declination of the pole, each with its change a century; then the meridian
# of each system: degrees at J2000, degrees a day.
_POLES: Final[Mapping[str, tuple[float, float, float, float]]] = {
    "mars": (317.68143, -0.1061, 52.88650, -0.0609),
    "jupiter": (268.056595, -0.006499, 64.495303, 0.002413),
    "saturn": (40.589, -0.036, 83.537, -0.004),
}
MERIDIANS: Final[Mapping[str, Mapping[str, tuple[float, float]]]] = {
    "mars": {"I": (176.630, 350.89198226)},
    "jupiter": {
        "I": (67.1, 877.900003539),
        # The report says 43.3: to the digits of the older elements (Meeus, ch. 43) it is 43.35.
        "II": (43.35, 870.270003539),
        "III": (284.95, 870.5360000),
    },
    "saturn": {"III": (38.90, 810.7939024)},
}


def body_axes(body: str, days: float, system: str = "") -> FloatArray:
    """Give the axes fixed to a body, one a row (3, 3): meridian 0, 90° east, north pole.

    Parameters
    ----------
    body : str
        "moon", "mars", "jupiter" or "saturn".
    days : float
        Days (TDB) since J2000 at which the light left the body.
    system : str, optional
        Which meridian, where a planet has several: "I", "II", "III"; else its first.
    """
    if body == "moon":
        return _turned(*_moon(days))
    ra, ra_rate, dec, dec_rate = _POLES[body]
    centuries = days / 36525.0
    meridians = MERIDIANS[body]
    start, rate = meridians[system or next(iter(meridians))]
    turn_deg = (start + rate * days) % 360.0
    return _turned(ra + ra_rate * centuries, dec + dec_rate * centuries, turn_deg)


def _moon(days: float) -> tuple[float, float, float]:
    """Give the right ascension and declination of the Moon's pole, and its meridian."""
    centuries = days / 36525.0
    angles = np.radians(_MOON_E[:, 0] + _MOON_E[:, 1] * days)
    sines, cosines = np.sin(angles), np.cos(angles)
    turn = 38.3213 + 13.17635815 * days - 1.4e-12 * days**2 + float(_MOON_W @ sines)
    return (
        269.9949 + 0.0031 * centuries + float(_MOON_RA @ sines),
        66.5392 + 0.0130 * centuries + float(_MOON_DEC @ cosines),
        turn % 360.0,
    )


def _turned(pole_ra_deg: float, pole_dec_deg: float, turn_deg: float) -> FloatArray:
    """Give the axes of a pole and a meridian counted from the node on the sky's equator."""
    ra, dec, turn = map(math.radians, (pole_ra_deg, pole_dec_deg, turn_deg))
    pole = np.array([math.cos(dec) * math.cos(ra), math.cos(dec) * math.sin(ra), math.sin(dec)])
    node = np.array([-math.sin(ra), math.cos(ra), 0.0])
    beside = cross(pole, node)
    meridian = math.cos(turn) * node + math.sin(turn) * beside
    return np.array([meridian, cross(pole, meridian), pole])
