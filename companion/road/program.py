"""The host's evening: so many targets for a group, so many minutes each, in a good order."""

from typing import Final

from companion.advice import AdviceError, check_within
from companion.road.choice import Choice, begin_of, choose
from companion.road.sheet import sheet_of
from companion.road.stop import StopTeller, open_of
from companion.road.stops import HostRequest, Program, Sheet, Stop
from companion.sky import Catalogue, Ephemeris, Target

MOST_TARGETS: Final = 20
LONGEST_MIN: Final = 120.0


def program(ephemeris: Ephemeris, catalogue: Catalogue, wanted: HostRequest) -> Program:
    """Give a program of so many targets with so many minutes each, from now or from dusk on.

    Raises
    ------
    AdviceError
        If the numbers are none that an evening has.
    """
    _check(wanted)
    choice = choose(ephemeris, catalogue, wanted)
    teller = StopTeller(ephemeris, catalogue, wanted)
    stops = _told(teller, choice)
    planned = tuple(stop.full_name for stop in stops)
    sheet = sheet_of(ephemeris, teller.evening(choice.begins_utc), wanted.saw, planned)
    return Program(choice.begins_utc, wanted.minutes, stops, choice.spares, sheet, choice.words)


def stop_now(
    ephemeris: Ephemeris,
    catalogue: Catalogue,
    wanted: HostRequest,
    targets: tuple[Target, ...],
    *,
    turn: int,
    spares: tuple[Target, ...],
) -> Stop:
    """Tell one turn of several as it is at the moment that ``wanted`` asks for."""
    teller = StopTeller(ephemeris, catalogue, wanted)
    evening, others = teller.evening(wanted.asked.utc), (*targets[turn + 1 :], *spares)
    return teller.stop(evening, targets[turn], others=others, turn=turn)


def next_in_the_open(
    ephemeris: Ephemeris,
    catalogue: Catalogue,
    wanted: HostRequest,
    targets: tuple[Target, ...],
    clouded_deg: tuple[float, ...],
) -> Target | None:
    """Give the first of some targets that stands well now, away from clouded azimuths."""
    teller = StopTeller(ephemeris, catalogue, wanted)
    return open_of(teller.evening(wanted.asked.utc), targets, clouded_deg)


def visitors_sheet(
    ephemeris: Ephemeris, catalogue: Catalogue, wanted: HostRequest, planned: tuple[str, ...]
) -> Sheet:
    """Give the sheet alone, for the moment that ``wanted`` asks for, or for dusk."""
    teller = StopTeller(ephemeris, catalogue, wanted)
    utc = begin_of(ephemeris, wanted) or wanted.asked.utc
    return sheet_of(ephemeris, teller.evening(utc), wanted.saw, planned)


def _check(wanted: HostRequest) -> None:
    if not 1 <= wanted.targets <= MOST_TARGETS:
        raise AdviceError(
            f"{wanted.targets} targets are not an evening.", f"Give 1 to {MOST_TARGETS}."
        )
    if not 1.0 <= wanted.minutes <= LONGEST_MIN:
        raise AdviceError(
            f"{wanted.minutes:g} minutes a target is not a pace.", "Give 1 to 120 minutes."
        )
    if wanted.axis_m is not None:
        check_within("height of the axis", wanted.axis_m, 0.1, 5.0, " m")


def _told(teller: StopTeller, choice: Choice) -> tuple[Stop, ...]:
    """Tell every turn, each with the sky at its beginning."""
    targets = [stop.target for stop in choice.stops]
    return tuple(
        teller.stop(
            teller.evening(planned.start_utc),
            planned.target,
            view=choice.views.get(planned.target.key, ""),
            others=(*targets[turn + 1 :], *choice.spares),
            turn=turn,
        )
        for turn, planned in enumerate(choice.stops)
    )
