"""What strangers and failing disks write into the rows: read as far as it goes, and told."""

import json
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings, strategies as st

from companion.journal import (
    EveningState,
    Journal,
    Mark,
    Outcome,
    entries,
    entries_of,
    json_lines,
    lifetime,
    read_settings,
    ticks,
)

NIGHT = "2026-10-10"
UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
VEGA = {"key": "hip:91262", "name": "Vega"}
SATURN = {"key": "body:saturn", "name": "Saturn"}
_ROW = "INSERT INTO event (utc, night, kind, subject, payload) VALUES (?, ?, ?, ?, ?)"


def write_row(path: Path, kind: object, payload: object, utc: object = UTC_NOW.isoformat()) -> None:
    """Write a row as a stranger would."""
    connection = sqlite3.connect(path)
    connection.execute(_ROW, (utc, NIGHT, kind, "x", payload))
    connection.commit()
    connection.close()


def _read(path: Path) -> EveningState:
    with closing(Journal(path)) as journal:
        told = entries(journal)
        json_lines(told)
        # What is read quickly from all nights is the same as what is read row by row.
        held = [one for night in lifetime(journal).held.values() for one in night]
        assert list(filter(None, entries_of(journal, held).values())) == list(told)
        return journal.evening(NIGHT)


@pytest.fixture
def kept(path: Path) -> Path:
    """A journal with one row queued and one found."""
    with closing(Journal(path)) as journal:
        journal.queue(NIGHT, UTC_NOW, [SATURN])
        journal.mark(NIGHT, UTC_NOW, Mark(VEGA, Outcome.FOUND, note="blue-white"))
        journal.set(UTC_NOW, "mount", "wooden")
    return path


@pytest.mark.parametrize("text", [b"blue-white", b"Saturn", b"queued", b"hip:91262", b"wooden"])
def test_a_byte_that_is_no_text_costs_at_most_its_own_row(kept: Path, text: bytes) -> None:
    data = kept.read_bytes()
    assert text in data
    kept.write_bytes(data.replace(text, b"\xff" + text[1:]))
    state = _read(kept)
    settings_kept = read_settings(kept.parent)
    if text == b"wooden":
        assert settings_kept.mended == ("mount",)
        assert settings_kept.mount == "\N{REPLACEMENT CHARACTER}ooden"
        assert state.flaws == ()
        return
    assert settings_kept.mount == "wooden"
    assert len(state.flaws) == 1
    assert state.flaws[0].number == (1 if text in {b"Saturn", b"queued"} else 2)
    # Only a kind that nobody knows any more takes its row with it; a word does not.
    rows = ["Vega"] if text == b"queued" else ["Saturn", "Vega"]
    assert [entry.name.replace("\N{REPLACEMENT CHARACTER}", "S") for entry in state.queue] == rows


_HAND_MADE: list[tuple[str, object, str]] = [
    ("queued", '{"targets": [{"key": "a", "name": 7}]}', "targets"),
    ("queued", '{"targets": [], "place": "first"}', "row"),
    ("ordered", '{"keys": [["a"], 7, null]}', "order"),
    ("marked", '{"target": {"key": "a", "name": "A"}, "outcome": ["found"]}', "outcome"),
    ("marked", '{"target": {"key": "a", "name": "A"}, "outcome": "sung"}', "sung"),
    ("marked", '{"target": {"key": "a", "name": "A"}, "outcome": "found", "note": 7}', "note"),
    ("noted", '{"note": 7, "marked": "x"}', "note"),
    ("sighted", '{"mount": 7, "sighting": []}', "sighting"),
    ("set aside", '{"numbers": [1.5, true]}', "numbers"),
    ("undone", "{}", "cancels"),
    ("horizon", '{"horizon": 7}', "horizon"),
    ("queued", "[]", "JSON"),
    ("queued", "[" * 100_000, "JSON"),
    ("queued", b"\x00\xff", "text"),
    ("marked", b'{"target": {}, "outcome": "found"}', "text"),
    ("marked", '{"target": {"name": "A"}, "outcome": "found"}', "target"),
    ("marked", '{"target": {"key": "a", "name": "A"}, "outcome": "not seen", "note": []}', "note"),
    ("noted", '{"note": 7, "marked": 2}', "note"),
    ("noted", '{"note": "x", "marked": 2.0}', "note"),
    ("noted", '{"note": "x", "marked": true}', "note"),
    ("queued", "1" * 5000, "JSON"),
    ("marked", '{"target": {"key": "a", "name": "\\ud800"}, "outcome": "found"}', "half"),
]
_MARK = '{"target": {"key": "a", "name": "A"}, "outcome": "found", "azimuth_deg": %s}'
_NUMBERS = [
    ("NaN", "none"),
    ("-Infinity", "none"),
    ("1e999", "place"),
    ('"x"', "place"),
    ("true", "place"),
]


