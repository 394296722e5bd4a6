"""What comes, as fixed facts for the window."""

from datetime import date, datetime, timedelta

from PySide6.QtCore import Signal

from companion.events import AuroraLook, Day, Event, EventKind
from companion.live import Coming, ComingQuestion, ComingView, KpNow, KpSaid, Reach
from companion.sky import LOON_BARRENS
from window.standing_in import StandIn, Told

AURORA = AuroraLook(54.0, 1.7, 6.1, 357.0, None, None, "none", "not to be expected at this Kp")


def events(now: datetime) -> tuple[Event, ...]:
    minutes = timedelta(minutes=1)
    return (
        Event(
            EventKind.CONJUNCTION, "moon+saturn", "Moon and Saturn, 2.4° apart", now + 8 * minutes,
            True, "41° up in the south", bodies=("Moon", "Saturn"),
            keys=("body:saturn", "body:moon"), best_utc=now + 8 * minutes, best_altitude_deg=41.0,
            best_azimuth_deg=171.0, instrument="binoculars",
        ),
        Event(
            EventKind.METEOR_SHOWER, "ORI", "Orionids at their peak", now + 300 * minutes, True,
            "about 15 an hour; look south-east, 55° high", bodies=("Orionids",),
            keys=("icrs:95.00000+16.00000",), best_utc=now + 300 * minutes, best_altitude_deg=40.0,
            best_azimuth_deg=120.0,
        ),
        Event(
            EventKind.SOLAR_ECLIPSE, "partial", "Partial eclipse of the Sun",
            now + timedelta(days=12), True, "52° up in the south-west; 34% covered",
            bodies=("Sun", "Moon"), keys=("body:sun",), obscuration=0.34,
            caution="Never look at the Sun without a certified solar filter in front of the "
            "optics. Eclipse glasses are for the bare eye only.",
            best_utc=now + timedelta(days=12), best_altitude_deg=52.0, best_azimuth_deg=225.0,
        ),
        Event(
            EventKind.OCCULTATION, "78265", "The Moon covers Fang", now + timedelta(days=20), False,
            "below the horizon", bodies=("Moon", "Fang"), keys=("hip:78265",),
        ),
    )  # fmt: skip


class FakeKp(StandIn):
    """Nobody has said any."""

    real = KpNow
    changed = Signal()

    def __init__(self, told: Told) -> None:
        super().__init__(told)
        self.held: KpSaid | None = None
        self.look, self.outdated = AURORA, False


class FakeComing(StandIn):
    """All is known already."""

    real = Coming
    changed = Signal()

    def __init__(self, told: Told, now: datetime) -> None:
        super().__init__(told)
        question = ComingQuestion(LOON_BARRENS, now, now + timedelta(days=366), None)
        days = tuple(
            Day(
                date(2026, 10, 10) + timedelta(days=at), 9.0 + 3.0 * ((at % 90) / 90.0),
                float(abs(at % 29 - 14)) * 0.7,
            )
            for at in range(366)
        )  # fmt: skip
        self.view: ComingView | None = ComingView(question, events(now), days)
        self.kp = FakeKp(told)
        self.readings = {events(now)[0].uid: "41.0° 187½°"}
        self.reach, self.share = Reach.NIGHT, None
        self.soon: Event | None = None

    def events(self) -> tuple[Event, ...]:
        return () if self.view is None else self.view.events
