"""Readings that are typed: as a sighting of a target, or to learn what they point to."""

from datetime import datetime
from functools import partial
from typing import TYPE_CHECKING

from companion.advice import AdviceError
from companion.mount import PLAIN_MOUNT, parse_reading
from companion.window.aim.words import numbers, withheld
from companion.window.forms.pair_sheet import PairPrompt

if TYPE_CHECKING:
    from companion.instant import AimFacts
    from companion.live import Evening
    from companion.mount import Mount

_DIALS = ("ALTITUDE DIAL", "AZIMUTH DIAL")
_TRUE = ("ALTITUDE", "AZIMUTH FROM TRUE NORTH")
_FAR_DEG, _NEAR_DEG = 20.0, 6.0  # off where it should be; near where the other should be
_HOW = "Type what the dials show: 142½, 142 1/2, 142.5 or 142°30′. One of them is enough."


def _checks(evening: "Evening") -> tuple[partial[float], partial[float]]:
    mount = evening.choices.mount or PLAIN_MOUNT
    return partial(_altitude, mount), partial(parse_reading, mount.azimuth, what="azimuth")


def _altitude(mount: "Mount", text: str) -> float:
    """Understand an altitude reading; of one that only the azimuth dial can show, say that."""
    try:
        return parse_reading(mount.altitude, text, what="altitude")
    except AdviceError as error:
        try:
            parse_reading(mount.azimuth, text)
        except AdviceError:
            raise error from None
        raise AdviceError(
            error.wrong, f"{error.do} If it is the azimuth: that comes second."
        ) from None


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
    how = f"If that was not the moment, centre it and press s again. {_HOW}"
    return PairPrompt(
        head, how, _DIALS, checks, _Sighting(evening, aim, latest.utc).take, anew, _aimed(aim)
    )


def _too_early(_altitude: str, _azimuth: str) -> None:
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
        f"For the moment at which you found it. {_HOW}",
        _DIALS,
        _checks(evening),
        _Sighting(evening, aim, utc).take,
        expected=_aimed(aim),
    )


class _Sighting:
    """Takes the readings of a sighting; asks once about those that look exchanged."""

    def __init__(self, evening: "Evening", aim: "AimFacts", utc: datetime) -> None:
        self._evening, self._aim, self._utc = evening, aim, utc
        self._asked: tuple[str, str] | None = None

    def take(self, altitude: str, azimuth: str) -> None:
        """Take both readings as typed; the same a second time means that they are right."""
        if self._asked != (altitude, azimuth) and self._look_exchanged(altitude, azimuth):
            self._asked = altitude, azimuth
            raise AdviceError(
                "This looks like azimuth and altitude the other way round.",
                "The altitude comes first. Enter again takes them as they are.",
            )
        self._evening.mounts.sight(self._aim, self._utc, altitude=altitude, azimuth=azimuth)

    def _look_exchanged(self, altitude: str, azimuth: str) -> bool:
        """Tell whether the second reading is what the altitude dial should show, not the first.

        Where the azimuth is known as well, the first one has to be what that should show.
        """
        reading, mount = self._aim.reading, self._evening.choices.mount
        if reading is None or mount is None or not altitude.strip() or not azimuth.strip():
            return False
        high, side = (
            parse_reading(mount.altitude, altitude),
            parse_reading(mount.azimuth, azimuth),
        )
        if abs(high - reading.altitude_deg) < _FAR_DEG:
            return False
        known = reading.radius95_deg < _FAR_DEG
        exchanged = not known or _apart(high, reading.azimuth_deg) < _NEAR_DEG
        return exchanged and abs(side - reading.altitude_deg) < _NEAR_DEG


def _apart(first_deg: float, second_deg: float) -> float:
    return abs((first_deg - second_deg + 180.0) % 360.0 - 180.0)


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


def _aimed(aim: "AimFacts | None") -> tuple[str, str]:
    """Remind of what the aim was: the difference is what the sighting tells."""
    if aim is None or aim.reading is None or aim.sun_danger:
        return "", ""
    altitude, azimuth = numbers(aim)
    return f"the aim was {altitude}°", f"the aim was {azimuth}°"


def look_pair(evening: "Evening") -> PairPrompt:
    """Ask for both readings of the place that the tube points to."""
    dials = evening.choices.mount is not None
    checks = _checks(evening)

    def take(altitude: str, azimuth: str) -> None:
        if not azimuth.strip() or not altitude.strip():
            raise AdviceError(
                "One reading alone points to no place.", "Type both.", "What was typed is kept."
            )
        evening.look_up((checks[1](azimuth), checks[0](altitude)))

    return PairPrompt(
        "What am I looking at?",
        "Type what both dials show." if dials else "Type both directions, in degrees.",
        _DIALS if dials else _TRUE,
        checks,
        take,
    )
