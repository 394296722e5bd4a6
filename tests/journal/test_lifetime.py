"""All nights of a lifetime: read a part at a time, and only what is new."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest

from companion.journal import (
    Held,
    Journal,
    LifetimeReader,
    Mark,
    Night,
    Outcome,
    Remark,
    Tick,
    entries,
    entries_of,
    lifetime,
)

UTC_FIRST = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
NIGHTS = 6


def mark_night(journal: Journal, day: int, found: int = 3) -> str:
    """Find some targets, the first of them every night."""
    night = f"2026-10-{10 + day}"
    for number in range(found):
        key = "hip:91262" if number == 0 else f"own:{day}-{number}"
        mark = Mark({"key": key, "name": key}, Outcome.FOUND, "faint" if number == 1 else "")
        journal.mark(night, UTC_FIRST + timedelta(days=day), mark)
    noon = UTC_FIRST - timedelta(hours=8)
    journal.note(night, noon, f"blue on day {day}", {"key": "hip:91262", "name": "Vega"})
    journal.note(night, noon, "clouds")
    return night


@pytest.fixture
def nights(journal: Journal) -> Journal:
    for day in range(NIGHTS):
        mark_night(journal, day)
    return journal


def test_the_latest_nights_come_first_and_the_rest_in_parts(nights: Journal) -> None:
    reader = LifetimeReader()
    assert not reader.read_on(nights, 1)
    first = reader.so_far()
    assert [night.night for night in first.nights] == ["2026-10-15"]
    assert not first.whole
    parts = 1
    while not reader.read_on(nights, 10):  # two nights of five entries
        parts += 1
    assert parts == 3
    assert reader.so_far() == lifetime(nights)
    assert reader.so_far().whole


def test_what_was_seen_stands_with_its_last_time_and_how_often(nights: Journal) -> None:
    seen = lifetime(nights).seen
    assert [(one.last.key, one.count) for one in seen[:3]] == [
        ("own:5-2", 1), ("own:5-1", 1), ("hip:91262", NIGHTS),
    ]  # fmt: skip
    assert len(seen) == 2 * NIGHTS + 1
    vega = seen[2]
    told = entries_of(nights, [vega.last, *vega.remarks])
    last, (remark,) = told[vega.last], (told[one] for one in vega.remarks)
    assert isinstance(last, Tick)
    assert last.night == "2026-10-15"
    assert isinstance(remark, Remark)
    assert remark.text == "blue on day 5"


def test_all_about_an_entry_is_what_reading_everything_gives(nights: Journal) -> None:
    read = lifetime(nights)
    assert read.nights[0] == Night("2026-10-15", found=3, notes=2)
    held = [one for night in sorted(read.held) for one in read.held[night]]
    assert [one.has_note for one in held[:5]] == [True, False, False, True, False]
    assert tuple(entries_of(nights, held).values()) == entries(nights)
    gone = Held(9999, "own:1", Outcome.FOUND)
    assert entries_of(nights, [gone]) == {gone: None}


def test_only_nights_in_which_something_was_written_are_read_again(
    nights: Journal, open_journal: Callable[[], Journal]
) -> None:
    reader = LifetimeReader()
    reader.read_on(nights, 1000)
    asked: list[str] = []
    mark_night(open_journal(), 2, found=5)
    nights.connection.set_trace_callback(asked.append)
    assert reader.read_on(nights, 1000)
    nights.connection.set_trace_callback(None)
    assert sum("json_extract" in text for text in asked) == 1
    assert reader.so_far() == lifetime(nights)
    assert [night.found for night in reader.so_far().nights] == [3, 3, 3, 5, 3, 3]


def test_another_file_is_read_from_its_beginning(
    nights: Journal, open_journal: Callable[[], Journal]
) -> None:
    reader = LifetimeReader()
    reader.read_on(nights, 1000)
    again = open_journal()
    again.undo("2026-10-15", UTC_FIRST)
    assert reader.read_on(again, 1000)
    assert reader.so_far() == lifetime(again)
