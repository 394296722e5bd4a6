"""When an order ends, as it is typed."""

from datetime import UTC, datetime
from types import SimpleNamespace
from typing import Any

import pytest
from window.fakes import FakeEvening

from companion.window.night.prompts import end_prompt


@pytest.mark.parametrize(
    ("typed", "utc"),
    [
        ("23:30", datetime(2026, 10, 12, 2, 30, tzinfo=UTC)),  # tonight's has passed: tomorrow's
        ("1:30", datetime(2026, 10, 11, 4, 30, tzinfo=UTC)),
    ],
)
def test_an_end_lies_ahead(typed: str, utc: datetime) -> None:
    """At half past midnight, 3:30 UTC, at Loon Barrens."""

    evening: Any = FakeEvening()
    evening.clock = SimpleNamespace(now_utc=datetime(2026, 10, 11, 3, 30, tzinfo=UTC))
    end_prompt(evening).take(typed, 0)
    assert evening.night.told == [("set_end", utc)]
