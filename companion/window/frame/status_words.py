"""What the status line says: when, where, how live, how dark, how far to be trusted."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from enum import Enum
from typing import TYPE_CHECKING

from companion.instant import Choices, Snapshot
from companion.sky import SUN_UP_DEG, clock_text, duration_text, zone_text

if TYPE_CHECKING:  # the events are read after the first frame
    from companion.events import Event

_SUN_UP = "Sun up: caps on while you turn"
STALE_S = 3.0  # a tick takes milliseconds and comes at least twice a second


class Freshness(Enum):
    """How live the numbers are; the value is the word shown."""

    LIVE = "live"
    PREVIEW = "preview"
    STALE = "stopped"
    COMING = "starting"
    HOMELESS = "no place is known yet"


@dataclass(frozen=True, slots=True)
class Status:
    """The parts of the status line, the most needed first."""

    time: str = ""
    site: str = ""
    fresh: Freshness = Freshness.COMING
    age: str = ""
    dark: str = ""
    trust: str = ""
    eyes: str = ""
    soon: str = ""  # what begins within minutes

    @property
    def live(self) -> str:
        """How live the numbers are, in words."""
        return f"{self.fresh.value} {self.age}".strip()


# What gives way in a narrow window, the least needed first: the site is where one stands.
_GIVES_WAY: tuple[Callable[["Status"], "Status"], ...] = (
    lambda one: replace(one, eyes=""),
    lambda one: replace(one, dark=one.dark.rpartition(" · ")[0]),  # the Moon, then the Sun
    lambda one: replace(one, dark=""),
    lambda one: replace(one, site=""),
    lambda one: replace(one, trust=one.trust.partition(", ")[0]),
    lambda one: replace(one, trust=""),
)


def fitted(status: Status, room: float, width: Callable[[Status], float]) -> Status:
    """Leave out whole what is least needed until the rest has room; no word is cut.

    ``width`` gives the width that a status takes, in the unit of ``room``.
    """
    for without in _GIVES_WAY:
        if width(status) <= room:
            break
        status = without(status)
    return status


def freshness(snapshot: Snapshot | None, now_s: float) -> Freshness:
    """Say how live a snapshot is; ``now_s`` is the monotonic clock."""
    if snapshot is None:
        return Freshness.COMING
    if now_s - snapshot.made_monotonic_s > STALE_S:
        return Freshness.STALE
    return Freshness.PREVIEW if snapshot.preview else Freshness.LIVE


def status(snapshot: Snapshot | None, now_s: float, *, homeless: bool = False) -> Status:
    """Give the parts of the status line; ``homeless`` while nobody said where one is."""
    if homeless:
        return Status(fresh=Freshness.HOMELESS)
    fresh = freshness(snapshot, now_s)
    if snapshot is None:
        return Status(fresh=fresh)
    age = ""
    if fresh is Freshness.STALE:
        age = f"{duration_text(now_s - snapshot.made_monotonic_s)} ago"
    local = snapshot.local
    return Status(
        time=f"{local:%H:%M:%S} {zone_text(local)}",
        site=snapshot.site.name,
        fresh=fresh,
        age=age,
        dark=dark_words(snapshot),
        trust=trust_words(snapshot),
    )


def soon_words(event: "Event", now: datetime) -> str:
    """Say what begins within minutes, and how it is put off."""
    starts = event.best_utc or event.start_utc or event.utc
    minutes = round((starts - now).total_seconds() / 60.0)
    when = "now" if minutes < 1 else f"in {minutes} min"
    return f"{event.title} {when} (comma puts it off)"


def dark_words(snapshot: Snapshot) -> str:
    """Say what Sun and Moon leave of the night: "dark, Moon rises 23:10"."""
    dark, zone = snapshot.dark, snapshot.local.tzinfo
    parts = [f"{_SUN_UP} · {dark.phase}" if dark.sun_altitude_deg > SUN_UP_DEG else dark.phase]
    if dark.next_phase and dark.next_phase_utc is not None:
        parts[0] += f", {dark.next_phase} at {clock_text(dark.next_phase_utc.astimezone(zone))}"
    moon = f"Moon {round(100 * dark.moon_lit_fraction)}% lit" if dark.moon_up else "Moon"
    if dark.moon_next_utc is not None:
        moon += f" {dark.moon_next} {clock_text(dark.moon_next_utc.astimezone(zone))}"
    elif not dark.moon_up:
        moon += " stays down"
    return f"{parts[0]} · {moon}"


def trust_words(snapshot: Snapshot) -> str:
    """Say how far the numbers can be trusted."""
    words = "true directions, no mount" if snapshot.alignment is None else snapshot.alignment.words
    count = len(snapshot.doubts)
    return words if not count else f"{words} · {count} doubt{'s' if count > 1 else ''}"


def banner(snapshot: Snapshot | None, choices: Choices, now_s: float, *, demo: bool) -> str:
    """Give the words of the band over everything; empty while the numbers are plainly live."""
    fresh = freshness(snapshot, now_s)
    if snapshot is None or fresh is Freshness.COMING:
        return ""
    if fresh is Freshness.STALE:
        age = duration_text(now_s - snapshot.made_monotonic_s)
        return f"THE NUMBERS STOPPED {age.upper()} AGO · DON'T AIM BY THEM"
    if fresh is Freshness.LIVE:
        return ""
    moment = f"{snapshot.local:%d %b %Y, %H:%M} {zone_text(snapshot.local)}"
    if demo and choices.preview_since_utc is not None:
        return f"DEMO EVENING · {moment} · NOT THE SKY OF NOW"
    return f"PREVIEW · {moment} · NOT THE SKY OF NOW · SHIFT T COMES BACK"
