"""The bright stars of the sky at any moment, for sightings."""

from datetime import datetime
from functools import cached_property
from typing import TYPE_CHECKING

from companion.sky import Ephemeris, Site, Target, TargetTable, load_catalogue

if TYPE_CHECKING:
    from companion.mount import BrightStars

FAINTEST = 3.0  # what a beginner takes for a bright star


class BrightSky:
    """Belongs to the service's thread; the star table is made when a mount first needs it."""

    def __init__(self, ephemeris: Ephemeris) -> None:
        self._ephemeris = ephemeris

    @cached_property
    def targets(self) -> tuple[Target, ...]:
        """The stars, brightest first."""
        return load_catalogue().bright_stars(FAINTEST)

    def at(self, site: Site, utc: datetime) -> "BrightStars":
        """Give where all of them stand, those below the horizon too."""
        from companion.mount import BrightStars

        table = TargetTable.of(self.targets, utc)
        seen = self._ephemeris.moment(site, utc).horizontal(table)
        return BrightStars(
            names=tuple(target.name for target in self.targets),
            keys=tuple(target.key for target in self.targets),
            azimuth_deg=seen.azimuth_deg,
            altitude_deg=seen.altitude_deg,
            magnitude=table.magnitudes,
        )
