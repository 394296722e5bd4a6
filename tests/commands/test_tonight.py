import io
import json
import sys
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import icalendar
import pytest

from .conftest import Run

HERE = ("--site", "Loon Barrens", "--at", "2026-10-10T20:14")
FAR = ("--lat", "80", "--lon", "20", "--at", "2026-06-21T12:00Z")


def test_tonight_is_ranked(run: Run) -> None:
    code, out, err = run("tonight", *HERE, "--json")
    answer: dict[str, Any] = json.loads(out)
    assert (code, err) == (0, "")
    assert answer["instrument"] == "10×50"
    assert answer["sky_assumed"] is True
    assert answer["considered"] > 13_000
    assert len(answer["targets"]) == 20
    assert {"M 31", "Double Cluster"} <= {target["name"] for target in answer["targets"][:4]}
    assert answer["targets"][0]["reason"]
    assert answer["night"]["dark_from_utc"] == "2026-10-10T23:10:33Z"
    for target in answer["targets"]:
        assert target["opens_utc"] <= target["best_utc"] <= target["closes_utc"]
        assert target["why"]
        assert target["grade"] in {"easy", "fair", "hard", "doubtful"}


def test_a_person_reads_why_under_each_row(run: Run) -> None:
    code, out, _err = run("tonight", *HERE, "--instrument", "150", "--limit", 5)
    lines = out.splitlines()
    assert code == 0
    assert lines[0].startswith("Loon Barrens, 150 mm f/8: dark 20:10 to 05:42")
    assert "(assumed)" in lines[1]
    assert lines[2].split() == ["target", "best", "altitude", "azimuth", "from", "until"]
    assert lines[3].startswith("Saturn ")
    assert lines[4].startswith("    planet: ")
    rows = [line for line in lines[3:-1] if not line.startswith("    ")]
    assert len(rows) == 5
    assert max(len(line) for line in lines[2:]) <= 79
    assert lines[-1].endswith("more; --limit shows them")


def test_the_list_is_filtered(run: Run) -> None:
    words = ("--kinds", "galaxies,planets", "--constellations", "And,triangulum", "--lowest", "30")
    code, out, _err = run("tonight", *HERE, "--instrument", "200", *words, "--json")
    targets = json.loads(out)["targets"]
    assert code == 0
    assert {target["kind"] for target in targets} == {"galaxy"}
    assert {target["constellation"] for target in targets} == {"And", "Tri"}
    assert min(target["altitude_deg"] for target in targets) >= 30.0


def test_the_hours_hold_for_the_list_and_for_the_order(run: Run, tmp_path: Path) -> None:
    words = ("--hours", "22:00-23:30", "--json")
    targets = json.loads(run("tonight", *HERE, *words)[1])["targets"]
    assert all(t["opens_utc"] >= "2026-10-11T01:00" for t in targets)
    assert all(t["closes_utc"] <= "2026-10-11T02:30:00Z" for t in targets)
    wanted = tmp_path / "list.txt"
    wanted.write_text("m 31\nm 13\nalbireo\n", encoding="utf-8")
    planned = json.loads(run("order", str(wanted), *HERE, *words)[1])["order"]
    assert all(stop["start_utc"] >= "2026-10-11T01:00" for stop in planned)
    assert all(stop["end_utc"] <= "2026-10-11T02:30:00Z" for stop in planned)
    code, _out, err = run("order", str(wanted), *HERE, "--hours", "19:00-20:00")
    assert code == 1
    assert "within your hours, 19:00 to 20:00" in err


def test_what_was_found_before_is_known(run: Run) -> None:
    assert run("mark", "m 31", "found", *HERE)[0] == 0
    _code, out, _err = run("tonight", *HERE, "--json", "--limit", 3)
    seen = {t["name"]: t["seen"] for t in json.loads(out)["targets"]}
    assert seen["M 31"]
    assert sum(seen.values()) == 1
    _code, out, _err = run("tonight", *HERE, "--json", "--limit", 3, "--unseen")
    assert "M 31" not in {t["name"] for t in json.loads(out)["targets"]}


def test_a_darker_sky_shows_more(run: Run) -> None:
    passed = [
        json.loads(run("tonight", *HERE, "--kinds", "galaxies", "--json", *dark)[1])["passed"]
        for dark in (("--bortle", 9), ("--faintest", 5.5), ("--meter", 21.9))
    ]
    assert passed == sorted(passed)
    assert passed[0] < passed[2] / 3


