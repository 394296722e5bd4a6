"""Meteor showers: when they peak, and how many an observer here sees in an hour."""

from dataclasses import dataclass

import numpy as np

from companion.arrays import FloatArray
from companion.events.event import EventKind
from companion.events.scene import Draft, Scene
from companion.events.search import moments, roots, wrapped_deg
from companion.night import Lights, naked_eye_limit, sky_light
from companion.sky import compass_point, horizontal_separation_deg, unit_vectors

STANDARD_LIMIT_MAG = 6.5  # for which the zenithal hourly rate is defined
_STEP_S, _LOOK_S, _REACH_S = 86400.0, 1200.0, 86400.0
_OBLIQUITY_RAD = np.radians(23.4392911)  # of 2000, which the solar longitudes are for
_GAZE_DEG = 55.0  # how high to look (common practice, no source)
_FROM_RADIANT_DEG = 40.0  # where trails are long and still many (common practice, no source)


@dataclass(frozen=True, slots=True)
class Shower:
    """A shower as visual observers describe it.

    ``peak_deg`` is the Sun's longitude (2000) at the peak; the rate falls tenfold within
    1/``fall_per_deg`` degrees on either side.
    """

    code: str  # of the IAU's list
    name: str
    peak_deg: float
    ra_deg: float
    dec_deg: float
    zhr: float
    r: float  # how many more meteors there are in each fainter magnitude
    fall_per_deg: float


# Peaks, radiants, rates, r: working list of visual meteor showers of the International Meteor
# Organization; how they fall off: Jenniskens 1994 (A&A 287, 990). Both from memory.
SHOWERS = (
    Shower("QUA", "Quadrantids", 283.15, 230.0, 49.0, 80.0, 2.1, 2.5),
    Shower("LYR", "Lyrids", 32.32, 271.0, 34.0, 18.0, 2.1, 0.22),
    Shower("ETA", "Eta Aquariids", 45.5, 338.0, -1.0, 50.0, 2.4, 0.08),
    Shower("SDA", "Southern delta Aquariids", 127.6, 340.0, -16.0, 25.0, 2.5, 0.091),
    Shower("CAP", "Alpha Capricornids", 128.0, 307.0, -10.0, 5.0, 2.5, 0.04),
    Shower("PER", "Perseids", 140.0, 48.0, 58.0, 100.0, 2.2, 0.2),
    Shower("DRA", "Draconids", 195.4, 263.0, 56.0, 5.0, 2.6, 2.0),
    Shower("ORI", "Orionids", 208.0, 95.0, 16.0, 20.0, 2.5, 0.12),
    Shower("STA", "Southern Taurids", 223.0, 52.0, 15.0, 7.0, 2.3, 0.026),
    Shower("NTA", "Northern Taurids", 230.0, 58.0, 22.0, 5.0, 2.3, 0.026),
    Shower("LEO", "Leonids", 235.27, 152.0, 22.0, 10.0, 2.5, 0.39),
    Shower("PUP", "Puppid-Velids", 255.0, 123.0, -45.0, 10.0, 2.9, 0.034),
    Shower("GEM", "Geminids", 262.2, 112.0, 33.0, 150.0, 2.6, 0.39),
    Shower("URS", "Ursids", 270.7, 217.0, 76.0, 10.0, 3.0, 0.61),
)


def hourly_rate(
    zhr: float | FloatArray, radiant_deg: FloatArray, r: float, limit_mag: FloatArray
) -> FloatArray:
    """Give how many meteors one observer sees in an hour under an open sky.

    The definition of the zenithal hourly rate turned round (Koschack & Rendtel 1990, WGN 18, 44).

    Parameters
    ----------
    zhr : float or ndarray
        Zenithal hourly rate.
    radiant_deg : ndarray
        Altitude of the radiant.
    r : float
        Population index.
    limit_mag : ndarray
        Faintest star that is seen in the field of view.
    """
    high = np.sin(np.radians(np.maximum(radiant_deg, 0.0)))
    return np.asarray(zhr * high * r ** (np.asarray(limit_mag) - STANDARD_LIMIT_MAG))


def showers(scene: Scene) -> list[Draft]:
    """Find the peaks of all showers."""
    steps = moments(scene.span.length_s, _STEP_S)
    peaks = np.array([shower.peak_deg for shower in SHOWERS])

    def curves(seconds: FloatArray, rows: np.ndarray) -> FloatArray:
        return wrapped_deg(_solar_longitude_deg(scene, seconds) - peaks[rows])

    values = wrapped_deg(_solar_longitude_deg(scene, steps)[:, None] - peaks)
    found, which = roots(curves, steps, values)
    return [
        _draft(scene, SHOWERS[row], s)
        for s, row in zip(found.tolist(), which.tolist(), strict=True)
    ]


