"""Readings that are typed: as a sighting of a target, or to learn what they point to."""

from functools import partial
from typing import TYPE_CHECKING

from companion.advice import AdviceError
from companion.mount import PLAIN_MOUNT, parse_reading
from companion.window.aim.words import numbers, withheld
from companion.window.forms.pair_sheet import PairPrompt

if TYPE_CHECKING:
    from companion.instant import AimFacts
    from companion.live import Evening

_DIALS = ("AZIMUTH DIAL", "ALTITUDE DIAL")
_TRUE = ("AZIMUTH FROM TRUE NORTH", "ALTITUDE")
_HOW = "Type what the dials show: 142½, 142 1/2, 142.5 or 142°30′. One of them is enough."


def _checks(evening: "Evening") -> tuple[partial[float], partial[float]]:
    mount = evening.choices.mount or PLAIN_MOUNT
    return (
        partial(parse_reading, mount.azimuth, what="azimuth"),
        partial(parse_reading, mount.altitude, what="altitude"),
    )


def sight_pair(evening: "Evening") -> PairPrompt | None:
    """Ask for a sighting of the current target; None where there is none, or none is safe."""
    target, latest = evening.choices.target, evening.latest
    if target is None or refusal(evening):
        return None
    anew, checks = partial(sight_pair, evening), _checks(evening)
    aim = None if latest is None else latest.aim
    if latest is None or aim is None or aim.target.key != target.key:
        how = f"Bring it to the centre and press s: that is the moment. {_HOW}"
        return PairPrompt(f"Sighting of {target.name}", how, _DIALS, checks, _too_early, anew)
    head = f"Sighting of {target.name}, centred at {latest.local:%H:%M:%S}"
    how = f"If that was not the moment, centre it and press s again. {_HOW}{_aimed(aim)}"
    return PairPrompt(
        head, how, _DIALS, checks, partial(evening.mounts.sight, aim, latest.utc), anew
    )


def _too_early(_azimuth: str, _altitude: str) -> None:
    raise AdviceError(
        "The moment is not known yet.", "Centre it and press s.", "What was typed is kept."
    )


def found_pair(evening: "Evening") -> PairPrompt | None:
    """Ask for a sighting of what was found last, as it stood when it was found."""
    centred = evening.mounts.centred
    if evening.choices.mount is None or centred is None:
        return sight_pair(evening)
    aim, utc = centred
    return PairPrompt(
        f"Sighting of {aim.target.name}",
        f"For the moment at which you found it. {_HOW}{_aimed(aim)}",
        _DIALS,
        _checks(evening),
        partial(evening.mounts.sight, aim, utc),
    )


def refusal(evening: "Evening") -> str:
    """Say why no sighting can be taken now, and what to do; empty where one can."""
    target, latest = evening.choices.target, evening.latest
    aim = None if latest is None else latest.aim
    if evening.choices.mount is None:
        return "No mount is described yet: press 5, then d."
    if target is None:
        return "A sighting needs a target: press / and type a bright star."
    if evening.clock.stands_still:
        return (
            "The numbers are for another time, and a sighting is of now. Shift T comes back to now."
        )
    aimed = aim is not None and aim.target.key == target.key
    if aimed and aim is not None and withheld(aim, evening.choices.uncovered):
        return "It stands too near the Sun to be sighted: choose a star after dark."
    return ""


def _aimed(aim: "AimFacts | None") -> str:
    """Remind of what the aim was: the difference is what the sighting tells."""
    if aim is None or aim.reading is None or aim.sun_danger:
        return ""
    altitude, azimuth = numbers(aim)
    return f" The aim was {azimuth}° and {altitude}°."


def look_pair(evening: "Evening") -> PairPrompt:
    """Ask for both readings of the place that the tube points to."""
    dials = evening.choices.mount is not None
    checks = _checks(evening)

    def take(azimuth: str, altitude: str) -> None:
        if not azimuth.strip() or not altitude.strip():
            raise AdviceError(
                "One reading alone points to no place.", "Type both.", "What was typed is kept."
            )
        evening.look_up((checks[0](azimuth), checks[1](altitude)))

    return PairPrompt(
        "What am I looking at?",
        "Type what both dials show." if dials else "Type both directions, in degrees.",
        _DIALS if dials else _TRUE,
        checks,
        take,
    )
