"""One turn of a host's evening: where it stands, through what, what is said, who needs a step."""

from collections.abc import Sequence
from datetime import datetime
from typing import Final

from companion.about import AboutQuestion, about, power_of, saying_of
from companion.finding import (
    Instrument,
    InstrumentKind,
    Place,
    azimuth_altitude_deg,
    eyepiece_height_m,
    face_words,
    stand_words,
)
from companion.road.choice import BODY_HIGH_DEG, HIGH_DEG
from companion.road.evening import Evening
from companion.road.looks import LOOKS, USUAL
from companion.road.stops import HostRequest, Stop
from companion.sky import SUN_UP_DEG, Catalogue, Ephemeris, Target

ANOTHER_PART_DEG: Final = 75.0
_CHILD_M, _STEP_M = 1.15, 1.65
_GONE: Final = "It stands too low now: go on to the next."
_SUN_UP: Final = (
    "The Sun is up: look for nothing near it, and through nothing. A glance blinds for good."
)


class StopTeller:
    """Tells turns of one evening; what the eye finds is worked out once in a while.

    Parameters
    ----------
    ephemeris, catalogue
        Where things are.
    wanted : HostRequest
        Site, instrument, the height of the axis.
    """

    def __init__(self, ephemeris: Ephemeris, catalogue: Catalogue, wanted: HostRequest) -> None:
        self._ephemeris, self._catalogue, self._wanted = ephemeris, catalogue, wanted

    def evening(self, utc: datetime) -> Evening:
        """Give the sky of a moment."""
        asked = self._wanted.asked
        moment = self._ephemeris.moment(asked.site, utc)
        return Evening(self._catalogue, moment, asked.conditions)

    def stop(
        self,
        evening: Evening,
        target: Target,
        *,
        view: str = "",
        others: Sequence[Target] = (),
        turn: int = 0,
    ) -> Stop:
        """Tell one turn.

        Parameters
        ----------
        evening : Evening
            The sky at its beginning.
        target : Target
            What is shown.
        view : str, optional
            The eyepiece that suits it, where that is known.
        others : sequence of Target, optional
            What else could be shown, in order: one in another part of the sky is named for clouds.
        turn : int, optional
            Its number: those who wait look at something else each time.
        """
        asked = self._wanted.asked
        utc = evening.moment.utc
        question = AboutQuestion(target, asked.site, utc, asked.instrument, asked.conditions)
        page = about(self._ephemeris, question)
        (place,) = evening.finder.places(evening.moment, (target,))
        azimuth, altitude = azimuth_altitude_deg(place.vector)
        caution = _caution(evening, place)
        height = eyepiece_height_m(asked.instrument, altitude, self._wanted.axis_m)
        away = open_of(evening, [one for one in others if one.key != target.key], [azimuth])
        return Stop(
            target=target,
            begins_utc=utc,
            azimuth_deg=azimuth,
            altitude_deg=altitude,
            where="" if caution else stand_words(place.vector),
            face="" if caution else face_words(place.vector),
            view=_through(asked.instrument, view),
            saying=saying_of(page, power_of(asked.instrument, asked.conditions)),
            eye=_by_eye(evening, target, turn),
            if_clouds="" if away is None else away.name,
            eyepiece_m=None if caution else height,
            stand="" if caution else stand_of(height),
            caution=caution,
        )


def _by_eye(evening: Evening, target: Target, turn: int) -> str:
    """Give what people look at by eye while they queue: something else each time."""
    if _sun_is_up(evening):
        return ""
    found: dict[str, str] = {}
    if evening.group is not None:
        looks = LOOKS.get(evening.group.key, USUAL)[0]
        found[f"group:{evening.group.key}"] = f"{evening.group.called}: {looks}"
    found |= {lead.target.key: lead.sentence for lead in evening.leads}
    found |= {
        one.key: f"{one.name}, {stand_words(place.vector)}." for one, place in evening.planets[:2]
    }
    found.pop(target.key, None)  # they see that anyway
    return tuple(found.values())[turn % len(found)] if found else ""


def open_of(
    evening: Evening, targets: Sequence[Target], clouded_deg: Sequence[float]
) -> Target | None:
    """Give the first of some targets that stands well, away from clouded azimuths."""
    if not targets or _sun_is_up(evening):
        return None
    places = evening.finder.places(evening.moment, tuple(targets))
    for target, place in zip(targets, places, strict=True):
        azimuth, _altitude = azimuth_altitude_deg(place.vector)
        away = all(
            abs((azimuth - one + 180.0) % 360.0 - 180.0) >= ANOTHER_PART_DEG for one in clouded_deg
        )
        if away and _stands(target, place):
            return target
    return None


def _stands(target: Target, place: Place) -> bool:
    least = BODY_HIGH_DEG if target.body else HIGH_DEG
    return place.altitude_deg >= max(least, place.floor_deg)


def _sun_is_up(evening: Evening) -> bool:
    return evening.moment.body("sun").altitude_airless_deg > SUN_UP_DEG


def _caution(evening: Evening, place: Place) -> str:
    if _sun_is_up(evening):
        return _SUN_UP
    low = place.altitude_deg < max(BODY_HIGH_DEG / 2.0, place.floor_deg)
    return _GONE if low else ""


def _through(instrument: Instrument, view: str) -> str:
    """Say what it is looked at through: "150 mm f/8, 10 mm"."""
    if instrument.kind is InstrumentKind.EYE:
        return "the bare eye"
    return instrument.name if view in {"", instrument.name} else f"{instrument.name}, {view}"


def stand_of(height_m: float | None) -> str:
    """Say who needs what to look in."""
    if height_m is None:
        return ""
    if height_m < _CHILD_M:
        return "children stand, adults bend or sit"
    if height_m < _STEP_M:
        return "adults stand, a child needs a step; hold it"
    return "a broad step for everybody, lit red, one hand on it"
