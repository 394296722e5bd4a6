from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime
from typing import Any

import pytest

from companion.night import Conditions
from companion.road import Road, RoadRequest, road
from companion.sky import Ephemeris, Site, load_catalogue

Walk = Callable[..., Road]


@pytest.fixture(scope="session")
def ephemeris() -> Iterator[Ephemeris]:
    loaded = Ephemeris.load()
    yield loaded
    loaded.close()


@pytest.fixture(scope="session")
def walk(ephemeris: Ephemeris) -> Walk:
    """Give the road of a site and a moment; ``zenith_mag`` is how dark it is."""

    def walked(site: Site, utc: datetime, zenith_mag: float = 21.0, **more: Any) -> Road:
        request = RoadRequest(site, utc, Conditions.at(site, zenith_mag=zenith_mag))
        return road(ephemeris, load_catalogue(), replace(request, **more))

    return walked
