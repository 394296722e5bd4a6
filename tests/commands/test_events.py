import json
from pathlib import Path

import icalendar

from .conftest import Run

CERES = (
    "00001    3.34  0.15 K26BL 188.70269   73.27343   80.25221   10.58780  0.0794013  0.21424651"
    "   2.7660512  0 E2024-V47  7258 123 1801-2024 0.80 M-v 30k MPCLINUX   4000      (1) Ceres"
)
HERE = ("--site", "Loon Barrens", "--at", "2026-08-01T00:00:00Z")


def test_events_are_an_object_a_line_in_order_of_time(run: Run) -> None:
    code, out, err = run("events", *HERE, "--days", 30, "--kinds", "eclipses,meteors", "--json")
    events = [json.loads(line) for line in out.splitlines()]
    assert (code, err) == (0, "")
    assert [e["utc"] for e in events] == sorted(e["utc"] for e in events)
    sun = next(e for e in events if e["kind"] == "solar_eclipse")
    assert set(sun) >= {
        "kind", "title", "utc", "start_utc", "end_utc", "altitude_deg", "azimuth_deg", "seen_here",
        "why", "bodies", "separation_deg", "magnitude", "obscuration", "caution",
    }  # fmt: skip
    assert sun["seen_here"] is True
    assert sun["bodies"] == ["Sun", "Moon"]
    assert "certified solar filter" in sun["caution"]


def test_a_person_reads_when_what_and_how_good(run: Run) -> None:
    code, out, _err = run("events", *HERE, "--kinds", "solar_eclipse")
    assert code == 0
    assert "2026-08-12 15:00  Partial eclipse of the Sun: 52° up in the south-west" in out
    assert "Never look at the Sun" in out


def test_the_calendar_is_written_and_read_back(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "sky.ics"
    code, out, _err = run("events", *HERE, "--kinds", "moon_phase", "--calendar", file, "--json")
    entries = icalendar.Calendar.from_ical(file.read_bytes()).walk("VEVENT")
    assert code == 0
    assert [str(e["summary"]) for e in entries] == [
        json.loads(line)["title"] for line in out.splitlines()
    ]


def test_what_is_no_kind_is_refused_in_one_line(run: Run) -> None:
    code, out, err = run("events", *HERE, "--kinds", "tides")
    assert (code, out) == (1, "")
    assert "not a kind of event" in err


def test_the_end_of_the_ephemeris_is_told(run: Run) -> None:
    last = ("--site", "Loon Barrens", "--at", "2053-09-01T00:00:00Z", "--days", 365)
    code, _out, err = run("events", *last, "--kinds", "moon_phase", "--json")
    assert code == 0
    assert "ephemeris ends on 2053-10-08" in err


def test_aurora_gives_what_kp_it_takes_and_which_way_to_look(run: Run) -> None:
    code, out, _err = run("aurora", *HERE, "--kp", "5+", "--json")
    answer = json.loads(out)
    assert code == 0
    assert set(answer) >= {
        "geomagnetic_latitude_deg", "kp_horizon", "kp_overhead", "look_azimuth_deg", "chance",
    }  # fmt: skip
    assert answer["chance"] == "high"
    assert run("aurora", *HERE, "--kp", "12")[0] == 1


def test_kp_comes_from_a_file_for_the_moment_that_is_asked_about(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "kp.csv"
    file.write_text("2026-11-26T21:00, 7\n2026-11-27T00:00, 2\n")
    for at, kp in (("2026-11-26T22:59Z", 7.0), ("2026-11-27T02:00Z", 2.0)):
        code, out, _err = run("aurora", *HERE[:-2], "--at", at, "--kp-file", file, "--json")
        assert (code, json.loads(out)["kp"]) == (0, kp)
    code, _out, err = run("aurora", *HERE[:-2], "--at", "2026-11-27T03:00Z", "--kp-file", file)
    assert code == 1
    assert "has no Kp for 2026-11-27 03:00 UTC" in err


def test_elements_are_read_kept_and_aimed_at(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "mine.txt"
    file.write_text(f"{CERES}\n{CERES[:90]}\n")
    code, out, _err = run("elements", file, "--json")
    answer = json.loads(out)
    assert code == 0
    assert (answer["kept"], answer["refused_count"]) == (1, 1)
    assert answer["refused"][0]["line"] == 2
    assert "ends before" in answer["refused"][0]["reason"]
    here = ("--site", "Loon Barrens", "--at", "2026-11-26T22:00Z", "--json")
    code, out, _err = run("aim", "Ceres", *here)
    assert code == 0
    assert json.loads(out.splitlines()[0])["altitude_deg"] is not None


def test_a_file_that_is_not_there_is_refused_in_a_line(run: Run, tmp_path: Path) -> None:
    code, _out, err = run("elements", tmp_path / "none.txt")
    assert code == 1
    assert "cannot be read" in err
