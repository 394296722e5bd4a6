"""Slow answers are kept, renewed one with a snapshot, and never outlive the event they name."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest

from companion.instant import Choices, SnapshotBuilder
from companion.instant.events import Events
from companion.sky import LOON_BARRENS, Ephemeris, day_arc, load_catalogue, movers

UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
SATURN = load_catalogue().target("body:saturn")

Counted = Callable[[datetime], int]


@pytest.fixture
def asked(ephemeris: Ephemeris, monkeypatch: pytest.MonkeyPatch) -> Counted:
    """Ask all three questions of a snapshot; give how many were worked out anew."""
    made: list[datetime] = []
    plain = day_arc.DayArc.__init__

    def counting(arc: day_arc.DayArc, *words: object) -> None:
        made.append(UTC_NOW)
        plain(arc, *words)  # type: ignore[arg-type]

    monkeypatch.setattr(day_arc.DayArc, "__init__", counting)
    events = Events(ephemeris)

    def ask(utc: datetime) -> int:
        made.clear()
        events.begin()
        events.of_target(LOON_BARRENS, SATURN, utc, 10.0)
        events.of_moon(LOON_BARRENS, utc)
        events.of_dark(LOON_BARRENS, utc)
        return len(made)

    return ask


def test_what_is_old_is_renewed_one_with_a_snapshot(asked: Counted) -> None:
    assert asked(UTC_NOW) == 3
    assert asked(UTC_NOW + timedelta(minutes=19)) == 0
    later = UTC_NOW + timedelta(minutes=20)
    renewed = [asked(later + timedelta(seconds=number / 2)) for number in range(5)]
    assert renewed == [1, 1, 1, 0, 0]


def test_a_jump_waits_for_nothing(asked: Counted) -> None:
    asked(UTC_NOW)
    assert asked(UTC_NOW + timedelta(hours=3)) == 3
    assert asked(UTC_NOW) == 3


def test_an_event_that_is_over_is_never_given(ephemeris: Ephemeris) -> None:
    events = Events(ephemeris)
    first = events.of_dark(LOON_BARRENS, UTC_NOW)
    assert first.utc is not None
    events.of_moon(LOON_BARRENS, UTC_NOW)  # the turn of this snapshot is taken
    following = events.of_dark(LOON_BARRENS, first.utc)
    assert following.utc is not None
    assert following.utc > first.utc


def test_bodies_are_not_all_looked_up_with_the_same_snapshot(
    ephemeris: Ephemeris, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: list[object] = []
    plain = movers.Anchors.__init__

    def counting(anchors: movers.Anchors, *words: object) -> None:
        made.append(words)
        plain(anchors, *words)  # type: ignore[arg-type]

    monkeypatch.setattr(movers.Anchors, "__init__", counting)
    builder = SnapshotBuilder(ephemeris)
    choices = Choices(stamp=1, site=LOON_BARRENS, target=SATURN, queue=(SATURN,))
    counts = []
    for number in range(600):
        made.clear()
        builder.build(choices, UTC_NOW + timedelta(days=400, seconds=number))
        counts.append(len(made))
    assert counts[0] >= 9
    assert max(counts[1:]) <= 2
    assert sum(counts[1:]) >= 18  # twice or more in ten minutes, each