def _solar_longitude_deg(scene: Scene, seconds: FloatArray) -> FloatArray:
    x, y, z = scene.span.geocentric("sun", seconds).T
    flat = y * np.cos(_OBLIQUITY_RAD) + z * np.sin(_OBLIQUITY_RAD)
    return np.asarray(np.degrees(np.arctan2(flat, x)) % 360.0)


def _draft(scene: Scene, shower: Shower, s: float) -> Draft:
    key = f"icrs:{shower.ra_deg:.5f}{shower.dec_deg:+.5f}"
    looks = np.clip(s + np.arange(-_REACH_S, _REACH_S + 1.0, _LOOK_S), 0.0, scene.span.length_s)
    radiant = np.repeat(
        unit_vectors(np.array([shower.ra_deg]), np.array([shower.dec_deg])), len(looks), axis=0
    )
    azimuth, altitude = scene.horizontal(radiant, looks)
    sun_deg, moon = scene.airless_deg("sun", looks), _moon(scene, looks)
    limit = _limit_mag(scene, sun_deg, moon)
    away_deg = np.abs(wrapped_deg(_solar_longitude_deg(scene, looks) - shower.peak_deg))
    rate = hourly_rate(
        shower.zhr * 10.0 ** (-shower.fall_per_deg * away_deg), altitude, shower.r, limit
    )
    best = int(np.argmax(np.where(sun_deg < -9.0, rate, -1.0)))
    dark, up = sun_deg[best] < -9.0, altitude[best] > 0.0
    hours = float(np.sum((altitude > 0.0) & (sun_deg < -12.0))) * _LOOK_S / 3600.0 / 2.0
    never = "" if dark and up else "no darkness" if up else "the radiant stays below the horizon"
    gaze = _gaze(float(azimuth[best]), float(altitude[best]), moon[:, best])
    return Draft(
        EventKind.METEOR_SHOWER,
        shower.code,
        f"{shower.name} at their peak",
        s,
        (key,),
        (float(looks[best]),),
        start_s=s - _REACH_S / 2.0,
        end_s=s + _REACH_S / 2.0,
        bodies=(shower.name,),
        keys=(key,),
        never=never,
        remark="" if never else _words(float(rate[best]), gaze, moon[:, best]),
        numbers={
            "zhr": shower.zhr,
            "rate_per_hour": 0.0 if never else float(rate[best]),
            "limit_mag": float(limit[best]),
            "radiant_altitude_deg": float(altitude[best]),
            "radiant_hours_up": hours,
            "look_azimuth_deg": gaze,
            "look_altitude_deg": _GAZE_DEG,
        },
    )


def _moon(scene: Scene, seconds: FloatArray) -> FloatArray:
    """Give azimuth, altitude and phase angle of the Moon, (3, k), degrees."""
    places, sun = scene.span.place("moon", seconds), scene.span.place("sun", seconds)
    back = sun - places
    cosine = -np.einsum("ij,ij->i", places, back) / (
        np.linalg.norm(places, axis=1) * np.linalg.norm(back, axis=1)
    )
    phase = np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0)))
    return np.stack([*scene.horizontal(places, seconds), phase])


def _limit_mag(scene: Scene, sun_deg: FloatArray, moon: FloatArray) -> FloatArray:
    """Give the faintest star that is seen high up, well away from the Moon."""
    light = sky_light(
        Lights(sun_deg, moon[1], moon[2]),
        zenith_mag=scene.conditions.zenith_mag,
        extinction_mag=scene.conditions.extinction_mag,
        altitude_deg=np.full(len(sun_deg), _GAZE_DEG),
        moon_distance_deg=np.full(len(sun_deg), 70.0),
        sun_distance_deg=np.full(len(sun_deg), 90.0),
    )
    return naked_eye_limit(light.total) - scene.conditions.observer.behind_practised_mag


def _gaze(azimuth_deg: float, altitude_deg: float, moon: FloatArray) -> float:
    """Give which way to look: some fists beside the radiant, on the side away from the Moon."""
    sides = np.arange(0.0, 360.0, 15.0)
    high = np.full(len(sides), _GAZE_DEG)
    from_radiant = horizontal_separation_deg(azimuth_deg, altitude_deg, sides, high)
    from_moon = horizontal_separation_deg(moon[0], moon[1], sides, high)
    shine = np.where(moon[1] > 0.0, np.minimum(from_moon, 90.0), 0.0)
    return float(sides[np.argmin(np.abs(from_radiant - _FROM_RADIANT_DEG) - 0.5 * shine)])


def _words(rate: float, gaze_deg: float, moon: FloatArray) -> str:
    """Say how many, and which way to look."""
    shown = "fewer than one" if rate < 1.0 else f"about {_rounded(rate)}"
    light = ", with the Moon up" if moon[1] > 0.0 and moon[2] < 120.0 else ""
    return f"{shown} an hour{light}; look {compass_point(gaze_deg, 8)}, {_GAZE_DEG:.0f}° high"


def _rounded(rate: float) -> int:
    """Round as well as such a number is known."""
    return round(rate) if rate < 10.0 else 5 * round(rate / 5.0)
