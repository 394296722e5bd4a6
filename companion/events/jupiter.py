"""What Jupiter's moons do: in front of it, behind it, their shadows on it, and into its own."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from companion.about import moon_events
from companion.events.event import EventKind
from companion.events.scene import Draft, Scene
from companion.sky import Ephemeris

NEAR = timedelta(days=10)  # so far ahead they are told where all kinds are asked for
_AT_ONCE = timedelta(days=30)
_SUN_BELOW_DEG = -6.0
_WORDS = {
    "transit_begins": "moves in front of Jupiter",
    "transit_ends": "leaves Jupiter's face",
    "shadow_transit_begins": "casts its shadow on Jupiter",
    "shadow_transit_ends": "takes its shadow off Jupiter",
    "occultation_begins": "goes behind Jupiter",
    "occultation_ends": "comes out from behind Jupiter",
    "eclipse_begins": "enters Jupiter's shadow",
    "eclipse_ends": "leaves Jupiter's shadow",
}


def jupiter_moons(
    scene: Scene, ephemeris: Ephemeris, first: datetime, last: datetime
) -> list[Draft]:
    """Find all between two moments; there are some six a day."""
    return [
        Draft(
            EventKind.JUPITER_MOON,
            f"{event.moon.lower()}_{event.kind}",
            f"{event.moon} {_WORDS[str(event.kind)]}",
            scene.span.seconds(event.utc),
            ("jupiter",),
            sun_below_deg=_SUN_BELOW_DEG,
            bodies=(event.moon, "Jupiter"),
            keys=("body:jupiter",),
            instrument="telescope",
        )
        for begin, end in _parts(first, last)
        for event in moon_events(ephemeris, begin, end)
    ]


def _parts(first: datetime, last: datetime) -> Iterator[tuple[datetime, datetime]]:
    """Part a span, so that the arrays of many years stay small."""
    while first < last:
        until = min(first + _AT_ONCE, last)
        yield first, until
        first = until
