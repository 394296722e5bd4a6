"""The guide map of a group: few ends, each sentence true when it is recomputed by other means."""

import json
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from companion.sky import DRY_PAN, LOON_BARRENS, Site, load_catalogue

from . import told
from .conftest import Run

MAPS = [
    (LOON_BARRENS, "2027-04-10T22:00", "dipper"),
    (LOON_BARRENS, "2027-05-05T23:30", "dipper"),
    (LOON_BARRENS, "2027-10-10T22:00", "dipper"),
    (LOON_BARRENS, "2027-01-20T21:00", "orion"),
    (LOON_BARRENS, "2027-01-20T19:00", "cassiopeia"),
    (LOON_BARRENS, "2027-10-01T22:00", "great square"),
    (DRY_PAN, "2027-05-10T21:00", "southern cross"),
    (DRY_PAN, "2027-05-10T21:00", "southern pointers"),
    (DRY_PAN, "2027-01-10T22:00", "orion"),
    (DRY_PAN, "2027-07-10T22:00", "fish hook"),
]


_ANSWERS: dict[tuple[str, str, str], dict[str, Any]] = {}


def map_of(run: Run, site: Site, at: str, group: str) -> dict[str, Any]:
    """Give the answer, asked once: nothing of the state folder matters."""
    if (site.name, at, group) not in _ANSWERS:
        words = ("--from", group, "--site", site.name, "--at", at, "--json")
        code, out, err = run("way", *words)
        assert (code, err) == (0, "")
        _ANSWERS[site.name, at, group] = json.loads(out)
    return _ANSWERS[site.name, at, group]


def utc_of(site: Site, at: str) -> datetime:
    return datetime.fromisoformat(at).replace(tzinfo=ZoneInfo(site.time_zone)).astimezone(UTC)


def test_the_dipper_in_spring_leads_to_its_seven(run: Run) -> None:
    """The pole star, Arcturus, Spica, Regulus, the Twins, Capella, the W (common knowledge)."""
    leads = map_of(run, *MAPS[0])["leads"]
    names = [lead["name"] for lead in leads]
    assert names[:3] == ["Polaris", "Arcturus", "Spica"]
    assert set(names[3:]) == {"Capella", "W of Cassiopeia", "Castor", "Regulus"}


def test_the_southern_groups_lead_as_they_are_taught(run: Run) -> None:
    cross = map_of(run, *MAPS[6])["leads"]
    assert cross[0]["key"] == "point:south-pole"
    assert cross[0]["lengths"] == 4.5
    pointers = map_of(run, *MAPS[7])["leads"]
    assert any(lead["name"] in {"Southern Cross", "Gacrux"} for lead in pointers)
    orion = {lead["name"] for lead in map_of(run, *MAPS[8])["leads"]}
    assert {"Sirius", "Aldebaran"} <= orion


@pytest.mark.parametrize(("site", "at", "group"), MAPS)
def test_a_map_is_short_and_bright(run: Run, site: Site, at: str, group: str) -> None:
    answer = map_of(run, site, at, group)
    assert 0 < len(answer["leads"]) <= 7
    assert len(answer["binoculars"]) <= 7
    assert len({lead["key"] for lead in answer["leads"]}) == len(answer["leads"])
    for lead in answer["leads"]:
        family = lead["key"].partition(":")[0]
        assert family in {"hip", "group", "point"} or lead["key"] == "ngc:Mel022"
        if family == "hip":
            assert (load_catalogue().target(lead["key"]).magnitude or 9.0) <= 2.5
        assert lead["look_altitude_deg"] >= 15.0
        assert lead["sentence"].count("Check:") == 1


@pytest.mark.parametrize(("site", "at", "group"), MAPS)
def test_every_sentence_is_true(run: Run, site: Site, at: str, group: str) -> None:
    """Facing, height, course and length of every way, by astropy and plain trigonometry."""
    answer, utc = map_of(run, site, at, group), utc_of(site, at)

    def seen(hip: int) -> told.Direction:
        star = load_catalogue().star(hip)
        return told.seen(star, utc, site.latitude_deg, site.longitude_deg)

    for lead in answer["leads"]:
        text = lead["sentence"]
        end = (lead["look_azimuth_deg"], lead["look_altitude_deg"])
        if lead["key"].startswith("hip:"):
            assert told.apart_deg(end, seen(int(lead["key"][4:]))) < 0.3
        assert told.stands_as_told(text, end), text
        last = seen(lead["hip"][-1])
        if lead["first"] is None and lead["kind"] != "bend":
            assert told.faces_as_told(text, last), text
        if lead["kind"] in {"line", "chain"} and "bending" not in text:
            begin = seen(lead["hip"][-2])
            assert told.goes_as_told(text, begin, last), text
        along_deg = lead["extension_deg"]
        assert told.fists_along(text) == pytest.approx(along_deg, abs=told.JUDGED_DEG), text
        assert told.lengths_told(lead, answer["own_length_deg"], along_deg), text
        if lead["kind"] != "bend":
            far = told.apart_deg(last, end)
            assert far == pytest.approx(along_deg, abs=max(2.0, 0.14 * along_deg)), text


def test_a_low_or_half_set_group_offers_another(run: Run) -> None:
    cross = map_of(run, LOON_BARRENS, "2027-05-05T23:30", "southern cross")
    assert not cross["leads"]
    assert cross["instead"] == "Big Dipper"
    assert "Choose another group: Big Dipper" in cross["advice"]
    low = map_of(run, LOON_BARRENS, "2027-05-05T21:15", "orion")
    assert not low["leads"]
    assert "another group" in low["advice"]


def test_no_map_ends_where_it_begins(run: Run) -> None:
    for site, at, group in MAPS:
        answer = map_of(run, site, at, group)
        own = {hip for lead in answer["leads"] for hip in lead["hip"][:1] if lead["first"] is None}
        ends = {lead["key"] for lead in answer["leads"]}
        assert not {f"hip:{hip}" for hip in own} & ends


def test_by_day_no_group_is_made_out(run: Run) -> None:
    answer = map_of(run, LOON_BARRENS, "2027-04-10T13:00", "dipper")
    assert not answer["leads"]
    assert answer["instead"] is None
    assert answer["advice"]
