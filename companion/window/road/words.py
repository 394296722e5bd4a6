"""What the screen of the road says, in words: pure text, without a widget."""

from collections.abc import Sequence
from datetime import datetime, tzinfo
from typing import TYPE_CHECKING

from companion.sky import altitude_text, azimuth_text, clock_text, compass_point
from companion.window.kit.facts import Fact
from companion.window.kit.row_list import Row

if TYPE_CHECKING:
    from companion.road import Road, Step

_TOOLS = {
    "nothing": "nothing at all",
    "eye": "the bare eye",
    "binoculars": "binoculars",
    "telescope": "the telescope",
}


def head(road: "Road") -> str:
    """Say how far somebody is, and what is special about the evening."""
    learned = f"{road.mastered} learned for good" if road.mastered else ""
    return " · ".join(filter(None, ("The road", road.words, learned)))


def facts(step: "Step", now: datetime, zone: tzinfo) -> tuple[Fact, ...]:
    """Give where to look, how high, with what, and when."""
    azimuth, altitude = step.look_azimuth_deg, step.look_altitude_deg
    there = "" if azimuth is None else compass_point(azimuth, 8)  # as the sentence says it
    more = "" if azimuth is None else f"{azimuth_text(azimuth, 1.0)}°"
    up = "" if altitude is None else f"{altitude_text(altitude, 1.0)}°"
    return (
        Fact("look to", there, more),
        Fact("altitude", up),
        Fact("with", _TOOLS[str(step.tool)]),
        Fact("waits until" if step.waits else "from", _until(step, now, zone)),
    )


def rows(steps: Sequence["Step"], now: datetime, zone: tzinfo) -> tuple[Row, ...]:
    """Say each step in a line; of those that wait, why and until when."""
    return tuple(
        Row(
            step.title,
            right=_until(step, now, zone),
            below=step.sentences[0] if step.waits else "",
            lead="" if step.waits else str(number),
        )
        for number, step in enumerate(steps, 1)
    )


def _until(step: "Step", now: datetime, zone: tzinfo) -> str:
    if step.waits_until is None or step.waits_until <= now:
        return "waits" if step.waits else ""
    local = step.waits_until.astimezone(zone)
    same_day = local.date() == now.astimezone(zone).date()
    return clock_text(local) if same_day else f"{local:%Y-%m-%d} {clock_text(local)}"
