import json
from typing import Any

import pytest

from companion.finding import Course, WayKind
from companion.night import naked_eye_limit
from companion.sky import load_catalogue

from .conftest import Run

EVENING = ("--site", "Loon Barrens", "--at", "2026-10-10T20:14")
SPRING = ("--site", "Loon Barrens", "--at", "2027-05-05T23:30")
SOUTH = ("--site", "Dry Pan", "--at", "2026-10-10T21:14")


def answer_to(run: Run, *words: Any) -> dict[str, Any]:
    code, out, err = run("way", *words, "--json")
    assert (code, err) == (0, "")
    answer: dict[str, Any] = json.loads(out)
    return answer


def test_ways_and_hops_come_with_their_numbers(run: Run) -> None:
    answer = answer_to(run, "M 31", *EVENING)
    assert answer["key"] == "ngc:NGC0224"
    assert answer["finder"] == {
        "name": "finder",
        "field_deg": 6.0,
        "viewing": "turned",
    }
    for way in answer["ways"]:
        assert way["sentence"]
        assert len(way["stars"]) == len(way["hip"])
        assert way["miss_deg"] <= 3.5
        assert way["fists"] == pytest.approx(way["distance_deg"] / 10.0)
    assert answer["hops"][0]["start_name"] == "Mirach"
    assert answer["hops"][-1]["azimuth_deg"] == pytest.approx(answer["azimuth_deg"])
    assert answer["hops"][-1]["altitude_deg"] == pytest.approx(answer["altitude_deg"])
    assert answer["second"]
    assert answer["hops_advice"] == answer["ways_advice"] == ""


def test_the_way_reads_as_sentences(run: Run) -> None:
    code, out, _err = run("way", "M 31", *EVENING)
    assert code == 0
    assert "by eye to M 31:" in out
    assert "o'clock" in out
    assert "or else:" in out


def test_from_one_group(run: Run) -> None:
    answer = answer_to(run, "M 31", "--from", "the great square", *EVENING)
    assert answer["ways"]
    assert all(
        (way["first"] or way)["group"] == "Great Square of Pegasus" for way in answer["ways"]
    )


def test_a_round_from_a_group(run: Run) -> None:
    answer = answer_to(run, "--from", "dipper", *SPRING)
    names = [lead["name"] for lead in answer["leads"]]
    assert {"Polaris", "Arcturus", "Regulus"} <= set(names)
    assert all(lead["key"] for lead in answer["leads"])
    code, out, _err = run("way", "--from", "southern cross", *SPRING)
    assert code == 0
    assert "another group" in out


def test_the_finder_is_the_persons_own(run: Run) -> None:
    answer = answer_to(run, "M 57", "--instrument", "10x50", *EVENING)
    assert answer["finder"] == {"name": "10×50", "field_deg": 6.5, "viewing": "upright"}
    answer = answer_to(run, "M 57", "--field", 4, "--view", "mirrored", *EVENING)
    assert answer["finder"]["field_deg"] == 4.0
    assert answer["finder"]["viewing"] == "mirrored"
    assert all(hop["leg_deg"] < 3.2 for hop in answer["hops"])


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "Neither a target nor a star group"),
        (("no such thing at all",), "no such thing"),
        (("M 31", "--from", "nobody"), "No star group is called"),
        (("M 31", "--field", "0"), "outside 0.01° to 120°"),
        (("M 31", "--field", "wide"), "not a number"),
        (("M 31", "--instrument", "nothing"), "No instrument"),
    ],
)
def test_bad_input_is_one_line_that_instructs(run: Run, words: tuple[str, ...], said: str) -> None:
    code, _out, err = run("way", *words, *EVENING)
    assert code == 1
    assert said in err
    assert err.count("\n") == 1


@pytest.mark.parametrize("field", ["0.1", "60"])
def test_extreme_finders_answer(run: Run, field: str) -> None:
    answer = answer_to(run, "M 57", "--field", field, *EVENING)
    assert bool(answer["hops"]) != bool(answer["hops_advice"])


def test_southern_skies(run: Run) -> None:
    answer = answer_to(run, "NGC 104", *SOUTH)
    assert answer["ways"]
    assert answer["hops"]


def test_below_the_horizon_is_said(run: Run) -> None:
    answer = answer_to(run, "Regulus", *EVENING)
    assert not answer["ways"]
    assert "below the horizon" in answer["ways_advice"]


def test_by_day_nothing_leads_and_near_the_sun_all_is_withheld(run: Run) -> None:
    noon = ("--site", "Loon Barrens", "--at", "2026-10-10T14:00")
    day = answer_to(run, "Venus", *noon)
    assert not day["ways"]
    assert not day["hops"]
    assert "blinds" in day["hops_advice"]
    sun = answer_to(run, "Spica", *noon)
    assert not sun["ways"]
    assert "never look there" in sun["caution"]
    code, out, _err = run("way", "Spica", *noon)
    assert code == 0
    assert "withheld" in out


def test_only_stars_of_this_sky_are_named(run: Run) -> None:
    """What leads is a magnitude brighter than the eye's limit under 18.0 mag/arcsec²."""
    dark = answer_to(run, "M 13", "--meter", 21.8, *EVENING)
    bright = answer_to(run, "M 13", "--meter", 18, *EVENING)
    assert dark["eye_limit"] > 6.0
    assert bright["eye_limit"] == pytest.approx(float(naked_eye_limit(18.0)), abs=0.02)
    stars = load_catalogue()
    for way in bright["ways"]:
        used = [*way["hip"], *(way["first"]["hip"] if way["first"] else [])]
        assert all((stars.star(hip).magnitude or 9.0) <= bright["eye_limit"] - 1.0 for hip in used)
    start = stars.star(bright["hops"][0]["start_hip"]).magnitude or 9.0
    assert start <= bright["eye_limit"] - 1.0


def test_sides_and_courses_are_codes(run: Run) -> None:
    answer = answer_to(run, "M 31", *EVENING)
    codes = {way["course"] for way in answer["ways"]} | {way["side"] for way in answer["ways"]}
    assert codes <= {str(course) for course in Course} | {None}
    assert {way["kind"] for way in answer["ways"]} <= {str(kind) for kind in WayKind}


def test_a_group_goes_far_only_to_what_catches_the_eye(run: Run) -> None:
    far = [
        lead
        for lead in answer_to(run, "--from", "dipper", *SPRING)["leads"]
        if lead["kind"] == "line" and (lead["extension_deg"] > 30.0 or lead["gaps"] > 4.0)
    ]
    assert {"Regulus", "Castor", "Capella"} <= {lead["name"] for lead in far}
    assert not any(lead["name"].startswith("M ") for lead in far)