def test_a_ready_made_round(run: Run) -> None:
    code, out, _err = run("tonight", *HERE, "--round", "visitors", "--json")
    assert code == 0
    assert 0 < len(json.loads(out)["targets"]) <= 8


def test_polar_day_is_answered_in_words(run: Run) -> None:
    _code, out, _err = run("tonight", *FAR, "--instrument", "eye")
    assert "polar day: the Sun does not set" in out


@pytest.mark.parametrize(
    ("words", "code", "text"),
    [
        (("tonight",), 1, "No place is known yet"),
        (("tonight", *HERE, "--instrument", "400"), 1, "No instrument is called"),
        (("tonight", *HERE, "--kinds", "teapots"), 1, "is not a kind of target"),
        (("tonight", *HERE, "--constellations", "Teapot"), 1, "are constellations"),
        (("tonight", *HERE, "--round", "teapots"), 1, "visitors"),
        (("tonight", *HERE, "--bortle", "12"), 1, "outside 1 to 9"),
        (("tonight", *HERE, "--bortle", "3", "--meter", "21"), 2, "--help"),
        (("tonight", *HERE, "--age", "1"), 1, "outside 5 years to 110 years"),
        (("tonight", *HERE, "--lowest", "95"), 1, "are not a range"),
        (("tonight", *HERE[:2], "--at", "2200-01-01"), 1, "outside the ephemeris"),
        (("order", "/no/such/list", *HERE), 1, "cannot be read"),
    ],
)
def test_errors_are_one_line_that_instructs(
    run: Run, words: tuple[str, ...], code: int, text: str
) -> None:
    got, out, err = run(*words)
    assert got == code
    assert text in err
    assert err.count("\n") == 1
    assert "Traceback" not in err + out


LIST = "name,minutes,value\nM 13,10,3\nSaturn,,5\nM 31\nAlbireo\nCanopus\nno such thing\n"


@pytest.fixture
def listed(tmp_path: Path) -> Path:
    path = tmp_path / "list.csv"
    path.write_text(LIST)
    return path


def test_a_list_is_ordered(run: Run, listed: Path) -> None:
    code, out, err = run("order", listed, *HERE, "--start", "20:30", "--end", "22:00", "--json")
    answer = json.loads(out)
    assert (code, err) == (0, "")
    assert {stop["name"] for stop in answer["order"]} == {"M 13", "Saturn", "M 31", "Albireo"}
    times = [(stop["start_utc"], stop["end_utc"]) for stop in answer["order"]]
    assert times == sorted(times)
    assert times[0][0] >= "2026-10-10T23:30:00Z"
    assert times[-1][1] <= "2026-10-11T01:00:00Z"
    assert answer["lost"] == [
        {
            "key": "hip:30438",
            "name": "Canopus",
            "value": 1.0,
            "code": "no_window",
            "why": "does not rise here",
        }
    ]
    assert 0.0 < answer["gain"] < answer["value"] == 10.0
    assert all(0.0 < stop["gain"] <= 1.0 for stop in answer["order"])
    assert answer["exact"] is True
    (report,) = answer["not_understood"]
    assert report.startswith("Line 7: “no such thing”")


def test_a_person_reads_the_order(run: Run, listed: Path) -> None:
    code, out, err = run("order", listed, *HERE, "--start", "20:30", "--end", "02:00")
    assert code == 0
    assert "lost: Canopus: does not rise here" in out
    assert "closes" in out
    assert "Line 7: “no such thing”" in err


def test_the_plan_is_written_for_others(run: Run, listed: Path, tmp_path: Path) -> None:
    calendar, table = tmp_path / "plan.ics", tmp_path / "plan.csv"
    code, _out, _err = run(
        "order", listed, *HERE, "--calendar", calendar, "--table", table, "--minutes", 5
    )
    assert code == 0
    events = icalendar.Calendar.from_ical(calendar.read_bytes()).walk("VEVENT")
    assert {str(event["summary"]) for event in events} == {"M 13", "Saturn", "M 31", "Albireo"}
    assert len(table.read_text().splitlines()) == 5
    code, _out, err = run("order", listed, *HERE, "--table", tmp_path / "none" / "plan.csv")
    assert code == 1
    assert "cannot be written" in err


def test_a_list_of_nonsense_fails_in_words(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "nonsense"
    path.write_bytes(b"\xff\xfe\x00\x01" + bytes(range(256)) * 4)
    code, _out, err = run("order", path, *HERE)
    assert code == 1
    assert "No line of this list was understood" in err
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"saturn\n")))
    code, out, _err = run("order", "-", *HERE, "--json")
    assert (code, json.loads(out)["order"][0]["name"]) == (0, "Saturn")


