"""The queue's rows as pure functions: where the tube points, what comes next, what is written."""

from datetime import UTC, datetime, timedelta
from itertools import permutations
from typing import Any

import pytest

from companion.instant import Choices, RowFacts, SnapshotBuilder
from companion.journal import Outcome, SightingEntry, to_plain
from companion.live import QueueItem, SortBy
from companion.live.kept_sightings import pointed_by
from companion.live.queue_items import mark_of, next_waiting, sorted_keys, tube_of
from companion.mount import Sighting, compass_sighting
from companion.sky import LOON_BARRENS, Ephemeris, Kind, Target

UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
VEGA = Target("hip:91262", "Vega", Kind.STAR, 279.2347, 38.7837)
M13 = Target("ngc:NGC6205", "M 13", Kind.GLOBULAR, 250.42, 36.46)
M31 = Target("ngc:NGC0224", "M 31", Kind.GALAXY, 10.68, 41.27)
CAPELLA = Target("hip:24608", "Capella", Kind.STAR, 79.17, 46.0)


def item(target: Target, outcome: Outcome, minutes: float | None = None) -> QueueItem:
    utc = None if minutes is None else UTC_NOW + timedelta(minutes=minutes)
    return QueueItem(target, outcome, utc, "")


def facts(key: str, **changes: Any) -> RowFacts:
    usual = RowFacts(key, 100.0, 40.0, 3600.0, None, 50.0, 10.0, False, 100.0, 40.0, 0.5, 0.1)
    return usual._replace(**changes)


# Where the tube points.


def test_the_tube_points_to_what_was_looked_at_last() -> None:
    looked = [
        item(VEGA, Outcome.FOUND, 0.0),
        item(M13, Outcome.NOT_SEEN, 10.0),
        item(M31, Outcome.SKIPPED, 20.0),  # nobody has turned to it
        item(CAPELLA, Outcome.WAITING),
    ]
    for rows in permutations(looked):
        assert tube_of(rows) == M13
    assert tube_of(looked[:1]) == VEGA


def test_what_was_skipped_says_nothing_of_the_tube() -> None:
    assert tube_of([item(M31, Outcome.SKIPPED, 20.0), item(CAPELLA, Outcome.WAITING)]) is None
    assert tube_of([]) is None


def sighted(target: Target, minutes: float, *, aside: bool = False) -> SightingEntry:
    utc = UTC_NOW + timedelta(minutes=minutes)
    made = Sighting(utc, target.name, target.key, 100.0, 40.0, 101.0, 40.5)
    return SightingEntry(1, "wooden mount", to_plain(made), aside)


def test_a_sighting_tells_where_the_tube_points() -> None:
    looked = [item(VEGA, Outcome.WAITING), item(M13, Outcome.FOUND, 5.0)]
    assert tube_of(looked, pointed_by([sighted(VEGA, 9.0)])) == VEGA
    assert tube_of(looked, pointed_by([sighted(VEGA, 3.0)])) == M13
    assert tube_of(looked, pointed_by([sighted(VEGA, 9.0), sighted(M13, 7.0)])) == VEGA


def test_after_a_sighting_of_nobody_knows_what_no_turn_is_counted() -> None:
    looked = [item(VEGA, Outcome.WAITING), item(M13, Outcome.FOUND, 5.0)]
    compass = SightingEntry(2, "wooden mount", to_plain(compass_sighting(UTC_NOW, 0.0)))
    assert tube_of(looked[:1], pointed_by([compass])) is None
    assert tube_of(looked, pointed_by([sighted(VEGA, 9.0, aside=True)])) is None
    # It was of another star: that sighting stands beside the one set aside.
    both = [sighted(VEGA, 9.0, aside=True), sighted(M13, 9.0)]
    assert tube_of(looked, pointed_by(both)) == M13
    assert tube_of(looked, pointed_by([sighted(CAPELLA, 9.0)])) is None
    assert pointed_by([SightingEntry(3, "wooden mount", {"utc": "then"})]) is None


# What comes next.


def test_the_next_waiting_row_comes_after_the_marked_one_and_then_from_the_top() -> None:
    rows = [
        item(VEGA, Outcome.WAITING),
        item(M13, Outcome.FOUND, 0.0),
        item(M31, Outcome.SKIPPED, 1.0),
        item(CAPELLA, Outcome.WAITING),
    ]
    following = [next_waiting(rows, key) for key in (M13.key, CAPELLA.key, VEGA.key, None, "gone")]
    assert [one and one.target for one in following] == [CAPELLA, VEGA, CAPELLA, VEGA, VEGA]
    assert next_waiting(rows[1:3], None) is None


@pytest.mark.parametrize(
    ("by", "expected"),
    [
        (SortBy.ALTITUDE, [M31, CAPELLA, VEGA, M13]),
        (SortBy.TURN, [CAPELLA, M31, M13, VEGA]),
        (SortBy.TIME_LEFT, [M31, CAPELLA, VEGA, M13]),
    ],
)
def test_rows_are_sorted_the_high_the_near_and_the_sinking_first(
    by: SortBy, expected: list[Target]
) -> None:
    rows = {
        VEGA.key: facts(VEGA.key, altitude_deg=-5.0, time_left_s=0.0, rises_in_s=900.0, turn_deg=5),
        M31.key: facts(M31.key, altitude_deg=70.0, time_left_s=600.0, turn_deg=40.0),
        CAPELLA.key: facts(CAPELLA.key, altitude_deg=20.0, time_left_s=None, turn_deg=10.0),
        M13.key: facts(M13.key, altitude_deg=-9.0, time_left_s=0.0, rises_in_s=None, turn_deg=1.0),
    }
    items = [item(target, Outcome.WAITING) for target in (VEGA, CAPELLA, M13, M31)]
    assert sorted_keys(items, rows, by) == [target.key for target in expected]


def test_what_is_done_stands_first_and_what_has_no_number_last() -> None:
    rows = {M31.key: facts(M31.key)}
    items = [
        item(VEGA, Outcome.WAITING),
        item(M31, Outcome.WAITING),
        item(M13, Outcome.FOUND, 0.0),
    ]
    for by in SortBy:
        assert sorted_keys(items, rows, by) == [M13.key, M31.key, VEGA.key]


# What is written.


def test_a_mark_tells_where_the_target_stood() -> None:
    """Vega stands 69.6° high in the west then, at 261.1°."""
    ephemeris = Ephemeris.load()
    choices = Choices(stamp=1, site=LOON_BARRENS, target=VEGA)
    aim = SnapshotBuilder(ephemeris).build(choices, UTC_NOW).aim
    ephemeris.close()
    made = mark_of(VEGA, Outcome.FOUND, "blue", choices, aim)
    assert (made.altitude_deg, made.azimuth_deg) == pytest.approx((69.6, 261.1), abs=0.1)
    assert (made.outcome, made.note) == (Outcome.FOUND, "blue")
    other = mark_of(M31, Outcome.FOUND, "", choices, aim)
    assert (other.altitude_deg, other.azimuth_deg) == (None, None)
    assert mark_of(VEGA, Outcome.FOUND, "", choices, None).altitude_deg is None
