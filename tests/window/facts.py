"""Plausible fixed facts of one instant: nothing here is computed, nothing is a check value."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from time import monotonic
from typing import Any

from companion.instant import (
    AimFacts,
    AlignmentFacts,
    CompassZone,
    DarkFacts,
    Light,
    NorthFacts,
    Reading,
    RowFacts,
    Snapshot,
    Trend,
    Turn,
)
from companion.journal import Outcome
from companion.live import QueueItem
from companion.sky import LOON_BARRENS, Kind, Target

ADT = timezone(timedelta(hours=-3), "ADT")
UTC_NOW = datetime(2026, 10, 10, 23, 14, 7, tzinfo=UTC)
SATURN = Target("body:saturn", "Saturn", Kind.PLANET, body="saturn", constellation="Psc")
VEGA = Target("hip:91262", "Vega", Kind.STAR, 279.23, 38.78, magnitude=0.03, constellation="Lyr")
MERCURY = Target("body:mercury", "Mercury", Kind.PLANET, body="mercury", constellation="Vir")


def deep(name: str, kind: Kind = Kind.GALAXY, magnitude: float = 8.0) -> Target:
    return Target(f"ngc:{name}", name, kind, 10.7, 41.3, magnitude=magnitude, constellation="And")


QUEUE = (
    SATURN,
    VEGA,
    deep("M 31, Andromeda Galaxy", magnitude=3.4),
    deep("Albireo", Kind.DOUBLE, 3.1),
    deep("M 57, Ring Nebula", Kind.PLANETARY, 8.8),
    deep("M 13", Kind.GLOBULAR, 5.8),
    deep("Double Cluster", Kind.OPEN_CLUSTER, 4.3),
    deep("Mizar and Alcor", Kind.DOUBLE, 2.2),
    deep("M 27, Dumbbell Nebula", Kind.PLANETARY, 7.4),
    deep("Pleiades", Kind.OPEN_CLUSTER, 1.2),
    deep("NGC 7000, North America Nebula", Kind.NEBULA, 4.0),
    deep("Almach", Kind.DOUBLE, 2.1),
)


def aim(**changes: Any) -> AimFacts:
    base = AimFacts(
        target=SATURN,
        azimuth_deg=171.23,
        altitude_deg=41.28,
        altitude_airless_deg=41.26,
        compass_deg=187.5,
        azimuth_rate_arcsec_per_s=14.2,
        altitude_rate_arcsec_per_s=1.6,
        trend=Trend.RISING,
        lead_s=0.0,
        sinks_utc=UTC_NOW + timedelta(hours=3, minutes=10),
        rises_utc=None,
        sets_utc=UTC_NOW + timedelta(hours=5),
        transit_utc=UTC_NOW + timedelta(minutes=40),
        never="",
        moon_distance_deg=64.2,
        sun_distance_deg=160.0,
        sun_danger=False,
        magnitude=0.9,
        size="18″",
        detail="rings tilted 7°",
        constellation="Pisces",
        turn=Turn("Vega", -96.2, -12.4, 9.6),
        reading=None,
    )
    return replace(base, **changes)


READING = Reading(
    azimuth_deg=187.5,
    altitude_deg=41.3,
    azimuth_text="187½",
    altitude_text="41.3",
    azimuth_remainder="a hair under",
    altitude_remainder="",
    radius95_deg=0.4,
    advice="95% within 0.4°: finder first",
)


def row(index: int, target: Target) -> RowFacts:
    altitude = 78.0 - (index * 7) % 96
    return RowFacts(
        key=target.key,
        azimuth_deg=(index * 53 + 171) % 360,
        altitude_deg=altitude,
        time_left_s=None if index % 5 == 2 else 11400.0 - index * 600 if altitude > 10 else 0.0,
        rises_in_s=None if altitude > 0 else 5400.0,
        moon_distance_deg=(index * 17 + 24) % 180,
        turn_deg=(index * 23) % 180,
        azimuth_reading_deg=(index * 53 + 171) % 360 + 0.5,
        altitude_reading_deg=altitude,
        sun_danger=False,
    )


NORTH = NorthFacts(
    declination_deg=-16.2,
    declination_sigma_deg=0.42,
    yearly_change_deg=0.12,
    horizontal_nt=17800.0,
    zone=CompassZone.PLAIN,
    expired=False,
    model="WMM2025, valid to 2030.0",
    deviation_deg=None,
    compass_for_true_north_deg=16.2,
    compass_for_target_deg=187.5,
    polaris_azimuth_deg=0.4,
    polaris_altitude_deg=45.5,
    polaris_gain=12.0,
    shadow_azimuth_deg=None,
)
DARK = DarkFacts(
    sun_altitude_deg=-14.0,
    phase="nautical twilight",
    next_phase="dark",
    next_phase_utc=UTC_NOW + timedelta(minutes=22),
    moon_up=False,
    moon_lit_fraction=0.31,
    moon_next="rises",
    moon_next_utc=UTC_NOW + timedelta(hours=2, minutes=56),
)
LIGHTS = (
    Light("Sun", "sun", 268.0, -14.0, -26.7, 1.0),
    Light("Moon", "moon", 62.0, -12.0, -11.0, 0.31),
)
ALIGNED = AlignmentFacts(0, 0.3, "aligned on 3 stars, 95% of aims within 18′")


def snapshot(**changes: Any) -> Snapshot:
    base = Snapshot(
        stamp=1,
        utc=UTC_NOW,
        local=UTC_NOW.astimezone(ADT),
        made_monotonic_s=monotonic(),
        preview=False,
        site=LOON_BARRENS,
        aim=aim(),
        rows=tuple(row(i, target) for i, target in enumerate(QUEUE)),
        lights=LIGHTS,
        north=NORTH,
        dark=DARK,
        alignment=ALIGNED,
        pointed=None,
        doubts=(),
    )
    return replace(base, **changes)


def item(at: int, target: Target) -> QueueItem:
    outcome = {1: Outcome.FOUND, 4: Outcome.NOT_SEEN, 5: Outcome.SKIPPED}.get(at, Outcome.WAITING)
    done = None if outcome is Outcome.WAITING else UTC_NOW - timedelta(minutes=32 - 3 * at)
    return QueueItem(target, outcome, done, "a smoke ring" if at == 4 else "")
