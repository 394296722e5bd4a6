from collections.abc import Iterator
from datetime import UTC, datetime

import pytest

from companion.night.choose.candidates import Candidates
from companion.night.hours.grid import NightGrid, night_grid
from companion.sky import LOON_BARRENS, Ephemeris, SearchIndex, load_catalogue

AUTUMN = datetime(2026, 10, 10, 23, 0, tzinfo=UTC)


@pytest.fixture(scope="session")
def ephemeris() -> Iterator[Ephemeris]:
    loaded = Ephemeris.load()
    yield loaded
    loaded.close()


@pytest.fixture(scope="session")
def autumn(ephemeris: Ephemeris) -> NightGrid:
    """A moonless night at Loon Barrens."""
    return night_grid(ephemeris, LOON_BARRENS, AUTUMN)


@pytest.fixture(scope="session")
def search() -> SearchIndex:
    return SearchIndex(load_catalogue())


@pytest.fixture(scope="session")
def candidates() -> Candidates:
    return Candidates.of(load_catalogue())
