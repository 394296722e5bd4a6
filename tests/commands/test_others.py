import json
from datetime import UTC, datetime
from pathlib import Path

import pytest

from companion.finding import Eyepiece, Instrument, InstrumentKind
from companion.journal import FILE_NAME, Journal, Outcome, night_of, ticks, to_plain
from companion.night import find_instrument
from companion.sky import zone_of

from .conftest import Run

PLACE = ("--lat", "45.2N", "--lon", "62.3W", "--at", "2026-10-10T20:14")


def test_the_compass_is_told_with_its_error(run: Run) -> None:
    code, out, _err = run("compass", *PLACE, "--json")
    answer = json.loads(out)
    assert code == 0
    assert answer["declination_deg"] == pytest.approx(-16.3, abs=0.2)
    assert answer["compass_for_true_north_deg"] == pytest.approx(-answer["declination_deg"])
    assert answer["zone"] == "plain"
    assert not answer["expired"]
    code, out, _err = run("compass", *PLACE)
    assert "16.3° west" in out
    assert "Polaris stands" in out


def test_the_blackout_zone_and_an_expired_model_are_said(run: Run) -> None:
    _code, out, _err = run("compass", "--lat", 86, "--lon", 140, "--at", "2031-01-01T00:00Z")
    assert "no compass can be trusted" in out
    assert "expired" in out
    assert "must read" not in out


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("m31", "M 31"),
        ("NGC 224", "M 31"),
        ("alp lyr", "Vega"),
        ("α Lyr", "Vega"),
        ("HIP 91262", "Vega"),
        ("saturm", "Saturn"),
    ],
)
def test_find_understands_what_people_type(run: Run, text: str, name: str) -> None:
    code, out, _err = run("find", text, "--json")
    assert code == 0
    assert json.loads(out)["hits"][0]["name"] == name


@pytest.mark.parametrize("text", ["", "'; DROP TABLE star; --", "qqqqqqqq", "x" * 1_000_000])
def test_nothing_found_is_said_and_fails(run: Run, text: str) -> None:
    code, _out, err = run("find", text)
    assert code == 1
    assert "Nothing is called" in err
    assert err.count("\n") == 1


def test_marks_go_into_the_journal_of_the_window(run: Run, home: Path) -> None:
    words = ("mark", "m31", "found", "--note", 'dust lane, "wow"; é')
    code, out, err = run(*words, *PLACE)
    assert (code, err) == (0, "")
    assert "night of 2026-10-10" in out
    run("mark", "vega", "not_seen", *PLACE)
    journal = Journal(home / FILE_NAME)
    utc = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
    state = journal.evening(night_of(utc, zone_of("America/Halifax")))
    (m31, vega) = ticks(journal)
    journal.close()
    assert [(entry.name, entry.outcome) for entry in state.queue] == [
        ("M 31", Outcome.FOUND),
        ("Vega", Outcome.NOT_SEEN),
    ]
    assert (vega.altitude_deg, vega.azimuth_deg) == pytest.approx((69.6, 261.1), abs=0.1)
    assert (m31.altitude_deg, m31.azimuth_deg) == pytest.approx((43.7, 70.3), abs=0.1)
    assert state.queue[0].note == 'dust lane, "wow"; é'


def test_a_mark_tells_what_was_looked_through(run: Run, home: Path) -> None:
    scope = Instrument(
        "Big one",
        InstrumentKind.TELESCOPE,
        250.0,
        focal_mm=1250.0,
        eyepieces=(Eyepiece("13 mm", 13.0, 68.0),),
    )
    home.mkdir(exist_ok=True)
    journal = Journal(home / FILE_NAME)
    journal.set(datetime(2026, 10, 10, tzinfo=UTC), "instruments", [to_plain(scope)])
    journal.set(datetime(2026, 10, 10, tzinfo=UTC), "instrument", "Big one")
    journal.close()
    assert run("mark", "m31", "found", *PLACE)[0] == 0
    assert run("mark", "m15", "found", "--eyepiece", "13 MM", *PLACE)[0] == 0
    assert run("mark", "m2", "found", "--instrument", "10x50", *PLACE)[0] == 0
    code, _out, err = run("mark", "m33", "found", "--eyepiece", "7 mm", *PLACE)
    assert code == 1
    assert "no eyepiece called '7 mm'" in err
    journal = Journal(home / FILE_NAME)
    found = [(tick.name, tick.instrument, tick.eyepiece) for tick in ticks(journal)]
    journal.close()
    assert found == [
        ("M 31", "Big one", ""),
        ("M 15", "Big one", "13 mm"),
        ("M 2", find_instrument("10x50").name, ""),
    ]


def test_a_journal_that_is_none_is_left_alone(run: Run, home: Path) -> None:
    home.mkdir()
    (home / FILE_NAME).write_text("a letter to my aunt, longer than a hundred bytes " * 4)
    before = (home / FILE_NAME).read_bytes()
    code, _out, err = run("mark", "vega", "found", *PLACE)
    assert code == 1
    assert "no journal of this program" in err
    assert err.count("\n") == 1
    assert (home / FILE_NAME).read_bytes() == before


def test_a_home_that_is_a_file_is_refused(run: Run, home: Path) -> None:
    home.write_text("")
    code, _out, err = run("mark", "vega", "found", *PLACE)
    assert code == 1
    assert "is not a folder" in err
    # What needs no journal is answered all the same.
    code, _out, err = run("aim", "vega", *PLACE)
    assert code == 0


@pytest.mark.parametrize("name", ["betelguese", "vgea", "Melotte 250", "r car", "Leo II"])
def test_nothing_is_written_down_for_a_guess(run: Run, home: Path, name: str) -> None:
    code, out, err = run("mark", name, "found", *PLACE)
    assert (code, out) == (1, "")
    assert "is not known" in err or "may mean several things" in err
    assert not (home / FILE_NAME).exists()


@pytest.mark.parametrize("command", ["aim", "way"])
def test_a_corrected_name_is_said(run: Run, command: str) -> None:
    words = (command, "arcturos", "--lat", "45.2N", "--lon", "62.3W", "--at", "2026-05-10T23:14")
    code, out, _err = run(*words, "--json")
    answer = json.loads(out)
    assert code == 0
    assert (answer["name"], answer["taken_for"]) == ("Arcturus", "Arcturus")
    assert "taken for Arcturus" in run(*words)[1]
    assert "taken_for" not in json.loads(run(command, "arcturus", *words[2:], "--json")[1])


@pytest.mark.parametrize("command", ["aim", "way"])
@pytest.mark.parametrize("name", ["charon", "Stock 4", "pi ori", "vgea"])
def test_no_numbers_are_given_for_a_guess(run: Run, command: str, name: str) -> None:
    code, out, err = run(command, name, *PLACE)
    assert code == 1
    assert "°" not in out.replace("45.20°", "").replace("62.30°", "")
    assert name in out + err


def test_find_says_how_a_name_was_matched(run: Run) -> None:
    for text, match in (("vega", "exact"), ("r car", "several"), ("vgea", "like")):
        assert json.loads(run("find", text, "--json")[1])["hits"][0]["match"] == match
    assert "a guess, spelled like Vega" in run("find", "vgea")[1]
