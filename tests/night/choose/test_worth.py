"""What stands first in the list, why, and with which power: as observers would have it."""

from collections import Counter
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from companion.night.choose.candidates import Candidates
from companion.night.choose.filters import Filters
from companion.night.choose.reasons import Reason, reason_text
from companion.night.choose.rounds import ROUNDS, round_tonight
from companion.night.choose.tonight import TonightRequest, TonightRow, rank_tonight
from companion.night.choose.worth import WorthFor
from companion.night.sight.brightness import Known, brightness_of
from companion.night.sight.grades import Grade
from companion.night.sight.instruments import find_instrument
from companion.night.sight.observer import Conditions
from companion.sky import DRY_PAN, LOON_BARRENS, Ephemeris, Site, load_catalogue, load_search

AUTUMN = datetime(2026, 10, 10, 22, tzinfo=UTC)
SPRING = datetime(2026, 4, 16, 23, tzinfo=UTC)
WITH_MOON = datetime(2026, 10, 20, 22, tzinfo=UTC)


def asked(through: str, utc: datetime = AUTUMN, site: Site = LOON_BARRENS) -> TonightRequest:
    return TonightRequest(site, utc, find_instrument(through), Conditions.at(site))


def listed(
    ephemeris: Ephemeris, candidates: Candidates, request: TonightRequest, *names: str
) -> list[TonightRow]:
    keys = frozenset(load_search().resolve(name).key for name in names)
    only = replace(request, filters=Filters(grades=frozenset(Grade), keys=keys or None))
    return list(rank_tonight(ephemeris, candidates, only).rows)


def test_every_reason_has_words_and_every_way_a_number(candidates: Candidates) -> None:
    assert all(reason_text(reason) for reason in Reason if reason is not Reason.NONE)
    assert set(candidates.worth.of_whom) == set(WorthFor)
    for whom in (WorthFor.EYE, WorthFor.BINOCULARS, WorthFor.TELESCOPE):
        values = candidates.worth.of_whom[whom]
        assert ((values >= 0.0) & (values <= 10.0)).all()


def test_all_of_messier_has_a_reason(candidates: Candidates) -> None:
    deep_sky = load_catalogue().deep_sky
    keys = {deep_sky.target(row).key for row in deep_sky.messier_rows.values()}
    reasons = dict(zip(candidates.keys, candidates.worth.reasons, strict=True))
    assert all(reasons[key] is not Reason.NONE for key in keys)


def test_showpieces_stand_before_what_is_only_numbered(
    ephemeris: Ephemeris, candidates: Candidates
) -> None:
    names = ("m 40", "m 57", "m 27", "albireo", "m 72")
    rows = listed(ephemeris, candidates, asked("150"), *names)
    assert {row.target.name for row in rows[:3]} == {"M 57", "M 27", "Albireo"}
    assert rows[0].reason is not Reason.NONE
    assert reason_text(rows[0].reason) in rows[0].why


def test_the_far_south_has_its_showpieces_first(
    ephemeris: Ephemeris, candidates: Candidates
) -> None:
    autumn = rank_tonight(ephemeris, candidates, asked("150", site=DRY_PAN)).rows
    assert {"NGC 104", "NGC 2070", "NGC 253"} <= {row.target.name for row in autumn[:15]}
    spring = rank_tonight(ephemeris, candidates, asked("150", SPRING, DRY_PAN)).rows
    assert {"NGC 3372", "NGC 5139", "NGC 4755"} <= {row.target.name for row in spring[:8]}


@pytest.mark.parametrize(
    ("name", "most"), [("m 31", 50.0), ("m 51", 140.0), ("m 27", 100.0), ("m 45", 50.0)]
)
def test_the_power_follows_what_a_target_needs(
    ephemeris: Ephemeris, candidates: Candidates, name: str, most: float
) -> None:
    (row,) = listed(ephemeris, candidates, asked("150"), name)
    assert row.visibility.best_magnification <= most


def test_small_things_get_more_power(ephemeris: Ephemeris, candidates: Candidates) -> None:
    rows = listed(ephemeris, candidates, asked("150"), "m 57", "ngc 7662", "m 33")
    power = {row.target.name: row.visibility.best_magnification for row in rows}
    assert power["NGC 7662"] > power["M 57"] > power["M 33"]


def test_doubles_that_only_glass_parts_leave_the_list_by_eye(
    ephemeris: Ephemeris, candidates: Candidates
) -> None:
    names = ("castor", "polaris", "almach", "mizar", "algedi", "delta cep")
    by_eye = {row.target.name for row in listed(ephemeris, candidates, asked("eye"), *names)}
    assert by_eye == {"Mizar", "Algedi", "δ Cep"}
    in_glass = {row.target.name for row in listed(ephemeris, candidates, asked("150"), *names)}
    assert {"Polaris", "Almach", "Castor"} <= in_glass


def test_nobody_knows_how_bright_a_variable_is_tonight(
    ephemeris: Ephemeris, candidates: Candidates
) -> None:
    (mira,) = listed(ephemeris, candidates, asked("eye"), "mira")
    assert mira.visibility.grade is Grade.DOUBTFUL
    assert "changes from 2.0 to 10.1, taken at its faintest" in mira.why
    assert listed(ephemeris, candidates, asked("150"), "mira")[0].visibility.grade is Grade.EASY
    # R And is in no table of ours: Hipparcos' measurements scatter by 1.3.
    other = brightness_of(load_catalogue().star(1901))
    assert other.known is Known.VARIES
    assert other.magnitude > 13.0
    assert other.brighter_mag > 5.0
    # A nova that returns once in a lifetime is no doubtful sight: it is taken as it always is.
    (blaze,) = listed(ephemeris, candidates, asked("eye"), "T CrB")
    assert blaze.visibility.grade is Grade.OUT_OF_REACH
    assert "taken at its usual 10.8" in listed(ephemeris, candidates, asked("150"), "T CrB")[0].why


def test_a_faded_nova_is_no_bright_star(ephemeris: Ephemeris, candidates: Candidates) -> None:
    nova = load_catalogue().target("ngc:NGC7114")
    assert nova.magnitude is not None
    assert nova.magnitude > 14.0
    assert nova.key not in candidates.keys


@pytest.mark.parametrize(
    ("utc", "site"), [(AUTUMN, LOON_BARRENS), (WITH_MOON, LOON_BARRENS), (WITH_MOON, DRY_PAN)]
)
def test_visitors_see_what_makes_them_exclaim(
    ephemeris: Ephemeris, candidates: Candidates, utc: datetime, site: Site
) -> None:
    (which,) = (one for one in ROUNDS if one.key == "visitors")
    request = asked("150", utc, site)
    found = round_tonight(which, ephemeris, candidates, load_catalogue(), request).rows
    assert len(found) == 8
    assert max(Counter(row.target.kind for row in found).values()) <= 2
    bodies = [bool(row.target.body) for row in found]
    assert bodies == sorted(bodies, reverse=True)
    if utc is WITH_MOON:
        assert found[0].target.name == "Moon"
    assert all(row.visibility.grade is Grade.EASY for row in found)
    assert all(row.reason is not Reason.NONE for row in found)
