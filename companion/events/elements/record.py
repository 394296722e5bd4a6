"""Elements of one body as a plain record, and what was refused of a file."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import UTC, datetime, timedelta
from enum import StrEnum
from typing import Self

_JD_2000, _NOON_2000 = 2451545.0, datetime(2000, 1, 1, 12, tzinfo=UTC)
_DAY = timedelta(days=1)


class Family(StrEnum):
    """What the elements are of; the value begins the key."""

    COMET = "comet"
    MINOR = "minor"
    SATELLITE = "satellite"


# For how long after (or before) their epoch elements are good, and can be used at all.
GOOD: Mapping[Family, timedelta] = {
    Family.COMET: 100 * _DAY,
    Family.MINOR: 200 * _DAY,
    Family.SATELLITE: 3 * _DAY,
}
USABLE: Mapping[Family, timedelta] = {
    Family.COMET: 1500 * _DAY,
    Family.MINOR: 3000 * _DAY,
    Family.SATELLITE: 30 * _DAY,
}


@dataclass(frozen=True, slots=True)
class Elements:
    """What all of them have; ``numbers`` are those of the family.

    Comets and minor planets: ``perihelion_au``, ``eccentricity``, ``inclination_deg``,
    ``node_deg``, ``argument_deg`` (ecliptic and equinox of 2000), ``perihelion_jd``, and where
    they are known ``magnitude`` and ``slope``. Satellites: the fields of an orbit mean-elements
    message (CCSDS 502.0-B).
    """

    family: Family
    designation: str
    name: str
    epoch_jd: float  # TT; of satellites UTC
    numbers: Mapping[str, float]

    @property
    def key(self) -> str:
        """The key of the target, which is also the code of the mover."""
        return f"{self.family}:{self.designation}"

    @property
    def epoch_utc(self) -> datetime:
        """When they hold best."""
        return _NOON_2000 + timedelta(days=self.epoch_jd - _JD_2000)

    def age_words(self, utc: datetime) -> str:
        """Warn of elements too old, or not yet good; empty where they are good."""
        away = abs(utc - self.epoch_utc)
        if away <= GOOD[self.family]:
            return ""
        doubt = "too old to be used" if away > USABLE[self.family] else "old: the place is doubtful"
        return f"elements of {self.epoch_utc:%Y-%m-%d}, {doubt}"

    def as_plain(self) -> dict[str, object]:
        """Give what JSON can hold."""
        return asdict(self)

    @classmethod
    def of_plain(cls, plain: Mapping[str, object]) -> Self:
        """Read what ``as_plain`` gave."""
        numbers = plain["numbers"]
        if not isinstance(numbers, Mapping):
            raise TypeError("numbers are not an object")
        return cls(
            Family(str(plain["family"])),
            str(plain["designation"]),
            str(plain["name"]),
            float(str(plain["epoch_jd"])),
            {str(key): float(value) for key, value in numbers.items()},
        )


@dataclass(frozen=True, slots=True)
class Refused:
    """A line, or an object of a JSON file, that was not taken."""

    line: int  # from 1
    text: str  # its beginning
    reason: str


class NoElementsError(ValueError):
    """Why a line or object is refused; never leaves this package."""
