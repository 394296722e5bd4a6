"""What the Sun leaves of the night at one moment: its phase, and when the next one begins.

Twilights end with the Sun's centre 6°, 12° and 18° under the horizon, day with its upper limb at
the horizon (US Naval Observatory definitions).
"""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from companion.sky.conventions import ASTRONOMICAL_DEG, CIVIL_DEG, NAUTICAL_DEG, SUN_UP_DEG
from companion.sky.crossings import Seeker
from companion.sky.day_arc import Sky
from companion.sky.site import Site
from companion.sky.solar_system import SUN


class Phase(StrEnum):
    """Phases from day to night, as stable codes."""

    DAY = "day"
    CIVIL = "civil_twilight"
    NAUTICAL = "nautical_twilight"
    ASTRONOMICAL = "astronomical_twilight"
    DARK = "dark"


def phase_text(phase: Phase) -> str:
    """Say a phase in words: "civil twilight"."""
    return phase.value.replace("_", " ")


_FLOORS_DEG = (
    (Phase.DAY, SUN_UP_DEG),
    (Phase.CIVIL, CIVIL_DEG),
    (Phase.NAUTICAL, NAUTICAL_DEG),
    (Phase.ASTRONOMICAL, ASTRONOMICAL_DEG),
)


@dataclass(frozen=True, slots=True)
class NextPhase:
    """The phase that comes next, and when; no time where none comes within a day."""

    phase: Phase
    utc: datetime | None
    words: str  # "dark", "day", or "the Sun does not set" and the like


def phase_of(sun_altitude_airless_deg: float) -> Phase:
    """Give the phase that belongs to an altitude of the Sun's centre."""
    for phase, floor_deg in _FLOORS_DEG:
        if sun_altitude_airless_deg > floor_deg:
            return phase
    return Phase.DARK


def next_phase(sky: Sky, site: Site, utc: datetime) -> NextPhase:
    """Give the next phase after a moment.

    Raises
    ------
    AdviceError
        If the ephemeris does not cover the time.
    """
    now = phase_of(sky.moment(site, utc).body("sun").altitude_airless_deg)
    seeker, phases = Seeker(sky, site, SUN, utc), tuple(Phase)
    order = phases.index(now)
    found = []
    if order < len(_FLOORS_DEG):
        sinks = seeker.downward(_FLOORS_DEG[order][1])
        found += [(sinks, phases[order + 1])] if sinks else []
    if order > 0:
        rises = seeker.upward(_FLOORS_DEG[order - 1][1])
        found += [(rises, phases[order - 1])] if rises else []
    if not found:
        return NextPhase(now, None, _unchanging(now))
    when, phase = min(found)
    return NextPhase(phase, when, phase_text(phase))


def _unchanging(phase: Phase) -> str:
    """Say that a phase lasts all day and night."""
    if phase is Phase.DAY:
        return "the Sun does not set today"
    if phase is Phase.DARK:
        return "no twilight today"
    return f"{phase_text(phase)} all day and night"
