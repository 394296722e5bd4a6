from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, strategies as st

from companion.journal import night_of

HALIFAX = ZoneInfo("America/Halifax")


@pytest.mark.parametrize(
    ("local", "night"),
    [
        ("2026-10-10T12:00", "2026-10-10"),
        ("2026-10-10T23:59", "2026-10-10"),
        ("2026-10-11T00:00", "2026-10-10"),
        ("2026-10-11T11:59", "2026-10-10"),
        ("2026-11-01T01:30", "2026-10-31"),  # an hour that the clocks show twice
        ("2027-01-01T03:00", "2026-12-31"),
    ],
)
def test_a_night_is_called_by_the_evening_it_began_on(local: str, night: str) -> None:
    assert night_of(datetime.fromisoformat(local).replace(tzinfo=HALIFAX), HALIFAX) == night


@given(st.integers(0, 150 * 365 * 24 * 60))
def test_nights_never_run_backwards(minutes: int) -> None:
    utc = datetime(1900, 1, 1, tzinfo=UTC) + timedelta(minutes=minutes)
    later = utc + timedelta(hours=25)  # the clocks may be put back in between
    assert night_of(utc, HALIFAX) < night_of(later, HALIFAX)
