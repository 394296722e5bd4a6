"""The best next star to sight, looked for a step at a time, so that no snapshot waits for it."""

from collections.abc import Generator
from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

import numpy as np

from companion.instant.bright_stars import BrightSky
from companion.instant.sky_table import Instant
from companion.instant.snapshot import NextSightingFacts
from companion.sky import SUN_DANGER_DEG, SUN_UP_DEG, horizontal_separation_deg

if TYPE_CHECKING:  # all about fits is loaded when a mount is first chosen
    from companion.mount import Alignment, BrightStars

_AGES = timedelta(seconds=20)  # the best next star changes slowly
_STALE = timedelta(minutes=2)  # farther from its moment no star is shown, nor the search gone on
_MOST_QUEUE = 40  # targets that the next sighting is chosen for
_LOW_DEG = 10.0
_OUT_OF_REACH_DEG = -90.0

_Steps = Generator[None, None, NextSightingFacts | None]


class NextStar:
    """Belongs to the service's thread; each snapshot takes one step of the search.

    After a new fit, another queue or site, or a leap in time, there is no star until the search is
    through, some snapshots later. A star that is merely old stays until then.
    """

    def __init__(self, sky: BrightSky) -> None:
        self._sky = sky
        self._found: NextSightingFacts | None = None
        self._of: tuple[object, ...] = ()
        self._since: datetime | None = None  # the moment of the last search, of the running one too
        self._steps: _Steps | None = None

    def facts(self, instant: Instant, alignment: "Alignment") -> NextSightingFacts | None:
        """Give the star as far as it is known, after one more step."""
        utc, choices = instant.moment.utc, instant.choices
        of = (alignment, choices.queue, choices.site)
        if of != self._of or self._since is None or abs(utc - self._since) > _STALE:
            # This snapshot already bears a new fit or table: the first step is the next one's.
            self._of, self._since, self._found = of, utc, None
            self._steps = self._search(instant, alignment)
            return None
        if self._steps is None and abs(utc - self._since) >= _AGES:
            self._since, self._steps = utc, self._search(instant, alignment)
        if self._steps is not None:
            try:
                next(self._steps)
            except StopIteration as end:
                self._found, self._steps = end.value, None
        return self._found

    def _search(self, instant: Instant, alignment: "Alignment") -> _Steps:
        from companion.mount import next_sighting, shown

        count = min(instant.sky.queue_length, _MOST_QUEUE)
        azimuths = instant.places.azimuth_deg[:count]
        altitudes = instant.places.altitude_deg[:count]
        up = altitudes > _LOW_DEG
        sky = self._sky.at(instant.choices.site, instant.moment.utc)
        stars = _away_from_the_sun(instant, sky)
        yield
        found = yield from next_sighting(
            alignment,
            stars,
            azimuths[up].tolist(),
            altitudes[up].tolist(),
        )
        if found is None:
            return None
        return NextSightingFacts(
            found.name,
            found.key,
            shown(alignment.mount.azimuth, found.azimuth_reading_deg).text,
            shown(alignment.mount.altitude, found.altitude_reading_deg).text,
            found.words,
            found.azimuth_deg,
            found.altitude_deg,
        )


def _away_from_the_sun(instant: Instant, stars: "BrightStars") -> "BrightStars":
    """Put the stars out of reach that nobody should look for: those near the Sun while it is up."""
    row, places = instant.sky.sun_row, instant.places
    if float(places.altitude_airless_deg[row]) <= SUN_UP_DEG:
        return stars
    away = horizontal_separation_deg(
        stars.azimuth_deg,
        stars.altitude_deg,
        places.azimuth_deg[row],
        places.altitude_deg[row],
    )
    return replace(
        stars, altitude_deg=np.where(away < SUN_DANGER_DEG, _OUT_OF_REACH_DEG, stars.altitude_deg)
    )
