"""Mounts, sightings and what is known of a mount as plain records; the fit stands elsewhere."""

from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum
from typing import Final

_UNDETERMINED: Final = 0.8  # share of its prior sigma above which a parameter is not yet known


class CountedFrom(StrEnum):
    """Where an altitude dial counts from; the value is the word shown."""

    HORIZON = "horizon"
    ZENITH = "zenith"


@dataclass(frozen=True, slots=True)
class Dial:
    """One scale of a mount.

    ``clockwise`` of an azimuth dial: readings grow as the tube turns from north to east. Of an
    altitude dial: readings grow as the tube rises (or, counted from the zenith, as it sinks).
    ``zero_deg`` is what the dial shows at true north, or at its altitude origin. A level that
    lies on the tube (``level_on_tube``, altitude only) measures against gravity, whatever the
    base under it does; a scale on the axis leans with the base. ``play_deg`` is how far the
    reading of one and the same star differs when it is approached from either side; None while
    nobody has measured it, which is not the same as none.
    """

    clockwise: bool = True
    zero_deg: float = 0.0
    low_deg: float = 0.0
    high_deg: float = 360.0
    step_deg: float = 1.0
    digital: bool = False
    counted_from: CountedFrom = CountedFrom.HORIZON
    level_on_tube: bool = False
    play_deg: float | None = None


def _altitude_dial() -> Dial:
    return Dial(low_deg=-10.0, high_deg=100.0, step_deg=0.1, digital=True, level_on_tube=True)


@dataclass(frozen=True, slots=True)
class Mount:
    """A manual altitude-azimuth mount with its two dials and its reach."""

    name: str
    azimuth: Dial = field(default_factory=Dial)
    altitude: Dial = field(default_factory=_altitude_dial)
    reach_low_deg: float = -5.0  # altitudes that the tube can be brought to
    reach_high_deg: float = 90.0
    cable_limit_deg: float | None = None  # total turn either way from the zero of the dial
    centring_sigma_deg: float = 0.05  # how well a star is brought to the centre
    levelled_with_care: bool = False
    axis_height_m: float | None = None  # of the altitude axis above the ground


LEVELLED = "set-up:levelled"  # key of the record that a base was levelled: it has no reading


@dataclass(frozen=True, slots=True)
class Sighting:
    """A known direction centred in the eyepiece, with what the dials showed.

    ``azimuth_deg`` and ``altitude_deg`` are the true azimuth and the refracted altitude of the
    object at ``utc``. Either reading may be missing. ``weak`` marks compass and level set-up; that
    the base was levelled is such a record, too, with the key ``LEVELLED``: it holds until it is
    set aside, and no longer than the night.
    """

    utc: datetime
    name: str
    target_key: str
    azimuth_deg: float
    altitude_deg: float
    azimuth_reading_deg: float | None
    altitude_reading_deg: float | None
    sigma_deg: float | None = None
    set_aside: bool = False
    weak: bool = False
    number: int = 0  # identity in the journal
    kept: bool = False  # somebody is sure of it: it counts, whatever contradicts it


@dataclass(frozen=True, slots=True)
class Parameter:
    """One effect: its value, its sigma now and the sigma that it had before any sighting."""

    name: str
    value_deg: float
    sigma_deg: float
    prior_sigma_deg: float

    @property
    def determined(self) -> bool:
        """Tell whether the sightings say more of it than was held before."""
        return self.sigma_deg < _UNDETERMINED * self.prior_sigma_deg


# Two scales on the axes of a mount of which nothing else is known.
PLAIN_MOUNT = Mount("plain dials", altitude=Dial(low_deg=-90.0, high_deg=180.0, step_deg=0.3))
