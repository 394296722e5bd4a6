"""Distances of deep-sky objects, orbits of doubles, epochs of variables, classes of spectra."""

import json
from dataclasses import dataclass
from functools import cache
from typing import Any

from companion.about.orbit import Orbit
from companion.sky import resource


@dataclass(frozen=True, slots=True)
class Epoch:
    """When a variable star was at its minimum or maximum, and how it goes on from there.

    The n-th comes at ``julian_date`` + n ``period_days`` + n² ``day_change``. ``width_days`` is
    how long an eclipse lasts, ``rise`` the part of a period in which a pulsating star brightens;
    None where that is not told. ``uncertain_days`` is how far off it may be by now.
    """

    of: str  # "minimum" or "maximum"
    julian_date: float
    period_days: float
    day_change: float
    width_days: float | None
    uncertain_days: float
    rise: float | None
    source: str

    def after(self, julian_date: float) -> tuple[float, float]:
        """Give the last one before a moment and the next one, Julian dates."""
        number = int((julian_date - self.julian_date) / self.period_days)
        while self._at(number) <= julian_date:
            number += 1
        while self._at(number - 1) > julian_date:
            number -= 1
        return self._at(number - 1), self._at(number)

    def _at(self, number: int) -> float:
        return self.julian_date + self.period_days * number + self.day_change * number**2


@dataclass(frozen=True)
class Tables:
    """The parsed contents of ``resources/about.json``."""

    distances_ly: dict[str, float]  # by a target's key
    orbits: dict[int, tuple[Orbit, str]]  # with the source, by Hipparcos number
    epochs: dict[int, Epoch]
    spectra: dict[int, str]  # class and subclass: "A0"


@cache
def load_tables() -> Tables:
    """Read ``resources/about.json``, once in a process."""
    data: dict[str, Any] = json.loads(resource("about.json").read_text(encoding="utf-8"))
    return Tables(
        data["distances_ly"],
        {int(hip): (_orbit(row), row["source"]) for hip, row in data["orbits"].items()},
        {int(hip): Epoch(**row) for hip, row in data["epochs"].items()},
        {int(hip): spectrum for hip, spectrum in data["spectra"].items()},
    )


def _orbit(row: dict[str, Any]) -> Orbit:
    return Orbit(**{name: value for name, value in row.items() if name != "source"})
