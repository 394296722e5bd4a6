import json
import os
import subprocess
import sys
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from companion.sky import LOON_BARRENS, load_catalogue

from . import told
from .conftest import Run
from .test_guide_map import utc_of

ROOT = Path(__file__).parents[2]
AT = "2027-04-10T22:00"
EVENING = ("--site", "Loon Barrens", "--at", AT)


def questions_of(run: Run, count: int, seed: int) -> list[dict[str, Any]]:
    words = ("--questions", count, "--seed", seed, "--json")
    code, out, err = run("rehearse", *EVENING, *words)
    assert (code, err) == (0, "")
    found: list[dict[str, Any]] = json.loads(out)["questions"]
    return found


def test_a_seed_asks_the_same_and_every_kind_comes(run: Run) -> None:
    asked = questions_of(run, 12, 5)
    assert asked == questions_of(run, 12, 5)
    assert len(asked) == 12
    kinds = {question["kind"] for question in asked}
    assert kinds == {"which-is-this", "point-at", "where-at-nine", "which-line"}


def test_each_question_has_one_right_answer(run: Run) -> None:
    """Whoever counts the true choices by astropy's places finds exactly one."""
    utc, site = utc_of(LOON_BARRENS, AT), LOON_BARRENS
    nine = utc_of(LOON_BARRENS, "2027-04-11T21:00")
    for question in questions_of(run, 40, 1):
        assert question["choices"].count(question["answer"]) == 1
        if question["kind"] not in {"point-at", "where-at-nine"}:
            continue
        star = load_catalogue().target(question["subject"])
        when = utc if question["kind"] == "point-at" else nine
        where = told.seen(star, when, site.latitude_deg, site.longitude_deg)
        true = [choice for choice in question["choices"] if told.stands_as_told(choice, where)]
        assert true == [question["answer"]]


def test_questions_read_in_a_terminal_and_elsewhere(run: Run) -> None:
    code, out, _err = run("rehearse", *EVENING, "--questions", 3)
    assert code == 0
    assert "1. " in out
    assert "answers:" in out


def test_a_program_keeps_to_its_rules(run: Run) -> None:
    words = ("--targets", 6, "--minutes", 8, "--instrument", 150, "--json", "--visitors")
    code, out, err = run("program", *EVENING, *words)
    assert (code, err) == (0, "")
    answer = json.loads(out)
    kinds = [stop["kind"] for stop in answer["targets"]]
    assert len(kinds) == 6
    assert max(kinds.count(kind) for kind in kinds) <= 2
    for stop in answer["targets"]:
        assert stop["fact"]
        assert stop["ask"].endswith("?")
        assert stop["look_altitude_deg"] >= 10.0
        assert stop["eyepiece_height_m"] is None  # nobody said how high the mount is
        here = (stop["look_azimuth_deg"], stop["look_altitude_deg"])
        assert told.stands_as_told(stop["where"], here)
    times = [stop["begins_utc"] for stop in answer["targets"]]
    assert times == sorted(times)
    assert len(answer["visitors"]["next_week"]) == 3
    for planned, stop in zip(answer["visitors"]["planned"], answer["targets"], strict=True):
        assert planned.startswith(stop["name"])
    assert answer["visitors"]["saw"] == []  # nobody has seen anything yet


def test_guests_see_moon_and_planets_first_and_nobody_waits(run: Run) -> None:
    """The rest follows the night's own order: turn after turn, no gap for what comes up later."""
    words = ("--targets", 6, "--minutes", 8, "--instrument", 150, "--json")
    code, out, _err = run("program", *EVENING, *words)
    assert code == 0
    stops = json.loads(out)["targets"]
    bodies = [stop["key"].startswith("body:") for stop in stops]
    assert bodies[0]
    assert bodies == sorted(bodies, reverse=True)
    begins = [datetime.fromisoformat(stop["begins_utc"]) for stop in stops]
    gaps = [(late - early).total_seconds() / 60.0 for early, late in pairwise(begins)]
    assert all(8.0 <= gap <= 8.0 + 6.0 for gap in gaps)


def test_what_is_said_is_what_the_page_of_the_target_says(run: Run) -> None:
    """A fact stands at one place: distance and looks are those of the command about it."""
    words = ("--targets", 6, "--minutes", 8, "--instrument", 150, "--json")
    _code, out, _err = run("program", *EVENING, *words)
    for stop in json.loads(out)["targets"]:
        at = ("--site", "Loon Barrens", "--at", stop["begins_utc"], "--instrument", 150)
        code, told_of_it, err = run("about", stop["key"], *at, "--json")
        assert code == 0, err
        far = json.loads(told_of_it).get("distance_ly")
        if far is not None:
            number = stop["far"].removeprefix("about ").removesuffix(" light years away")
            said = float(number.removesuffix(" million").replace(",", ""))
            said *= 1e6 if number.endswith("million") else 1.0
            assert said == pytest.approx(far, rel=0.05)
        assert stop["with"].startswith("150 mm f/8")


