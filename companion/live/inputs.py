"""Inputs that are alive: what a receiver or an encoder says, many times a minute.

They reach the choices and nothing else: nothing of them is remembered on disk, and a site or a
sighting that the person keeps is kept by the person.
"""

import math
from dataclasses import dataclass, replace

from companion.advice import AdviceError
from companion.live.clock import EveningClock
from companion.live.current_choices import CurrentChoices
from companion.sky import Site, position_text

_SAME_PLACE_DEG = 0.02  # 2 km: further away stand other trees (common practice, no source)


@dataclass(frozen=True, slots=True)
class LivePosition:
    """Where a receiver says that it stands; without a height the one before is kept."""

    latitude_deg: float
    longitude_deg: float
    elevation_m: float | None = None


@dataclass(frozen=True, slots=True)
class LiveReadings:
    """What both dials show, as encoders or a level say it."""

    azimuth_deg: float
    altitude_deg: float


LiveInput = LivePosition | LiveReadings


class LiveInputs:
    """Hands live inputs to the choices; knows no journal."""

    def __init__(self, choices: CurrentChoices, clock: EveningClock) -> None:
        self._choices, self._clock = choices, clock

    def take(self, given: LiveInput) -> None:
        """Take what is so now.

        Raises
        ------
        AdviceError
            If a position lies outside its range or a reading is no number; what was known before
            stands.
        """
        match given:
            case LivePosition():
                self._stand(given)
            case LiveReadings():
                self._point(given)

    def end_readings(self) -> None:
        """Know nothing of the dials any more: their sender is silent."""
        self._choices.change(replace(self._choices.record, pointed_deg=None))

    def _point(self, given: LiveReadings) -> None:
        pointed = (given.azimuth_deg, given.altitude_deg)
        if not all(map(math.isfinite, pointed)):
            raise AdviceError("The dials' sender gave no number.", "Look after its cable.")
        self._choices.change(replace(self._choices.record, pointed_deg=pointed))

    def _stand(self, given: LivePosition) -> None:
        record = self._choices.record
        if self._choices.needs_site or not _same_place(record.site, given):
            site, deviation_deg = _unnamed(given), None
        else:
            site, deviation_deg = _moved(record.site, given), record.compass_deviation_deg
        self._choices.go_to(site, deviation_deg)
        if site.time_zone != record.site.time_zone:
            self._clock.open_night()


def _same_place(site: Site, given: LivePosition) -> bool:
    east = (given.longitude_deg - site.longitude_deg + 180.0) % 360.0 - 180.0
    east *= math.cos(math.radians(site.latitude_deg))
    return math.hypot(given.latitude_deg - site.latitude_deg, east) < _SAME_PLACE_DEG


def _moved(site: Site, given: LivePosition) -> Site:
    """Keep name, horizon and weather of the place, take where exactly one stands."""
    height_m = site.elevation_m if given.elevation_m is None else given.elevation_m
    return replace(
        site,
        latitude_deg=given.latitude_deg,
        longitude_deg=given.longitude_deg,
        elevation_m=height_m,
    )


def _unnamed(given: LivePosition) -> Site:
    from companion.sky import time_zone_at  # brings numpy: not before the first frame

    name = position_text(given.latitude_deg, given.longitude_deg)
    zone = time_zone_at(given.latitude_deg, given.longitude_deg)
    return Site(name, given.latitude_deg, given.longitude_deg, given.elevation_m or 0.0, zone)
