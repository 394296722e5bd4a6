"""The path of a target that moves by itself: among the stars in days to come, or over the sky."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

import numpy as np

from companion.advice import AdviceError
from companion.arrays import FloatArray
from companion.charts.air import lifted
from companion.charts.frame import SkyTrack
from companion.sky import (
    Ephemeris,
    Kind,
    Moment,
    Site,
    Target,
    TargetTable,
    clock_text,
    stands_still,
    zone_of,
)

_DAY: Final = timedelta(days=1)
_KEPT: Final = timedelta(minutes=10)  # a path among the stars
_PASS_KEPT: Final = timedelta(seconds=30)
_PASS_STEP_S: Final = 10
_PASS_REACH_S: Final = 900  # before and after the moment: no pass of what is seen lasts longer


@dataclass(frozen=True, slots=True)
class _Steps:
    """How far ahead a path goes, in which steps, and after how many of them a mark stands."""

    step: timedelta
    count: int
    mark_every: int

    @property
    def whole_days(self) -> bool:
        """Whether a mark is a day, not an hour."""
        return self.step * self.mark_every >= _DAY


_SLOW = _Steps(_DAY, 30, 5)  # comets, planets
_MOON = _Steps(timedelta(hours=1), 24, 3)


class TrackKeeper:
    """Belongs to the chart's thread; keeps the path of one target for a while."""

    def __init__(self, ephemeris: Ephemeris) -> None:
        self._ephemeris = ephemeris
        self._of: object = None
        self._since: datetime | None = None
        self._held = _PASS_KEPT
        self._line: FloatArray = np.empty((0, 3))
        self._names: tuple[tuple[str, int], ...] = ()

    def track(self, moment: Moment, turn: FloatArray, target: Target | None) -> SkyTrack | None:
        """Give the path of a target; None for what stands among the stars, or has none.

        Parameters
        ----------
        moment : Moment
            Site and time.
        turn : FloatArray
            The frame's ``SkyFrame.turn``.
        target : Target, optional
            What is aimed at.
        """
        if target is None or not target.body or target.body == "sun" or stands_still(target):
            return None
        satellite = target.kind is Kind.SATELLITE
        if not self._holds(moment, target):
            try:
                self._line, self._names = (
                    self._pass(moment, target) if satellite else self._among_stars(moment, target)
                )
            except AdviceError:  # the elements, or the ephemeris, end there
                self._line, self._names = np.empty((0, 3)), ()
            self._of, self._since = (moment.site, target), moment.utc
            self._held = _PASS_KEPT if satellite else _KEPT
        if not len(self._line):
            return None
        points = self._line if satellite else lifted(self._line @ turn.T, moment.site)
        return SkyTrack(points, tuple((name, points[at]) for name, at in self._names))

    def _holds(self, moment: Moment, target: Target) -> bool:
        if self._since is None or self._of != (moment.site, target):
            return False
        return abs(moment.utc - self._since) < self._held

    def _among_stars(
        self, moment: Moment, target: Target
    ) -> tuple[FloatArray, tuple[tuple[str, int], ...]]:
        """Give apparent directions (n, 3) on ICRS axes at moments to come, and the marks."""
        steps = _MOON if target.body == "moon" else _SLOW
        zone, first = zone_of(moment.site.time_zone), moment.utc
        table = TargetTable.of([target], first)
        line, names = [], []
        for at in range(steps.count + 1):
            utc = first + at * steps.step
            line.append(self._ephemeris.moment(moment.site, utc).apparent(table)[0])
            if at and at % steps.mark_every == 0:
                local = utc.astimezone(zone)
                names.append(
                    (f"{local.day} {local:%b}" if steps.whole_days else clock_text(local), at)
                )
        return np.array(line), tuple(names)

    def _pass(
        self, moment: Moment, target: Target
    ) -> tuple[FloatArray, tuple[tuple[str, int], ...]]:
        """Give the pass that is on, or comes within minutes, with a mark at each whole minute."""
        zone = zone_of(moment.site.time_zone)
        begin = moment.utc.replace(microsecond=0) - timedelta(
            seconds=_PASS_REACH_S + moment.utc.second % _PASS_STEP_S
        )
        count = 2 * _PASS_REACH_S // _PASS_STEP_S + 1
        utcs = [begin + timedelta(seconds=_PASS_STEP_S * at) for at in range(count)]
        table = TargetTable.of([target], moment.utc)
        line = _from_local(self._ephemeris.directions(moment.site, utcs, table)[:, 0], moment.site)
        up = np.flatnonzero(line[:, 2] > 0.0)
        runs = [
            run for run in np.split(up, np.flatnonzero(np.diff(up) > 1) + 1)
            if len(run) > 1 and utcs[int(run[-1])] >= moment.utc
        ]  # fmt: skip
        if not runs:
            return np.empty((0, 3)), ()
        names = []
        for place, at in enumerate(runs[0].tolist()):
            utc = utcs[at]
            if utc.second == 0:
                lit = self._ephemeris.facts(moment.site, target.body, utc).magnitude is not None
                text = clock_text(utc.astimezone(zone))
                names.append((text if lit else f"{text} in shadow", place))
        return line[runs[0]], tuple(names)


def _from_local(north_east_up: FloatArray, site: Site) -> FloatArray:
    """Turn directions (n, 3) towards north, east and up to those of the frame, as seen."""
    return lifted(north_east_up * (1.0, -1.0, 1.0), site)
