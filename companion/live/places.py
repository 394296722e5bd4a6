"""Places that are offered when somebody says where they are: towns, and positions as typed."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from companion.advice import AdviceError
from companion.live.threads.catalogue_thread import Library
from companion.sky import DEMO_SITES, Site, position_text

if TYPE_CHECKING:
    from companion.sky import Town


@dataclass(frozen=True, slots=True)
class Place:
    """A site that can be gone to, and in which country it lies, or what else is to be said."""

    site: Site
    about: str


def demo_places() -> tuple[Place, ...]:
    """Give what somebody may look around at who does not want to say yet where they are."""
    return tuple(Place(site, "to look around first: a site of the demo") for site in DEMO_SITES)


def places_of(library: Library, text: str) -> tuple[Place, ...]:
    """Give the place of a typed position, or the towns whose name begins so.

    To be asked in the thread of the catalogues.
    """
    towns = (_place_of(town) for town in library.towns.find(text))
    return (*_positions(text), *towns)


def _positions(text: str) -> Iterator[Place]:
    from companion.sky import parse_place, time_zone_at  # numpy: not before the first frame

    if sum(letter.isdigit() for letter in text) > 1:
        try:
            latitude_deg, longitude_deg, elevation_m = parse_place(text)
        except AdviceError:
            return
        name = position_text(latitude_deg, longitude_deg)
        zone = time_zone_at(latitude_deg, longitude_deg)
        site = Site(name, latitude_deg, longitude_deg, elevation_m or 0.0, zone)
        yield Place(site, "the position as typed")


def _place_of(town: "Town") -> Place:
    """Give a town as a site; its elevation has to be typed."""
    site = Site(town.name, town.latitude_deg, town.longitude_deg, 0.0, town.time_zone)
    return Place(site, ", ".join(part for part in (town.region, town.country) if part))
