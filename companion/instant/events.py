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


class _OneAtATime:
    """Lets one answer be renewed with each snapshot; what is merely old can wait for the next."""

    def __init__(self) -> None:
        self._free = True

    def begin(self) -> None:
        self._free = True

    def take(self) -> bool:
        """Take the turn; give whether it was free."""
        free, self._free = self._free, False
        return free


@dataclass(slots=True)
class _Kept(Generic[Answer]):
    key: object
    start: datetime
    end: datetime  # when the first event in it is over, or it is too old even to wait
    answer: Answer

    def holds(self, key: object, utc: datetime) -> bool:
        """Tell whether it still answers the question."""
        return self.key == key and self.start <= utc < self.end


class Remembered(Generic[Answer]):
    """One answer, valid from when it was computed to the first event in it."""

    def __init__(self, turn: _OneAtATime) -> None:
        self._turn = turn
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
        if kept is not None and kept.holds(key, utc):
            if utc < kept.start + _AGES or not self._turn.take():
                return kept.answer
        else:
            self._turn.take()
        answer = compute()
        ends = [event for event in events(answer) if event is not None and event > utc]
        self._kept = _Kept(key, utc, min([utc + 2 * _AGES, *ends]), answer)
        return answer


class Events:
    """The slow questions of a snapshot; ``begin`` starts the next one."""

    def __init__(self, ephemeris: Ephemeris) -> None:
        self._ephemeris = ephemeris
        self._turn = _OneAtATime()
        self._aim: Remembered[Crossings] = Remembered(self._turn)
        self._moon: Remembered[Crossings] = Remembered(self._turn)
        self._dark: Remembered[NextPhase] = Remembered(self._turn)

    def begin(self) -> None:
        """Let one answer be renewed again."""
        self._turn.begin()

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
