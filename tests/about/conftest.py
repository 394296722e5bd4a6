from collections.abc import Iterator

import pytest

from companion.sky import Ephemeris


@pytest.fixture(scope="session")
def ephemeris() -> Iterator[Ephemeris]:
    loaded = Ephemeris.load()
    yield loaded
    loaded.close()
