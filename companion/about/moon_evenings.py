"""The coming evenings of the Moon: where the edge of its night stands, and what is at it."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import Final

import numpy as np

from companion.about.moon import moon_look
from companion.about.moon_ground import ground_of
from companion.about.record import MoonEvening, Terminator
from companion.about.seeing_power import Power
from companion.advice import AdviceError
from companion.arrays import FloatArray
from companion.sky import (
    CIVIL_DEG,
    MOON,
    SUN,
    Ephemeris,
    Site,
    TargetTable,
    load_moon_features,
    zone_of,
)

_EVENINGS: Final = 7
_LASTS: Final = timedelta(hours=5)  # an evening, from dusk on (common practice, no source)
_LOWEST_DEG: Final = 8.0  # lower than that the air blurs the Moon (common practice, no source)
_FROM: Final = timedelta(hours=15)  # by the mean sun: no dusk comes earlier but in polar night
_STEP, _STEPS = timedelta(minutes=30), 30
_DAY: Final = timedelta(days=1)
_MOST_NAMED: Final = 6
# What observers go to first (common practice, no source).
NOTABLE: Final = frozenset(
    {
        "Albategnius", "Alphonsus", "Archimedes", "Aristarchus", "Aristillus", "Aristoteles",
        "Arzachel", "Atlas", "Autolycus", "Bailly", "Bullialdus", "Cassini", "Catharina", "Clavius",
        "Cleomedes", "Copernicus", "Cyrillus", "Deslandres", "Encke", "Endymion", "Eratosthenes",
        "Eudoxus", "Fracastorius", "Furnerius", "Gassendi", "Geminus", "Grimaldi", "Hainzel",
        "Hercules", "Hevelius", "Hipparchus", "Janssen", "Julius Caesar", "Kepler", "Langrenus",
        "Letronne", "Longomontanus", "Macrobius", "Maginus", "Manilius", "Maurolycus", "Menelaus",
        "Messier", "Montes Alpes", "Montes Apenninus", "Montes Carpatus", "Montes Caucasus",
        "Montes Jura", "Mons Pico", "Mons Piton", "Petavius", "Piccolomini", "Pitatus", "Plato",
        "Plinius", "Posidonius", "Proclus", "Ptolemaeus", "Purbach", "Reinhold", "Rheita",
        "Schickard", "Schiller", "Stöfler", "Theophilus", "Timocharis", "Triesnecker", "Tycho",
        "Vendelinus", "Walther", "Wargentin",
    }
)  # fmt: skip


def coming_evenings(
    ephemeris: Ephemeris, site: Site, utc: datetime, power: Power
) -> tuple[MoonEvening, ...]:
    """Give the next seven evenings, tonight's first while it lasts.

    Each at the first half hour after dusk, of five hours, at which the Moon stands high enough; an
    evening without dusk has no such moment. Fewer where the ephemeris ends.
    """
    ahead = timedelta(hours=site.longitude_deg / 15.0)
    solar = utc.astimezone(UTC) + ahead - _FROM - _STEPS * _STEP + _DAY
    begun = solar.replace(hour=0, minute=0, second=0, microsecond=0) + _FROM - ahead
    found: list[MoonEvening] = []
    try:
        for number in range(_EVENINGS + 1):
            steps = [begun + number * _DAY + step * _STEP for step in range(_STEPS)]
            evening = _evening(ephemeris, site, steps, utc, power)
            found += [] if evening is None else [evening]
    except AdviceError:
        pass  # the ephemeris ends
    return tuple(found[:_EVENINGS])


def _evening(
    ephemeris: Ephemeris, site: Site, steps: Sequence[datetime], utc: datetime, power: Power
) -> MoonEvening | None:
    """Look at one evening; None where it is over."""
    table = TargetTable.of([SUN, MOON], steps[0])
    up = ephemeris.directions(site, steps, table)[:, :, 2]
    sun, moon = np.degrees(np.arcsin(np.clip(up, -1.0, 1.0))).T
    day = steps[0].astimezone(zone_of(site.time_zone)).date()
    dusk = _dusk(steps, sun)
    if dusk is None:
        return MoonEvening(day, None) if steps[-1] > utc else None
    if dusk + _LASTS <= utc:
        return None
    first = max(dusk, utc)
    for at, altitude in _moments(steps, moon, first, dusk + _LASTS):
        if altitude >= _LOWEST_DEG:
            return MoonEvening(day, _terminator(ephemeris, site, at, altitude, power))
    return MoonEvening(day, None)


def _dusk(steps: Sequence[datetime], sun_deg: FloatArray) -> datetime | None:
    """Give when the Sun goes under civil twilight's edge, to a minute."""
    under = np.flatnonzero(sun_deg < CIVIL_DEG)
    if not len(under):
        return None
    row = int(under[0])
    if row == 0:
        return steps[0]
    before, after = float(sun_deg[row - 1]), float(sun_deg[row])
    return steps[row - 1] + (before - CIVIL_DEG) / (before - after) * _STEP


def _moments(
    steps: Sequence[datetime], moon_deg: FloatArray, first: datetime, last: datetime
) -> list[tuple[datetime, float]]:
    """Give the beginning of an evening and each half hour in it, with the Moon's altitude."""
    offsets = [(at - steps[0]) / _STEP for at in steps]
    begins = float(np.interp((first - steps[0]) / _STEP, offsets, moon_deg))
    later = zip(steps, moon_deg.tolist(), strict=True)
    return [(first, begins), *((at, altitude) for at, altitude in later if first < at <= last)]


def _terminator(
    ephemeris: Ephemeris, site: Site, utc: datetime, altitude_deg: float, power: Power
) -> Terminator:
    aspect = ephemeris.aspect("moon", utc, site)
    look = moon_look(aspect)
    ground = ground_of(
        aspect, load_moon_features(), power.resolution_arcsec, power.view.magnification
    )
    names = [ground.features.names[row] for row in ground.at_terminator()]
    names.sort(key=lambda name: name not in NOTABLE)  # and among equals the largest first
    morning = -look.colongitude_deg
    longitude = morning if look.waxing else morning + 180.0
    return Terminator(
        utc=utc,
        altitude_deg=altitude_deg,
        colongitude_deg=look.colongitude_deg,
        longitude_deg=(longitude + 180.0) % 360.0 - 180.0,
        rising=look.waxing,
        features=tuple(names[:_MOST_NAMED]),
    )
