"""Reads the sentences of a guide map and computes by other means whether they are true.

Directions come from astropy (its own catalogue-to-horizon chain) or from the answer's keys; angles
by plain trigonometry. Nothing of the words' own making is used.
"""

import math
import re
from datetime import datetime
from typing import Any, Final

from astropy import units as u
from astropy.coordinates import AltAz, EarthLocation, SkyCoord
from astropy.time import Time
from astropy.utils import iers

from companion.sky import Target

# What an eye with a fist at arm's length can judge (common practice, no source).
JUDGED_DEG: Final = 2.0  # of a height said in quarters of a fist
JUDGED_PART: Final = 0.14  # of a length
_POINTS: Final = (
    "north",
    "north-east",
    "east",
    "south-east",
    "south",
    "south-west",
    "west",
    "north-west",
)
_NUMBERS: Final = {
    "a": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9,
}  # fmt: skip
_PARTS: Final = {"a quarter": 0.25, "half": 0.5, "three quarters": 0.75}
_SEEN: Final = {
    "up": 0, "up and to the right": 45, "to the right": 90, "down and to the right": 135,
    "down": 180, "down and to the left": 225, "to the left": 270, "up and to the left": 315,
}  # fmt: skip

Direction = tuple[float, float]  # azimuth and altitude, degrees


def seen(target: Target, utc: datetime, latitude_deg: float, longitude_deg: float) -> Direction:
    """Give a star's azimuth and altitude by astropy, without air."""
    iers.conf.auto_download = False
    iers.conf.auto_max_age = None
    iers.conf.iers_degraded_accuracy = "ignore"
    place = EarthLocation(lat=latitude_deg * u.deg, lon=longitude_deg * u.deg)
    sky = SkyCoord(ra=target.ra_deg * u.deg, dec=target.dec_deg * u.deg)
    there = sky.transform_to(AltAz(obstime=Time(utc), location=place))
    return float(there.az.deg), float(there.alt.deg)


def fists_deg(text: str) -> float:
    """Read ``two and three quarter fists``, ``a fist and a half``, ``half a fist``, in degrees."""
    text = text.strip().removeprefix("about ")
    small = {"two fingers": 2.0, "a finger": 1.5, "less than a finger": 0.5}
    if text in small:
        return small[text]
    if match := re.fullmatch(r"(a quarter|half|three quarters) (?:of )?a fist", text):
        return 10.0 * _PARTS[match[1]]
    match = re.fullmatch(r"(\w+)(?: and (a half|a quarter|three quarter))? fists", text)
    if match is None:
        match = re.fullmatch(r"(a) fist(?: and (a half|a quarter|three quarters))?", text)
    assert match is not None, text
    rest = {
        None: 0.0,
        "a half": 0.5,
        "a quarter": 0.25,
        "three quarter": 0.75,
        "three quarters": 0.75,
    }
    return 10.0 * (_NUMBERS[match[1]] + rest[match[2]])


def apart_deg(one: Direction, other: Direction) -> float:
    """Give the angle between two directions: the haversine formula."""
    d_az, d_alt = math.radians(other[0] - one[0]), math.radians(other[1] - one[1])
    low, high = math.radians(one[1]), math.radians(other[1])
    half = math.sin(d_alt / 2) ** 2 + math.cos(low) * math.cos(high) * math.sin(d_az / 2) ** 2
    return math.degrees(2.0 * math.asin(min(1.0, math.sqrt(half))))


def bearing_deg(origin: Direction, towards: Direction) -> float:
    """Give the direction from one place to another, clockwise from up as one faces it."""
    d_az = math.radians(towards[0] - origin[0])
    low, high = math.radians(origin[1]), math.radians(towards[1])
    right = math.sin(d_az) * math.cos(high)
    above = math.cos(low) * math.sin(high) - math.sin(low) * math.cos(high) * math.cos(d_az)
    return math.degrees(math.atan2(right, above)) % 360.0


def stands_as_told(text: str, where: Direction) -> bool:
    """Say whether ``in the south-east, four fists up`` is true of a direction."""
    if "nearly overhead" in text:
        return where[1] > 76.0
    match = re.search(r"in the ([a-z-]+), ([a-z ]+?) up\b", text)
    assert match is not None, text
    off_deg = abs((where[0] - 45.0 * _POINTS.index(match[1]) + 180.0) % 360.0 - 180.0)
    return off_deg <= 23.0 and abs(fists_deg(match[2]) - where[1]) <= JUDGED_DEG


def faces_as_told(text: str, where: Direction) -> bool:
    """Say whether ``Face north, lean back`` brings a direction in front of one."""
    match = re.match(r"Face ([a-z-]+)(, lean back)?", text)
    assert match is not None, text
    off_deg = abs((where[0] - 45.0 * _POINTS.index(match[1]) + 180.0) % 360.0 - 180.0)
    return off_deg <= 23.0 and (match[2] is not None) == (where[1] > 55.0)


def goes_as_told(text: str, begin: Direction, last: Direction) -> bool:
    """Say whether ``on down and to the right`` is how a line from one place goes on at another."""
    on = (bearing_deg(last, begin) + 180.0) % 360.0
    match = re.search(r"\b(?:on|and on) ((?:up|down|to the|towards the)[a-z -]*?)(?:,|$)", text)
    assert match is not None, text
    said = match[1]
    if said in _SEEN:
        return abs((on - _SEEN[said] + 180.0) % 360.0 - 180.0) <= 23.5
    assert said.startswith("towards the "), said
    return last[1] > 66.0


def fists_along(text: str) -> float:
    """Read how far to go on."""
    match = re.search(r"\(([a-z ]+ f(?:ist|ists|ingers?)(?: and [a-z ]+)?)\):", text) or re.search(
        r"about ([a-z ]+ fists?(?: and [a-z ]+)?):", text
    )
    assert match is not None, text
    return fists_deg(match[1])


def lengths_told(lead: dict[str, Any], own_deg: float, along_deg: float) -> bool:
    """Say whether the multiple of the group's own length is what is left to go."""
    if lead["lengths"] is None:
        return True
    return abs(float(lead["lengths"]) * own_deg - along_deg) <= max(1.0, JUDGED_PART * along_deg)
