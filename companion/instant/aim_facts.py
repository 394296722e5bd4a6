"""Facts of a snapshot about the current target and about the rows of the queue."""

from collections.abc import Callable, Sequence

import numpy as np

from companion.arrays import FloatArray
from companion.finding import Optics
from companion.instant.aligner import RowReadings
from companion.instant.events import Events
from companion.instant.handling import handling_facts, looks_with
from companion.instant.sky_table import Instant
from companion.instant.snapshot import AimFacts, Reading, RowFacts, Trend, Turn
from companion.instant.sun_facts import past_sun_of, sun_danger
from companion.sky import (
    HORIZON_REFRACTION_DEG,
    SUN_DANGER_DEG,
    SUN_UP_DEG,
    Diurnal,
    Horizontal,
    Moment,
    Site,
    Target,
    TargetTable,
    air_of,
    airless_deg,
    constellation_name,
    constellation_of,
    disc_text,
    horizontal_separation_deg,
    ra_dec_of,
    size_text,
    stands_still,
    wrap_180,
)

ReadingOf = Callable[[float, float, Sequence[Optics]], Reading | None]
RowReadingsOf = Callable[[FloatArray, FloatArray], RowReadings | None]

_STILL_ARCSEC_PER_S = 0.5
_TRANSIT_HOUR_ANGLE_DEG = 2.5  # ten minutes either side
_FIST_DEG = 10.0


def row_facts(instant: Instant, readings_of: RowReadingsOf) -> tuple[RowFacts, ...]:
    """Give every row of the queue."""
    choices, sky, places = instant.choices, instant.sky, instant.places
    count, site = sky.queue_length, choices.site
    if not count:
        return ()
    azimuth, altitude = places.azimuth_deg[:count], places.altitude_deg[:count]
    diurnal = Diurnal.of(site.latitude_deg, azimuth, places.altitude_airless_deg[:count])
    low = float(airless_deg(choices.low_limit_deg, *air_of(site)))
    wait = np.where(altitude < 0.0, diurnal.seconds_until_above(-HORIZON_REFRACTION_DEG), np.inf)
    left = diurnal.seconds_until_below(low)
    still = [row for row, target in enumerate(choices.queue) if stands_still(target)]
    wait[still], left[still] = np.inf, np.where(altitude[still] > low, np.inf, 0.0)
    sun_up = float(places.altitude_airless_deg[sky.sun_row]) > SUN_UP_DEG
    danger = (_distance_to(sky.sun_row, count, places) < SUN_DANGER_DEG) & sun_up
    moon: list[float | None] = _distance_to(sky.moon_row, count, places).tolist()
    for row, target in enumerate(choices.queue):
        if target.body == "moon":
            moon[row] = None
    here = sky.target_row
    azimuths, altitudes = azimuth.tolist(), altitude.tolist()
    readings = readings_of(azimuth, altitude) or RowReadings(azimuths, altitudes, 0.5, 0.1)
    return tuple(
        map(
            RowFacts,
            [target.key for target in choices.queue],
            azimuths,
            altitudes,
            _finite(left),
            _finite(wait),
            moon,
            [None] * count if here is None else _distance_to(here, count, places).tolist(),
            danger.tolist(),
            readings.azimuth_deg,
            readings.altitude_deg,
            [readings.azimuth_step_deg] * count,
            [readings.altitude_step_deg] * count,
        )
    )


def _finite(values: FloatArray) -> list[float | None]:
    """Give the values, None where an event never comes."""
    found: list[float | None] = values.tolist()
    for row in np.flatnonzero(np.isinf(values)).tolist():
        found[row] = None
    return found


def _distance_to(row: int, count: int, places: Horizontal) -> FloatArray:
    """Give the angle of the first rows from another row, by the haversine (fast, any size)."""
    az, alt = np.radians(places.azimuth_deg), np.radians(places.altitude_deg)
    half = (
        np.sin((alt[:count] - alt[row]) / 2.0) ** 2
        + np.cos(alt[:count]) * np.cos(alt[row]) * np.sin((az[:count] - az[row]) / 2.0) ** 2
    )
    return np.asarray(np.degrees(2.0 * np.arcsin(np.sqrt(np.minimum(half, 1.0)))))