@pytest.mark.parametrize(
    ("kind", "payload", "why"),
    [
        *_HAND_MADE,
        *(("marked", _MARK % number, why) for number, why in _NUMBERS),
    ],
)
def test_hand_made_rows_are_reported_and_harm_no_other(
    kept: Path, kind: str, payload: object, why: str
) -> None:
    write_row(kept, kind, payload)
    state = _read(kept)
    assert [flaw.number for flaw in state.flaws] == [3]
    assert why in state.flaws[0].why
    assert str(state.flaws[0]).startswith(f"Entry 3 of the night {NIGHT}: ")
    assert [entry.key for entry in state.queue[:2]] == ["body:saturn", "hip:91262"]
    with closing(Journal(kept)) as journal:
        assert journal.undo(NIGHT, UTC_NOW).event is not None


@pytest.mark.parametrize("utc", ["yesterday", "0001-01-01T00:00:00+14:00", 7, b"\xff"])
def test_a_row_without_a_usable_moment_is_reported(kept: Path, utc: object) -> None:
    write_row(kept, "marked", "{}", utc)
    state = _read(kept)
    assert [flaw.number for flaw in state.flaws] == [3]


_PLAIN = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(
        st.sampled_from(["target", "targets", "key", "keys", "name", "outcome", "note", "marked",
                         "numbers", "place", "site", "sighting", "mount", "horizon", "x"]),
        inner, max_size=5),
    max_leaves=12,
)  # fmt: skip
_KINDS = ["queued", "marked", "noted", "ordered", "sighted", "set aside", "undone", "horizon", "x"]


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(_KINDS), _PLAIN)
def test_no_payload_at_all_keeps_a_journal_from_being_read(
    tmp_path_factory: pytest.TempPathFactory, kind: str, payload: object
) -> None:
    path = tmp_path_factory.mktemp("hand") / "journal.sqlite"
    with closing(Journal(path)) as journal:
        journal.mark(NIGHT, UTC_NOW, Mark(VEGA, Outcome.FOUND))
    write_row(path, kind, json.dumps(payload))
    assert _read(path).entry("hip:91262") is not None


def test_marks_at_one_site_keep_its_horizon_once(
    open_journal: Callable[[], Journal], path: Path
) -> None:
    horizon = [[float(azimuth), 5.25] for azimuth in range(360)]
    site = {"name": "Loon Barrens", "latitude_deg": 45.2, "horizon": horizon}
    journal = open_journal()
    for number in range(60):
        target = {"key": f"hip:{number}", "name": f"star {number}"}
        night = f"2026-10-{10 + number // 20}"
        journal.mark(night, UTC_NOW, Mark(target, Outcome.FOUND, site=site))
    bare = {"name": "Loon Barrens", "latitude_deg": 45.2}
    journal.mark(NIGHT, UTC_NOW, Mark(VEGA, Outcome.FOUND, site=bare))
    journal.checkpoint()
    assert path.stat().st_size < 100_000  # one horizon takes 4,000
    told = ticks(open_journal())
    assert len(told) == 61
    assert {str(tick.site) for tick in told} == {str(bare)}
    rows = journal.connection.execute("SELECT payload FROM event WHERE kind = 'horizon'").fetchall()
    assert [json.loads(text)["horizon"] for (text,) in rows] == [horizon]
    marked = journal.connection.execute("SELECT payload FROM event WHERE kind = 'marked'")
    assert [json.loads(text).get("horizon") for (text,) in marked] == [1] * 60 + [None]
    # It is no step of the evening: nothing of it is undone.
    undone = journal.undo(NIGHT, UTC_NOW).event
    assert undone is not None
    assert undone.subject == "hip:91262"