def test_those_who_wait_look_at_something_else_each_time(run: Run) -> None:
    words = ("--targets", 5, "--minutes", 8, "--instrument", 150, "--json")
    _code, out, _err = run("program", *EVENING, *words)
    stops = json.loads(out)["targets"]
    eyes = [stop["eye"] for stop in stops]
    assert all(eyes)
    assert len(set(eyes)) >= 4
    for stop in stops:
        assert not stop["eye"].startswith(f"{stop['name']},")


def test_the_sheet_has_what_the_journal_says(run: Run) -> None:
    code, _out, err = run("mark", "Mizar", "found", *EVENING)
    assert code == 0, err
    run("mark", "M 81", "not_seen", *EVENING)
    words = ("--targets", 2, "--visitors", "--json", "--instrument", 150)
    _code, out, _err = run("program", *EVENING, *words)
    assert json.loads(out)["visitors"]["saw"] == ["Mizar"]


def test_no_evening_is_made_of_a_bright_night(run: Run) -> None:
    """In the midnight Sun nothing is recommended, and the reason is said."""
    place = ("--lat", 70, "--lon", 20, "--at", "2027-06-21T23:00+00:00", "--instrument", 150)
    code, out, _err = run("program", *place, "--json")
    answer = json.loads(out)
    assert code == 1
    assert answer["targets"] == []
    assert "Sun does not set" in answer["words"]


def test_the_eyepiece_s_height_follows_the_axis_that_was_measured(run: Run) -> None:
    words = ("--targets", 4, "--minutes", 8, "--instrument", 150, "--json")
    heights = []
    for axis in (1.0, 1.5):
        code, out, _err = run("program", *EVENING, *words, "--axis", axis)
        assert code == 0
        heights.append([stop["eyepiece_height_m"] for stop in json.loads(out)["targets"]])
    for low, high in zip(*heights, strict=True):
        assert high - low == pytest.approx(0.5)
    code, _out, err = run("program", *EVENING, *words, "--axis", 40)
    assert code == 1
    assert "height of the axis" in err


def test_a_program_reads_as_lines(run: Run) -> None:
    code, out, _err = run("program", *EVENING, "--targets", 2)
    assert code == 0
    assert "ask: " in out
    code, out, _err = run("program", *EVENING, "--targets", 2, "--visitors")
    assert code == 0
    assert "Three things for next week" in out


@pytest.mark.parametrize("words", [("--minutes", "0"), ("--minutes", "nan"), ("--targets", "99")])
def test_numbers_that_are_no_evening_are_refused(run: Run, words: tuple[str, str]) -> None:
    code, _out, err = run("program", *EVENING, *words)
    assert code == 1
    assert "Give 1 to" in err


def test_the_sheet_is_printed_once_under_a_name(tmp_path: Path) -> None:
    """In a process of its own: whoever prints there has no window, and needs no display."""
    path = tmp_path / "visitors.pdf"
    code, out, err = alone(tmp_path, "--sheet", path)
    assert (code, err) == (0, "")
    assert f"Printed: {path}" in out
    written = path.read_bytes()
    assert written.startswith(b"%PDF")
    code, _out, err = alone(tmp_path, "--sheet", path)
    assert code == 1
    assert "is there already" in err
    assert path.read_bytes() == written


def test_only_a_pdf_is_printed(run: Run, tmp_path: Path) -> None:
    code, _out, err = run("program", *EVENING, "--targets", 2, "--sheet", tmp_path / "v.txt")
    assert code == 1
    assert "Name a PDF file" in err
    assert not list(tmp_path.glob("v*"))


def alone(home: Path, *words: object) -> tuple[int, str, str]:
    """Run the command as a shell without a display does."""
    unseen = {"DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"}
    seen = {name: value for name, value in os.environ.items() if name not in unseen}
    command = ["program", *EVENING, "--targets", "2", *map(str, words)]
    done = subprocess.run(
        [sys.executable, "-m", "companion", *command],
        cwd=ROOT,
        env={**seen, "COMPANION_HOME": str(home), "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    return done.returncode, done.stdout, done.stderr