class AimMaker:
    """Makes the facts of the current target; keeps its constellation while it stays there."""

    def __init__(self, events: Events) -> None:
        self._events = events
        self._constellation: tuple[tuple[str, str], str] = (("", ""), "")

    def facts(
        self, instant: Instant, reading_of: ReadingOf, readings_of: RowReadingsOf
    ) -> AimFacts | None:
        """Give the facts of the target at the moment that the numbers are for."""
        choices, moment, target = instant.choices, instant.moment, instant.choices.target
        if target is None:
            return None
        table = TargetTable.of([target], moment.utc)
        place, rates = instant.ahead.horizontal(table), instant.ahead.rates(table)
        azimuth, altitude = float(place.azimuth_deg[0]), float(place.altitude_deg[0])
        sun_deg, danger = sun_danger(azimuth, altitude, instant)
        events = self._events.of_target(choices.site, target, moment.utc, choices.low_limit_deg)
        magnitude, size, detail = looks(target, moment)
        altitude_rate = float(rates.altitude_arcsec_per_s[0])
        reading = reading_of(azimuth, altitude, looks_with(instant))
        return AimFacts(
            target=target,
            azimuth_deg=azimuth,
            altitude_deg=altitude,
            altitude_airless_deg=float(place.altitude_airless_deg[0]),
            compass_deg=None
            if instant.blackout
            else (azimuth - instant.compass_offset_deg) % 360.0,
            azimuth_rate_arcsec_per_s=float(rates.azimuth_arcsec_per_s[0]),
            altitude_rate_arcsec_per_s=altitude_rate,
            trend=Trend.STILL
            if stands_still(target) and altitude >= 0.0
            else trend_of(choices.site, place, altitude_rate),
            lead_s=choices.lead_at(moment.utc),
            sinks_utc=events.sinks_utc if altitude > choices.low_limit_deg else None,
            rises_utc=events.rises_utc if altitude <= 0.0 else None,
            sets_utc=events.sets_utc,
            transit_utc=events.transit_utc,
            never=events.never,
            moon_distance_deg=(
                None if target.body == "moon" else _separation(place, instant, instant.sky.moon_row)
            ),
            sun_distance_deg=None if target.body == "sun" else sun_deg,
            sun_danger=danger,
            magnitude=magnitude,
            size=size,
            detail=detail,
            constellation=self._constellation_of(target, moment),
            turn=turn_of(instant, (azimuth, altitude), reading_of),
            reading=reading,
            now_deg=_now_deg(instant, (azimuth, altitude)),
            handling=handling_facts(
                instant, place, rates, reading, _last_reading(instant, readings_of)
            ),
        )

    def _constellation_of(self, target: Target, moment: Moment) -> str:
        if target.constellation:
            return constellation_name(target.constellation)
        key = (target.key, f"{moment.utc:%Y-%m-%d %H}")
        if self._constellation[0] != key:
            ra, dec = ra_dec_of(moment.apparent(TargetTable.of([target], moment.utc)))
            self._constellation = (key, constellation_name(str(constellation_of(ra, dec)[0])))
        return self._constellation[1]


def _last_reading(instant: Instant, readings_of: RowReadingsOf) -> tuple[float, float] | None:
    """Give what both dials show while they still stand at the last target."""
    row, places = instant.sky.last_row, instant.places
    if row is None or instant.choices.mount is None:
        return None
    found = readings_of(places.azimuth_deg[row : row + 1], places.altitude_deg[row : row + 1])
    return None if found is None else (found.azimuth_deg[0], found.altitude_deg[0])


def _now_deg(instant: Instant, ahead: tuple[float, float]) -> tuple[float, float]:
    row = instant.sky.target_row
    if row is None:
        return ahead
    return float(instant.places.azimuth_deg[row]), float(instant.places.altitude_deg[row])


def looks(target: Target, moment: Moment) -> tuple[float | None, str, str]:
    """Give magnitude, size and a few words about what is seen."""
    if not target.body:
        return target.magnitude, size_text(target.major_arcmin, target.minor_arcmin), ""
    facts = moment.facts(target.body)
    return (
        facts.magnitude,
        size_text(facts.diameter_arcsec / 60.0, None),
        disc_text(target.body, facts),
    )


def trend_of(site: Site, place: Horizontal, altitude_rate_arcsec_per_s: float) -> Trend:
    """Say where a target is going."""
    if float(place.altitude_deg[0]) < 0.0:
        return Trend.BELOW
    diurnal = Diurnal.of(site.latitude_deg, place.azimuth_deg, place.altitude_airless_deg)
    if abs(float(diurnal.hour_angle_deg[0])) < _TRANSIT_HOUR_ANGLE_DEG:
        return Trend.TRANSIT
    if abs(altitude_rate_arcsec_per_s) < _STILL_ARCSEC_PER_S:
        return Trend.STILL
    return Trend.RISING if altitude_rate_arcsec_per_s > 0.0 else Trend.SETTING


def turn_of(instant: Instant, to_deg: tuple[float, float], reading_of: ReadingOf) -> Turn | None:
    """Give the way from where the last target stands now to an azimuth and altitude."""
    last, row = instant.choices.last_target, instant.sky.last_row
    if last is None or row is None:
        return None
    start = float(instant.places.azimuth_deg[row]), float(instant.places.altitude_deg[row])
    turn = float(wrap_180(to_deg[0] - start[0]))
    past_sun = past_sun_of(instant, start, to_deg, reading_of)
    return Turn(last.name, turn, to_deg[1] - start[1], abs(turn) / _FIST_DEG, past_sun)


def _separation(place: Horizontal, instant: Instant, row: int) -> float:
    return float(
        horizontal_separation_deg(
            place.azimuth_deg[0],
            place.altitude_deg[0],
            instant.places.azimuth_deg[row],
            instant.places.altitude_deg[row],
        )
    )
