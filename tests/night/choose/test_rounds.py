"""The ready-made rounds, on a moonless and on a moonlit night."""

from datetime import UTC, datetime, timedelta

import pytest

from companion.night.choose.candidates import Candidates
from companion.night.choose.rounds import ROUNDS, round_tonight
from companion.night.choose.tonight import Tonight, TonightRequest
from companion.night.sight.grades import Grade
from companion.night.sight.instruments import find_instrument
from companion.night.sight.observer import Conditions
from companion.sky import LOON_BARRENS, Ephemeris, Kind, Site, load_catalogue

AUTUMN = datetime(2026, 10, 10, 22, tzinfo=UTC)
MOONLIT = datetime(2026, 12, 23, 22, tzinfo=UTC)


def tonight(
    ephemeris: Ephemeris,
    candidates: Candidates,
    key: str,
    utc: datetime = AUTUMN,
    site: Site = LOON_BARRENS,
) -> Tonight:
    (which,) = (one for one in ROUNDS if one.key == key)
    asked = TonightRequest(site, utc, find_instrument("150"), Conditions.at(site))
    return round_tonight(which, ephemeris, candidates, load_catalogue(), asked)


@pytest.mark.parametrize("key", [one.key for one in ROUNDS])
def test_every_round_has_something_on_a_dark_night(
    ephemeris: Ephemeris, candidates: Candidates, key: str
) -> None:
    found = tonight(ephemeris, candidates, key)
    assert len(found.rows) >= 8
    assert all(row.why for row in found.rows)


def test_the_first_night_needs_no_instrument(ephemeris: Ephemeris, candidates: Candidates) -> None:
    found = tonight(ephemeris, candidates, "eye")
    assert all(row.visibility.view == "eye" for row in found.rows)
    assert all(row.visibility.grade is Grade.EASY for row in found.rows)
    assert {"Jupiter", "M 45", "Big Dipper"} <= {row.target.name for row in found.rows}


def test_visitors_stay_an_hour(ephemeris: Ephemeris, candidates: Candidates) -> None:
    found = tonight(ephemeris, candidates, "visitors")
    first = min(row.opens_utc for row in found.rows)
    last = max(row.closes_utc for row in found.rows)
    assert last - first <= timedelta(hours=1)
    assert len(found.rows) == 8
    assert all(row.altitude_deg >= (12.0 if row.target.body else 25.0) for row in found.rows)
    assert all(row.visibility.grade is Grade.EASY for row in found.rows)


def test_faint_ones_wait_for_the_moon(ephemeris: Ephemeris, candidates: Candidates) -> None:
    dark = tonight(ephemeris, candidates, "faint")
    (begins, ends) = dark.darkness.moonless[0]
    assert all(begins <= row.opens_utc <= row.closes_utc <= ends for row in dark.rows)
    moonlit = tonight(ephemeris, candidates, "faint", MOONLIT)
    assert moonlit.rows == ()
    assert moonlit.words == "the Moon is up all the dark night"


def test_lists_hold_what_they_name(ephemeris: Ephemeris, candidates: Candidates) -> None:
    messier = tonight(ephemeris, candidates, "messier")
    assert 90 <= len(messier.rows) <= 110
    assert all(
        any(name.startswith("M ") for name in (row.target.name, *row.target.aliases))
        or row.target.kind is Kind.GROUP
        for row in messier.rows
    )
    # All 110 are known, whether or not they come up.
    wanted = {
        load_catalogue().deep_sky.target(r).key
        for r in load_catalogue().deep_sky.messier_rows.values()
    }
    assert len(wanted) == 110
    assert wanted <= set(candidates.keys)
    caldwell = load_catalogue().deep_sky.caldwell_rows.values()
    assert {load_catalogue().deep_sky.target(row).key for row in caldwell} <= set(candidates.keys)


def test_stars_are_double_or_coloured(ephemeris: Ephemeris, candidates: Candidates) -> None:
    names = load_catalogue().names
    for row in tonight(ephemeris, candidates, "doubles").rows:
        assert int(row.target.key[4:]) in names.doubles
    for row in tonight(ephemeris, candidates, "colours").rows:
        assert int(row.target.key[4:]) in names.colours


def test_polar_day_leaves_no_faint_ones(ephemeris: Ephemeris, candidates: Candidates) -> None:
    far = Site("far north", 75.0, 18.96, 10.0)
    june = datetime(2026, 6, 21, 12, tzinfo=UTC)
    assert "does not set" in tonight(ephemeris, candidates, "faint", june, far).words
