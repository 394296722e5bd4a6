from collections.abc import Iterator
from datetime import UTC, datetime

import pytest

from companion.night.grid import NightGrid, night_grid
from companion.sky import LOON_BARRENS, Ephemeris, Site

AUTUMN = datetime(2026, 10, 10, 23, 0, tzinfo=UTC)
TROMSOE = Site("Tromsø", 69.65, 18.96, 10.0, "Europe/Oslo")


@pytest.fixture(scope="session")
def ephemeris() -> Iterator[Ephemeris]:
    loaded = Ephemeris.load()
    yield loaded
    loaded.close()


@pytest.fixture(scope="session")
def autumn(ephemeris: Ephemeris) -> NightGrid:
    """A moonless night at Loon Barrens."""
    return night_grid(ephemeris, LOON_BARRENS, AUTUMN)
