from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings, strategies as st

from companion.journal import (
    LONGEST_TEXT,
    EveningState,
    Journal,
    JournalError,
    Mark,
    Outcome,
    QueueEntry,
    Written,
    keep_change,
    to_plain,
)
from companion.journal.changes import change_line, read_change
from companion.sky import Kind, Target

NIGHT = "2026-10-10"
UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
SATURN = to_plain(Target("body:saturn", "Saturn", Kind.PLANET, body="saturn"))
VEGA = to_plain(Target("hip:91262", "Vega", Kind.STAR, 279.2, 38.8))
M31 = to_plain(Target("ngc:NGC0224", "M 31", Kind.GALAXY, 10.7, 41.3))
THREE = [SATURN, VEGA, M31]
KEYS = ["body:saturn", "hip:91262", "ngc:NGC0224"]


def keys(state: EveningState) -> list[str]:
    return [entry.key for entry in state.queue]


def entry(state: EveningState, key: str) -> QueueEntry:
    found = state.entry(key)
    assert found is not None
    return found


def test_an_empty_night_is_empty(journal: Journal) -> None:
    assert journal.evening(NIGHT) == EveningState(NIGHT)
    assert journal.undo(NIGHT, UTC_NOW) == Written(EveningState(NIGHT), None)
    assert journal.redo(NIGHT, UTC_NOW) == Written(EveningState(NIGHT), None)
    assert journal.queue(NIGHT, UTC_NOW, []) == Written(EveningState(NIGHT), None)


def test_the_queue_keeps_its_order_over_a_restart(open_journal: Callable[[], Journal]) -> None:
    first = open_journal()
    first.queue(NIGHT, UTC_NOW, THREE[:2])
    first.queue(NIGHT, UTC_NOW, [M31], place=0)
    told = first.order(NIGHT, UTC_NOW, ["hip:91262", "nothing:here"]).state
    kept = open_journal().evening(NIGHT)
    assert kept == told
    assert keys(kept) == ["hip:91262", "ngc:NGC0224", "body:saturn"]
    assert entry(kept, "hip:91262").target == VEGA


def test_a_mark_carries_its_circumstances(open_journal: Callable[[], Journal]) -> None:
    first = open_journal()
    first.queue(NIGHT, UTC_NOW, THREE)
    mark = Mark(VEGA, Outcome.FOUND, "blue-white", "10×50", {"name": "Loon Barrens"}, 41.3, 280.5)
    written = first.mark(NIGHT, UTC_NOW, mark)
    kept = entry(open_journal().evening(NIGHT), "hip:91262")
    assert (kept.outcome, kept.utc, kept.note) == (Outcome.FOUND, UTC_NOW, "blue-white")
    assert kept.instrument == "10×50"
    assert written.event is not None
    assert written.event.payload["altitude_deg"] == 41.3
    assert written.event.payload["site"] == {"name": "Loon Barrens"}
    assert kept.marked == written.event.number


def test_a_target_outside_the_queue_can_be_marked(journal: Journal) -> None:
    state = journal.mark(NIGHT, UTC_NOW, Mark(M31, Outcome.NOT_SEEN)).state
    assert keys(state) == ["ngc:NGC0224"]
    assert state.queue[0].outcome == Outcome.NOT_SEEN


def test_a_slip_is_mended_by_the_right_key_and_undone_to_the_slip(journal: Journal) -> None:
    journal.queue(NIGHT, UTC_NOW, THREE)
    journal.mark(NIGHT, UTC_NOW, Mark(VEGA, Outcome.SKIPPED))
    mended = journal.mark(NIGHT, UTC_NOW, Mark(VEGA, Outcome.FOUND)).state
    assert entry(mended, "hip:91262").outcome == Outcome.FOUND
    undone = journal.undo(NIGHT, UTC_NOW).state
    assert entry(undone, "hip:91262").outcome == Outcome.SKIPPED


def test_a_note_is_kept_with_a_target_that_waits_and_with_the_night_itself(
    journal: Journal,
) -> None:
    journal.queue(NIGHT, UTC_NOW, [VEGA])
    state = journal.note(NIGHT, UTC_NOW, "flickers", VEGA).state
    assert (entry(state, "hip:91262").outcome, entry(state, "hip:91262").note) == (
        Outcome.WAITING,
        "flickers",
    )
    state = journal.note(NIGHT, UTC_NOW, "an aurora begins").state
    assert [(one.key, one.text) for one in state.remarks] == [
        ("hip:91262", "flickers"),
        ("", "an aurora begins"),
    ]
    assert journal.undo(NIGHT, UTC_NOW).state.remarks == state.remarks[:1]


def test_another_outcome_keeps_what_was_noted_and_the_same_one_changes_nothing(
    journal: Journal,
) -> None:
    journal.mark(NIGHT, UTC_NOW, Mark(VEGA, Outcome.FOUND, note="blue-white"))
    journal.note(NIGHT, UTC_NOW, "steady", VEGA)
    assert journal.mark(NIGHT, UTC_NOW, Mark(VEGA, Outcome.FOUND)).event is None
    state = journal.mark(NIGHT, UTC_NOW, Mark(VEGA, Outcome.NOT_SEEN, note="a slip")).state
    mended = entry(state, "hip:91262")
    assert mended.outcome == Outcome.NOT_SEEN
    assert mended.note.splitlines() == ["blue-white", "a slip", "steady"]


