import json
from datetime import UTC, datetime
from pathlib import Path

from companion.journal import FILE_NAME, Journal, learn_change, prepared_home

from .conftest import Run

EVENING = ("--site", "Loon Barrens", "--at", "2027-04-10T22:00")
KEYS = ("title", "look_azimuth_deg", "look_altitude_deg", "sentences", "check", "waits_until")


def test_the_next_steps_with_their_keys(run: Run) -> None:
    code, out, err = run("road", *EVENING, "--json")
    assert (code, err) == (0, "")
    answer = json.loads(out)
    assert answer["steps"][0]["title"] == "The group to begin at: the Big Dipper"
    for step in answer["steps"]:
        assert set(KEYS) <= set(step)
        assert isinstance(step["sentences"], list)


def test_the_journal_moves_the_road_on(run: Run, home: Path) -> None:
    prepared_home(home)
    journal = Journal(home / FILE_NAME)
    utc = datetime(2027, 4, 9, 1, 0, tzinfo=UTC)
    journal.do(learn_change("2027-04-08", utc, "own-group", "group:dipper", found=True))
    journal.close()
    code, out, _err = run("road", *EVENING)
    assert code == 0
    assert "1. Again: The group to begin at: the Big Dipper" in out
    assert "First without help: find the Big Dipper" in out


def test_it_reads_as_sentences(run: Run) -> None:
    code, out, _err = run("road", *EVENING, "--instrument", "eye")
    assert code == 0
    assert "1. The group to begin at" in out
    assert "later: " in out
