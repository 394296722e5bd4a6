from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta

import pytest

from companion.events import ComingRequest, Event, event_kinds_named, what_comes
from companion.night import Conditions, find_instrument
from companion.sky import LOON_BARRENS, Ephemeris, Site, load_catalogue

Coming = Callable[..., tuple[Event, ...]]


@pytest.fixture(scope="session")
def ephemeris() -> Iterator[Ephemeris]:
    ephemeris = Ephemeris.load()
    yield ephemeris
    ephemeris.close()


@pytest.fixture(scope="session")
def coming(ephemeris: Ephemeris) -> Coming:
    """Ask what comes: kinds, first day, how many days, where, with what."""

    def ask(
        kinds: str, first: str, days: int = 30, site: Site = LOON_BARRENS, instrument: str = "10x50"
    ) -> tuple[Event, ...]:
        utc = datetime.fromisoformat(first).replace(tzinfo=UTC)
        request = ComingRequest(
            site,
            utc,
            utc + timedelta(days=days),
            find_instrument(instrument),
            Conditions.at(site),
            event_kinds_named(kinds),
        )
        return what_comes(ephemeris, load_catalogue(), request)

    return ask