def test_an_outcome_can_be_taken_back_and_that_undone(journal: Journal) -> None:
    journal.mark(NIGHT, UTC_NOW, Mark(VEGA, Outcome.FOUND, note="seen"))
    waiting = journal.mark(NIGHT, UTC_NOW, Mark(VEGA, Outcome.WAITING)).state
    assert keys(waiting) == []  # it was in the queue only by its outcome
    assert journal.mark(NIGHT, UTC_NOW, Mark(VEGA, Outcome.WAITING)).event is None
    assert entry(journal.undo(NIGHT, UTC_NOW).state, "hip:91262").note == "seen"


def test_a_new_action_ends_what_could_be_redone(journal: Journal) -> None:
    journal.queue(NIGHT, UTC_NOW, [SATURN])
    journal.queue(NIGHT, UTC_NOW, [VEGA])
    undone = journal.undo(NIGHT, UTC_NOW)
    assert undone.event is not None
    assert undone.event.subject == "hip:91262"
    assert undone.state.redo is not None
    state = journal.queue(NIGHT, UTC_NOW, [M31]).state
    assert state.redo is None
    assert journal.redo(NIGHT, UTC_NOW).event is None
    assert keys(state) == ["body:saturn", "ngc:NGC0224"]


def test_redo_tells_the_action_that_holds_again(journal: Journal) -> None:
    marked = journal.mark(NIGHT, UTC_NOW, Mark(VEGA, Outcome.FOUND)).event
    journal.undo(NIGHT, UTC_NOW)
    assert journal.redo(NIGHT, UTC_NOW).event == marked


def test_a_marked_target_that_is_queued_again_waits_again(journal: Journal) -> None:
    journal.mark(NIGHT, UTC_NOW, Mark(VEGA, Outcome.FOUND))
    again = journal.queue(NIGHT, UTC_NOW, [VEGA]).state
    assert entry(again, "hip:91262").outcome == Outcome.WAITING


def test_one_that_waits_stays_where_it_is_unless_a_row_is_given(journal: Journal) -> None:
    journal.queue(NIGHT, UTC_NOW, THREE)
    assert keys(journal.queue(NIGHT, UTC_NOW, [SATURN]).state) == KEYS
    assert keys(journal.queue(NIGHT, UTC_NOW, [M31], place=0).state) == [KEYS[2], *KEYS[:2]]


def test_actions_that_change_nothing_are_not_written(journal: Journal) -> None:
    last = journal.queue(NIGHT, UTC_NOW, THREE).state.last_number
    for written in (
        journal.remove(NIGHT, UTC_NOW, "nothing:here"),
        journal.order(NIGHT, UTC_NOW, KEYS),
        journal.note(NIGHT, UTC_NOW, " ", VEGA),
        journal.set_aside(NIGHT, UTC_NOW, [7, 8]),
    ):
        assert written.event is None
        assert written.state.last_number == last


def test_nights_are_kept_apart(journal: Journal) -> None:
    journal.queue(NIGHT, UTC_NOW, [SATURN])
    journal.queue("2026-10-11", UTC_NOW + timedelta(days=1), [VEGA])
    assert keys(journal.evening(NIGHT)) == ["body:saturn"]
    journal.undo(NIGHT, UTC_NOW)
    assert keys(journal.evening("2026-10-11")) == ["hip:91262"]


def test_sightings_are_set_aside_and_brought_back(open_journal: Callable[[], Journal]) -> None:
    journal = open_journal()
    for reading in (1.0, 2.0):
        journal.sight(NIGHT, UTC_NOW, "wooden", {"azimuth_reading_deg": reading})
    first, second = (entry.number for entry in journal.evening(NIGHT).sightings)
    aside = journal.set_aside(NIGHT, UTC_NOW, [first, 99]).state
    assert [entry.set_aside for entry in aside.sightings] == [True, False]
    assert open_journal().evening(NIGHT) == aside
    back = journal.bring_back(NIGHT, UTC_NOW, [first, second]).state
    assert [entry.set_aside for entry in back.sightings] == [False, False]
    assert back.sightings[0].sighting == {"azimuth_reading_deg": 1.0}
    assert back.sightings[0].mount == "wooden"


