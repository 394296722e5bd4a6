"""Plausible mounts, instruments, sightings and doubts: nothing here is a check value."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

from companion.finding import Eyepiece, Finder, Instrument, InstrumentKind, Viewing
from companion.instant import AlignmentFacts, NextSightingFacts, SightingFacts, StayFacts
from companion.mount import Dial, Doubt, DoubtKind, Fitting, Mount, Parameter, Sighting
from window.facts import UTC_NOW

MOUNT = Mount("wooden mount", Dial(step_deg=1.0), reach_high_deg=85.0)
SCOPE = Instrument(
    "150 mm f/8",
    InstrumentKind.TELESCOPE,
    150.0,
    focal_mm=1200.0,
    eyepieces=(Eyepiece("25 mm", 25.0, 52.0), Eyepiece("9 mm", 9.0, 52.0)),
    finder=Finder("8×50 finder", 6.0, 8.0, 50.0, Viewing.TURNED),
    viewing=Viewing.TURNED,
)
BINOCULARS = Instrument("10×50", InstrumentKind.BINOCULARS, 50.0, 10.0, 6.5)
STAYS = (
    StayFacts("8×50 finder", 6.0, 760.0, "down and left", "turned upside down"),
    StayFacts("25 mm", 1.08, 137.0, "down and left", "turned upside down"),
    StayFacts("9 mm", 0.39, 49.0, "down and left", "turned upside down"),
)


def sighted(number: int, name: str, off_deg: float, **changes: Any) -> SightingFacts:
    base = SightingFacts(
        number=number,
        name=name,
        utc=UTC_NOW - timedelta(minutes=30 - number),
        azimuth_text=f"{40 * number}½",
        altitude_text=f"{20.3 + 7 * number:.1f}",
        azimuth_residual_deg=off_deg * 0.8,
        altitude_residual_deg=-off_deg * 0.6,
        residual_deg=off_deg,
        set_aside=False,
        weak=False,
    )
    return replace(base, **changes)


PARAMETERS = (
    Parameter("azimuth_zero", 7.2, 0.21, 103.9),
    Parameter("altitude_zero", -0.42, 0.11, 2.0),
    Parameter("tilt_north", 0.31, 0.2, 1.0),
    Parameter("tilt_east", -0.6, 0.4, 1.0),
    Parameter("cone", 0.02, 0.29, 0.3),
    Parameter("skew", 0.0, 0.29, 0.3),
    Parameter("sag", 0.0, 0.1, 0.1),
)
NEXT = NextSightingFacts(
    "Capella",
    "hip:24608",
    "64½",
    "23.1",
    "Capella helps most: the least certain aim in the queue would be within 0.4°, not 1.2°.",
    57.2,
    22.8,
)


def _questioned(*numbers: int) -> tuple[Sighting, ...]:
    return tuple(Sighting(UTC_NOW, "", "", 0.0, 0.0, 0.0, 0.0, number=one) for one in numbers)


STAR_DOUBT = Doubt(
    DoubtKind.STAR,
    _questioned(3),
    "Vega does not fit the other sightings: 24° off.",
    "The readings fit Deneb, 0.2°. Was it that?",
    (Fitting("Deneb", "hip:102098", 40.0, 70.0, 0.2),),
)
BUMP_DOUBT = Doubt(
    DoubtKind.BUMP,
    _questioned(1, 2),
    "Between Vega and Altair the dials jumped, by +4.0° in azimuth and 0.0° in altitude.",
    "If something was bumped, set the 2 earlier sightings aside: nothing is deleted.",
)
ONE_SIDE_DOUBT = Doubt(
    DoubtKind.ONE_SIDE,
    _questioned(1, 2),
    "All sightings lie within 12° of each other: aims elsewhere in the sky are less sure.",
    "Sight a star at least 40° away, best in another direction and at another height.",
)
FITTED = AlignmentFacts(
    1,
    0.3,
    "aligned on 3 stars, 95% of aims within 18′",
    (
        sighted(1, "compass", 2.1, weak=True, altitude_residual_deg=None, altitude_text=""),
        sighted(2, "Arcturus", 0.12),
        sighted(3, "Vega", 0.21, azimuth_residual_deg=-0.2),
        sighted(4, "Altair", 0.08, altitude_residual_deg=0.05),
        sighted(5, "Deneb", 4.3, set_aside=True),
    ),
    PARAMETERS,
    (),
    NEXT,
)