def test_polar_day_orders_what_there_is(run: Run, listed: Path) -> None:
    code, out, _err = run("order", listed, *FAR, "--json")
    answer = json.loads(out)
    assert code in {0, 1}
    assert len(answer["order"]) + len(answer["lost"]) == 5


def test_a_start_with_a_date_means_that_date(run: Run, listed: Path) -> None:
    code, out, _err = run("order", listed, *HERE, "--start", "2026-11-14T21:30", "--json")
    times = [stop["start_utc"] for stop in json.loads(out)["order"]]
    assert code == 0
    assert times == sorted(times)
    assert times[0] >= "2026-11-15T01:30:00Z"  # Atlantic Standard Time by then
    assert times[-1] <= "2026-11-15T11:00:00Z"


@pytest.mark.parametrize(
    ("at", "start", "first"),
    [
        ("2026-10-10T20:14", "21:00", "2026-10-11T00:00:00Z"),
        ("2026-10-10T20:14", "01:30", "2026-10-11T04:30:00Z"),  # after midnight
        ("2026-10-11T00:30", "01:30", "2026-10-11T04:30:00Z"),
        ("2026-10-10T14:00", "21:00", "2026-10-11T00:00:00Z"),
        ("2026-10-10T22:00", "21:00", "2026-10-12T00:00:00Z"),  # gone by today: tomorrow's
    ],
)
def test_a_time_of_the_day_is_the_coming_one(
    run: Run, listed: Path, at: str, start: str, first: str
) -> None:
    where = ("--site", "Loon Barrens", "--at", at)
    code, out, _err = run("order", listed, *where, "--start", start, "--json")
    times = [stop["start_utc"] for stop in json.loads(out)["order"]]
    assert code == 0
    assert first <= times[0] < first.replace("T0", "T1")


@pytest.mark.parametrize(
    ("start", "text"),
    [
        ("2150-10-09T21:00", "ephemeris"),
        ("2026-13-12", "is not a time"),
        ("2026-10-12T25:00", "is not a time"),
    ],
)
def test_a_start_that_cannot_be_is_refused(run: Run, listed: Path, start: str, text: str) -> None:
    code, out, err = run("order", listed, *HERE, "--start", start)
    assert (code, out) == (1, "")
    assert text in err
    assert "Traceback" not in err


def test_a_long_list_says_what_was_left_out(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "many.txt"
    path.write_text("".join(f"NGC {number}\n" for number in range(6000, 6400)))
    words = ("--start", "21:00", "--end", "22:00")
    code, out, _err = run("order", path, *HERE, *words, "--json")
    answer = json.loads(out)
    assert code == 0
    codes = {lost["code"] for lost in answer["lost"]}
    assert {"outranked", "no_window"} <= codes
    lines = run("order", path, *HERE, *words)[1].splitlines()
    assert len(lines) < 60
    assert lines[-1] == f"lost: {len(answer['lost']) - 40} more; --json tells all of them"


@pytest.mark.parametrize(
    ("start", "first", "said"),
    [
        ("2026-11-14", "2026-11-14T21:45:00Z", ""),  # dusk of that date
        ("2026-10-10", "2026-10-10T23:14:00Z", ""),  # tonight, and dusk is over: now
        ("2026-10-02T21:00", "2026-10-03T00:00:00Z", "The night of 2026-10-02 is past"),
        ("2026-10-02", "2026-10-02T22:50:00Z", "The night of 2026-10-02 is past"),
    ],
)
def test_a_date_is_that_date_gone_by_or_not(
    run: Run, listed: Path, start: str, first: str, said: str
) -> None:
    code, out, err = run("order", listed, *HERE, "--start", start, "--json")
    (begun, *_others) = [stop["start_utc"] for stop in json.loads(out)["order"]]
    assert code == 0
    after = datetime.fromisoformat(begun) - datetime.fromisoformat(first)
    assert timedelta(0) <= after < timedelta(minutes=45)
    assert said in err
    assert bool(err) == bool(said)


def test_a_list_full_of_repeats_is_reported_in_part(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "many.txt"
    path.write_text("\n".join(["vega"] * 300))
    code, _out, err = run("order", path, *HERE)
    assert code == 0
    lines = err.splitlines()
    assert len(lines) == 101
    assert lines[-1].endswith("199 more lines; --json tells all of them")