def test_a_sighting_that_is_kept_says_so_until_that_is_undone(journal: Journal) -> None:
    journal.sight(NIGHT, UTC_NOW, "wooden", {"azimuth_reading_deg": 1.0})
    (number,) = (entry.number for entry in journal.evening(NIGHT).sightings)
    for _again in range(2):
        journal.do(read_change(change_line(keep_change(NIGHT, UTC_NOW, [number, 99]))))
        assert [entry.kept for entry in journal.evening(NIGHT).sightings] == [True]
    assert [e.kept for e in journal.undo(NIGHT, UTC_NOW).state.sightings] == [False]
    journal.redo(NIGHT, UTC_NOW)
    aside = journal.set_aside(NIGHT, UTC_NOW, [number]).state
    assert [(e.set_aside, e.kept) for e in aside.sightings] == [(True, False)]


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("'; DROP TABLE event; --", "'; DROP TABLE event; --"),
        ("a\0b", "ab"),
        ("caf\udce9", "caf?"),  # from a terminal of another encoding
        ("two\nlines \N{TELESCOPE} \u202e", "two\nlines \N{TELESCOPE} \u202e"),
        ("x" * LONGEST_TEXT, "x" * LONGEST_TEXT),
    ],
)
def test_hostile_notes_come_back(
    open_journal: Callable[[], Journal], typed: str, kept: str
) -> None:
    open_journal().mark(NIGHT, UTC_NOW, Mark(VEGA, Outcome.FOUND, note=typed))
    assert entry(open_journal().evening(NIGHT), "hip:91262").note == kept
    open_journal().note(NIGHT, UTC_NOW, "", VEGA)
    open_journal().note(NIGHT, UTC_NOW, typed, VEGA)
    assert entry(open_journal().evening(NIGHT), "hip:91262").remarks == (kept,)


def test_ten_megabytes_of_note_are_refused_and_nothing_is_lost(journal: Journal) -> None:
    before = journal.mark(NIGHT, UTC_NOW, Mark(VEGA, Outcome.FOUND, note="first")).state
    huge = "x" * 10_000_000
    acts: list[Callable[[], Written]] = [
        lambda: journal.note(NIGHT, UTC_NOW, huge, VEGA),
        lambda: journal.mark(NIGHT, UTC_NOW, Mark(VEGA, Outcome.FOUND, note=huge)),
        lambda: journal.queue(NIGHT, UTC_NOW, [VEGA | {"name": huge}]),
        lambda: journal.sight(NIGHT, UTC_NOW, huge, {}),
    ]
    for act in acts:
        with pytest.raises(JournalError, match="Shorten the") as caught:
            act()
        assert len(str(caught.value)) < 400
    assert journal.evening(NIGHT) == before


def test_our_own_slips_are_no_advice(journal: Journal) -> None:
    with pytest.raises(TypeError):
        journal.queue(NIGHT, UTC_NOW, [{"name": "no key"}])
    with pytest.raises(ValueError, match="time zone"):
        journal.queue(NIGHT, UTC_NOW.replace(tzinfo=None), [VEGA])
    with pytest.raises(ValueError, match="JSON"):
        journal.queue(NIGHT, UTC_NOW, [VEGA | {"magnitude": float("nan")}])
    assert journal.evening(NIGHT) == EveningState(NIGHT)


Action = Callable[[Journal], Written]
_targets = st.sampled_from(THREE)
_keys = st.sampled_from(KEYS)
actions: st.SearchStrategy[Action] = st.one_of(
    st.builds(
        lambda target, place: lambda j: j.queue(NIGHT, UTC_NOW, [target], place),
        _targets,
        st.none() | st.integers(0, 3),
    ),
    st.builds(lambda key: lambda j: j.remove(NIGHT, UTC_NOW, key), _keys),
    st.builds(lambda order: lambda j: j.order(NIGHT, UTC_NOW, order), st.permutations(KEYS)),
    st.builds(
        lambda target, outcome: lambda j: j.mark(NIGHT, UTC_NOW, Mark(target, outcome)),
        _targets,
        st.sampled_from(Outcome),
    ),
    st.builds(
        lambda target, text: lambda j: j.note(NIGHT, UTC_NOW, text, target),
        st.none() | _targets,
        st.text(max_size=3),
    ),
    st.builds(lambda n: lambda j: j.sight(NIGHT, UTC_NOW, "wooden", {"n": n}), st.integers(0, 9)),
    st.builds(
        lambda numbers: lambda j: j.set_aside(NIGHT, UTC_NOW, numbers),
        st.lists(st.integers(1, 9), max_size=4),
    ),
)


def _shown(state: EveningState) -> tuple[object, object, object]:
    return state.queue, state.sightings, state.remarks


@settings(max_examples=40, deadline=None)
@given(st.lists(actions, max_size=12))
def test_undo_walks_back_to_the_beginning_and_redo_to_the_end(
    tmp_path_factory: pytest.TempPathFactory, story: list[Action]
) -> None:
    path: Path = tmp_path_factory.mktemp("story") / "journal.sqlite"
    journal = Journal(path)
    shown = [_shown(journal.evening(NIGHT))]
    for action in story:
        written = action(journal)
        if written.event is not None:
            shown.append(_shown(written.state))
    for before in reversed(shown[:-1]):
        assert _shown(journal.undo(NIGHT, UTC_NOW).state) == before
    assert journal.undo(NIGHT, UTC_NOW).event is None
    for after in shown[1:]:
        assert _shown(journal.redo(NIGHT, UTC_NOW).state) == after
    assert journal.redo(NIGHT, UTC_NOW).event is None
    read_again = Journal(path)
    assert read_again.evening(NIGHT) == journal.evening(NIGHT)
    read_again.close()
    journal.close()
