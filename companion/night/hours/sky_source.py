"""What the night asks of the real sky; ``companion.sky.Ephemeris`` answers it."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any, Protocol

from companion.arrays import FloatArray
from companion.sky import Site


class Directions(Protocol):
    """Where n targets stand; arrays of shape (n,)."""

    @property
    def azimuth_deg(self) -> FloatArray:
        """From north through east."""
        ...

    @property
    def altitude_airless_deg(self) -> FloatArray:
        """Without refraction."""
        ...


class Disc(Protocol):
    """What something that moves looks like at one moment."""

    @property
    def magnitude(self) -> float | None:
        """V magnitude, None where it is not known."""
        ...

    @property
    def diameter_arcsec(self) -> float:
        """Apparent diameter."""
        ...

    @property
    def lit_fraction(self) -> float:
        """Part of the disc that is lit, 0 to 1."""
        ...


class SkyMoment(Protocol):
    """The sky over one site at one instant."""

    def horizontal(self, table: Any) -> Directions:  # noqa: ANN401  # sky's own table of targets
        """Place all targets of a table."""
        ...


class SkySource(Protocol):
    """Gives the sky over any site at any instant of the ephemeris."""

    def moment(self, site: Site, utc: datetime) -> SkyMoment:
        """Give the sky over one site at one instant."""
        ...

    def directions(
        self,
        site: Site,
        utcs: Sequence[datetime],
        table: Any,  # noqa: ANN401  # sky's own table of targets
    ) -> FloatArray:
        """Give directions (times, targets, 3) towards north, east and up, without air."""
        ...

    def facts(self, site: Site, body: str, utc: datetime) -> Disc:
        """Give brightness, size and phase of what moves."""
        ...
