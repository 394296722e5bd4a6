import csv
import io
import json
from datetime import UTC, datetime, timedelta

import pytest

from companion.journal import (
    Journal,
    Mark,
    Night,
    Outcome,
    csv_text,
    entries,
    json_lines,
    lifetime,
    night_text,
    seen_keys,
    ticks,
)

FIRST, SECOND = "2026-10-10", "2026-11-25"
UTC_FIRST = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
UTC_SECOND = datetime(2026, 11, 25, 20, 0, tzinfo=UTC)
BARRENS = {
    "name": "Loon Barrens",
    "latitude_deg": 45.2,
    "longitude_deg": -62.3,
    "time_zone": "America/Halifax",
}
SATURN = {"key": "body:saturn", "name": "Saturn"}
VEGA = {"key": "hip:91262", "name": "Vega"}
M31 = {"key": "ngc:NGC0224", "name": "M 31"}


@pytest.fixture
def two_nights(journal: Journal) -> Journal:
    """Vega found, M 31 a slip taken back, Saturn mended on the first night; Vega missed later."""
    mark = Mark(VEGA, Outcome.FOUND, 'blue,\n"white"', "10×50", BARRENS, 41.25, 280.5, "9 mm")
    journal.mark(FIRST, UTC_FIRST, mark)
    journal.note(FIRST, UTC_FIRST, "very white", VEGA, BARRENS)
    journal.note(FIRST, UTC_FIRST + timedelta(minutes=2), "clouds from the west", site=BARRENS)
    journal.mark(FIRST, UTC_FIRST, Mark(SATURN, Outcome.SKIPPED))
    journal.mark(FIRST, UTC_FIRST + timedelta(minutes=1), Mark(SATURN, Outcome.FOUND))
    journal.mark(FIRST, UTC_FIRST, Mark(M31, Outcome.FOUND))
    journal.undo(FIRST, UTC_FIRST)
    journal.remove(FIRST, UTC_FIRST, "body:saturn")
    journal.mark(SECOND, UTC_SECOND, Mark(VEGA, Outcome.NOT_SEEN))
    journal.queue("2026-12-01", UTC_SECOND, [M31])
    return journal


def test_what_holds_is_told_over_all_nights(two_nights: Journal) -> None:
    told = [(tick.night, tick.name, tick.outcome) for tick in ticks(two_nights)]
    assert told == [
        (FIRST, "Vega", Outcome.FOUND),
        (FIRST, "Saturn", Outcome.FOUND),
        (SECOND, "Vega", Outcome.NOT_SEEN),
    ]
    assert ticks(two_nights, SECOND) == ticks(two_nights)[2:]
    vega = ticks(two_nights)[0]
    assert vega.note == 'blue,\n"white"'
    assert (vega.altitude_deg, vega.azimuth_deg, vega.site) == (41.25, 280.5, BARRENS)


def test_notes_stand_among_the_outcomes_in_the_order_of_their_moments(two_nights: Journal) -> None:
    told = [(one.name, getattr(one, "text", "")) for one in entries(two_nights, FIRST)]
    assert told == [
        ("Vega", ""),
        ("Vega", "very white"),
        ("Saturn", ""),
        ("", "clouds from the west"),
    ]


def test_nights_are_counted_the_latest_first(two_nights: Journal) -> None:
    assert lifetime(two_nights).nights == (
        Night("2026-12-01"),
        Night(SECOND, not_seen=1),
        Night(FIRST, found=2, notes=2),
    )


def test_only_what_was_found_was_seen(two_nights: Journal) -> None:
    assert seen_keys(two_nights) == {"hip:91262", "body:saturn"}


def test_csv_comes_back(two_nights: Journal) -> None:
    rows = list(csv.DictReader(io.StringIO(csv_text(entries(two_nights)), newline="")))
    told = [(row["key"], row["outcome"], row["note"]) for row in rows]
    assert told == [
        ("hip:91262", "found", 'blue,\n"white"'),
        ("hip:91262", "", "very white"),
        ("body:saturn", "found", ""),
        ("", "", "clouds from the west"),
        ("hip:91262", "not_seen", ""),
    ]
    assert datetime.fromisoformat(rows[0]["utc"]) == UTC_FIRST
    assert (rows[0]["site"], rows[0]["latitude_deg"]) == ("Loon Barrens", "45.2")
    assert (rows[0]["altitude_deg"], rows[0]["azimuth_deg"]) == ("41.25", "280.5")
    assert (rows[2]["altitude_deg"], rows[2]["site"]) == ("", "")
    assert [row["eyepiece"] for row in rows] == ["9 mm", "", "", "", ""]


def test_json_lines_carry_everything(two_nights: Journal) -> None:
    lines = [json.loads(line) for line in json_lines(entries(two_nights)).splitlines()]
    assert [line["outcome"] for line in lines] == ["found", None, "found", None, "not_seen"]
    assert [line["note"] for line in lines[1:4]] == ["very white", "", "clouds from the west"]
    assert lines[0]["target"] == VEGA
    assert lines[0]["site"] == BARRENS
    assert (lines[0]["altitude_deg"], lines[0]["azimuth_deg"]) == (41.25, 280.5)
    assert lines[0]["eyepiece"] == "9 mm"
    assert lines[2]["site"] is None


def test_the_page_to_read_has_the_site_s_clock(two_nights: Journal) -> None:
    assert night_text(entries(two_nights)) == (
        "Night of 2026-10-10\n"
        "  20:14 ADT  Vega: found, 10×50, 9 mm\n"
        "      blue,\n"
        '      "white"\n'
        "  20:14 ADT  Vega: very white\n"
        "  23:15 UTC  Saturn: found\n"
        "  20:16 ADT  clouds from the west\n"
        "\n"
        "Night of 2026-11-25\n"
        "  20:00 UTC  Vega: not seen\n"
    )


@pytest.mark.parametrize("zone", ["../../etc/passwd", "Nowhere/Town", "", 7, "x" * 5000, "\0"])
def test_a_site_without_a_zone_has_utc_and_nothing_steers_the_terminal(
    journal: Journal, zone: object
) -> None:
    site = {"name": "x", "time_zone": zone}
    journal.mark(FIRST, UTC_FIRST, Mark(VEGA, Outcome.FOUND, note="\x1b[2Jgone", site=site))
    page = night_text(ticks(journal))
    assert "23:14 UTC" in page
    assert "\x1b" not in page


def test_nothing_makes_an_empty_page() -> None:
    assert night_text(()) == ""
    assert json_lines(()) == ""
    assert csv_text(()).startswith("night,utc,key,name,outcome,")


def test_skipped_ones_are_counted_and_spoilt_rows_passed_over(journal: Journal) -> None:
    journal.mark(FIRST, UTC_FIRST, Mark(VEGA, Outcome.SKIPPED))
    spoilt = "INSERT INTO event (utc, night, kind, subject, payload) VALUES (?, ?, ?, ?, ?)"
    for kind, payload in (
        ("marked", '{"target": 7, "outcome": "found"}'),
        ("marked", '{"target": {"key": "x"}, "outcome": "heard"}'),
        ("marked", "{"),
        ("noted", '{"marked": 99, "note": "of nothing"}'),
        ("noted", '{"marked": "1", "note": "of nothing"}'),
    ):
        journal.connection.execute(spoilt, (UTC_FIRST.isoformat(), FIRST, kind, "x", payload))
    assert lifetime(journal).nights == (Night(FIRST, skipped=1),)
    assert [(tick.key, tick.note) for tick in ticks(journal)] == [("hip:91262", "")]
