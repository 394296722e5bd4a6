"""Events of the sky that are computed once and kept until they pass."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Generic, TypeVar

from companion.sky import (
    MOON,
    Crossings,
    Ephemeris,
    NextPhase,
    Site,
    Target,
    find_crossings,
    next_phase,
)

Answer = TypeVar("Answer")
_AGES = timedelta(minutes=20)  # a body moves on meanwhile by less than a minute of time


@dataclass(slots=True)
class _Kept(Generic[Answer]):
    key: object
    start: datetime
    end: datetime
    answer: Answer


class Remembered(Generic[Answer]):
    """One answer, valid from when it was computed to the first event in it."""

    def __init__(self) -> None:
        self._kept: _Kept[Answer] | None = None

    def get(
        self,
        key: object,
        utc: datetime,
        compute: Callable[[], Answer],
        events: Callable[[Answer], list[datetime | None]],
    ) -> Answer:
        """Give the kept answer, or compute it."""
        kept = self._kept
        if kept is None or kept.key != key or not kept.start <= utc < kept.end:
            answer = compute()
            ends = [event for event in events(answer) if event is not None and event > utc]
            kept = self._kept = _Kept(key, utc, min([utc + _AGES, *ends]), answer)
        return kept.answer


class Events:
    """The slow questions of a snapshot."""

    def __init__(self, ephemeris: Ephemeris) -> None:
        self._ephemeris = ephemeris
        self._aim: Remembered[Crossings] = Remembered()
        self._moon: Remembered[Crossings] = Remembered()
        self._dark: Remembered[NextPhase] = Remembered()

    def of_target(self, site: Site, target: Target, utc: datetime, low_deg: float) -> Crossings:
        """Give the next events of the current target."""
        return self._aim.get(
            (site, target, low_deg),
            utc,
            lambda: find_crossings(self._ephemeris, site, target, utc, low_deg),
            _times,
        )

    def of_moon(self, site: Site, utc: datetime) -> Crossings:
        """Give the next events of the Moon."""
        return self._moon.get(
            site, utc, lambda: find_crossings(self._ephemeris, site, MOON, utc), _times
        )

    def of_dark(self, site: Site, utc: datetime) -> NextPhase:
        """Give the next phase between day and night."""
        return self._dark.get(
            site, utc, lambda: next_phase(self._ephemeris, site, utc), lambda found: [found.utc]
        )


def _times(found: Crossings) -> list[datetime | None]:
    return [
        found.rises_utc,
        found.sets_utc,
        found.transit_utc,
        found.sinks_utc,
        found.climbs_utc,
    ]
