"""The sheet that visitors take home."""

from collections.abc import Sequence
from datetime import timedelta
from typing import Final

from companion.finding import stand_words
from companion.road.evening import Evening
from companion.road.looks import LOOKS, USUAL
from companion.road.stops import Sheet, SheetLead
from companion.sky import Ephemeris

_WEEK: Final = timedelta(days=7)
_THINGS: Final = 3
_POINTS: Final = 4
_MOON_UP_DEG, _MOON_LIT = 10.0, 0.03


def sheet_of(
    ephemeris: Ephemeris, evening: Evening, saw: Sequence[str], planned: Sequence[str]
) -> Sheet:
    """Give the sheet of an evening.

    Parameters
    ----------
    ephemeris : Ephemeris
        For the sky of a week later.
    evening : Evening
        The sky as the visitors stand.
    saw, planned : sequence of str
        What the journal has of tonight, and what the program has.
    """
    group = evening.group
    return Sheet(
        utc=evening.moment.utc,
        group="" if group is None else group.called,
        group_key="" if group is None else group.key,
        looks="" if group is None else LOOKS.get(group.key, USUAL)[0],
        points=tuple(
            SheetLead(lead.target.name, lead.sentence, lead.azimuth_deg, lead.altitude_deg)
            for lead in evening.leads[:_POINTS]
        ),
        saw=tuple(saw),
        planned=tuple(planned),
        next_week=_next_week(ephemeris, evening),
    )


def _next_week(ephemeris: Ephemeris, evening: Evening) -> tuple[str, ...]:
    """Give three things for the eye, as they stand at the same hour a week later."""
    moment = ephemeris.moment(evening.moment.site, evening.moment.utc + _WEEK)
    later = evening.at(moment)
    found = [
        f"{target.name}: the steady light {stand_words(place.vector)}."
        for target, place in later.planets[:1]
    ]
    moon = later.moon
    if moon.altitude_deg >= _MOON_UP_DEG and moon.lit_fraction >= _MOON_LIT:
        found.append(f"The Moon, {stand_words(later.moon_vector)}: which side of it is lit?")
    if later.group is not None:
        called = later.group.called
        found.append(f"{called[:1].upper()}{called[1:]}: has it moved since tonight?")
    found += [lead.sentence for lead in later.leads]
    found.append("Where the Sun sets: what on the horizon marks it?")
    found.append("The brightest star that you find: what colour is it?")
    found.append("A fist at arm's length is ten degrees: how many up to the brightest star?")
    return tuple(found[:_THINGS])
