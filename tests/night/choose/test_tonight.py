"""Tonight's list: what comes first, what is filtered, what is said."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from companion.advice import AdviceError
from companion.night.choose.candidates import Candidates
from companion.night.choose.filters import Filters, kinds_named
from companion.night.choose.tonight import TonightRequest, rank_tonight
from companion.night.choose.worth import WorthFor
from companion.night.progress import Cancelled
from companion.night.sight.grades import Grade
from companion.night.sight.instruments import find_instrument
from companion.night.sight.observer import Conditions
from companion.sky import DRY_PAN, LOON_BARRENS, Ephemeris, Kind, Site

AUTUMN = datetime(2026, 10, 11, 1, tzinfo=UTC)


def request(through: str = "10x50", site: Site = LOON_BARRENS) -> TonightRequest:
    return TonightRequest(site, AUTUMN, find_instrument(through), Conditions.at(site))


def test_showpieces_come_first_and_everything_was_considered(
    ephemeris: Ephemeris, candidates: Candidates
) -> None:
    tonight = rank_tonight(ephemeris, candidates, request())
    names = [row.target.name for row in tonight.rows]
    assert tonight.considered == len(candidates) > 13_000
    assert len(names) == 60
    assert tonight.passed > 500
    assert {"M 31", "Double Cluster", "M 45", "M 44"} == set(names[:4])
    assert {"M 31", "M 45", "Double Cluster", "M 13"} <= set(names[:25])
    assert [row.value for row in tonight.rows] == sorted(
        (r.value for r in tonight.rows), reverse=True
    )
    assert len(set(names)) == len(names)


def test_of_two_alike_the_higher_one_comes_first(
    ephemeris: Ephemeris, candidates: Candidates
) -> None:
    """Standing high is worth something: the same kind of cluster, as bright, is ranked by it."""
    rows = rank_tonight(ephemeris, candidates, replace(request("200"), limit=100_000)).rows
    values = candidates.worth.of_whom[WorthFor.TELESCOPE].tolist()
    worth = dict(zip((t.key for t in candidates.objects.targets), values, strict=True))
    easy = [row for row in rows if row.visibility.grade is Grade.EASY]
    more = {row.target.key: row.value - worth[row.target.key] for row in easy}
    low = [more[row.target.key] for row in easy if row.altitude_deg < 20.0]
    high = [more[row.target.key] for row in easy if row.altitude_deg > 60.0]
    assert len(low) > 5
    assert len(high) > 5
    assert max(low) < min(high)
    assert max(high) - max(low) > 0.5


def test_every_row_says_when_where_and_why(ephemeris: Ephemeris, candidates: Candidates) -> None:
    for through in ("eye", "10x50", "200"):
        for row in rank_tonight(ephemeris, candidates, request(through)).rows:
            assert row.opens_utc <= row.best_utc <= row.closes_utc
            assert row.when.startswith("best ")
            assert "\n" not in row.why
            assert row.altitude_deg >= 9.9
            assert row.visibility.grade in {Grade.EASY, Grade.FAIR, Grade.HARD, Grade.DOUBTFUL}
            assert row.target.kind is not Kind.SUN


def test_the_list_and_the_single_judgement_agree(
    ephemeris: Ephemeris, candidates: Candidates
) -> None:
    for wanted in (Grade.EASY, Grade.FAIR, Grade.HARD, Grade.DOUBTFUL, Grade.UNKNOWN):
        asked = replace(request("200"), filters=Filters(grades=frozenset({wanted})), limit=300)
        grades = [row.visibility.grade for row in rank_tonight(ephemeris, candidates, asked).rows]
        # The list looks limits up in a table: a few stand on the other side of an edge.
        assert len(grades) > 50
        assert sum(grade is not wanted for grade in grades) <= 0.06 * len(grades)


@pytest.mark.parametrize(
    "filters",
    [
        Filters(kinds=frozenset({Kind.GALAXY, Kind.PLANET})),
        Filters(constellations=frozenset({"And", "Cas"})),
        Filters(azimuths_deg=(315.0, 45.0)),
        Filters(lowest_deg=40.0, highest_deg=60.0),
        Filters(grades=frozenset({Grade.HARD})),
        Filters(seen=True),
        Filters(seen=False),
        Filters(keys=frozenset({"ngc:NGC0224", "hip:91262"})),
    ],
)
def test_filters_let_through_only_what_they_say(
    ephemeris: Ephemeris, candidates: Candidates, filters: Filters
) -> None:
    seen = frozenset({"ngc:NGC0224", "body:saturn"})
    asked = replace(request(), filters=filters, seen_keys=seen, limit=2000)
    tonight = rank_tonight(ephemeris, candidates, asked)
    assert tonight.rows
    assert tonight.passed == len(tonight.rows)
    for row in tonight.rows:
        assert row.seen == (row.target.key in seen)
        assert not filters.kinds or row.target.kind in filters.kinds
        assert not filters.constellations or row.target.constellation in filters.constellations
        assert filters.azimuths_deg is None or not 45.0 < row.azimuth_deg < 315.0
        assert filters.lowest_deg <= row.altitude_deg <= filters.highest_deg
        assert filters.seen is None or row.seen is filters.seen
        assert filters.keys is None or row.target.key in filters.keys


def test_a_part_of_the_night_is_asked_for(ephemeris: Ephemeris, candidates: Candidates) -> None:
    first, last = AUTUMN, AUTUMN + timedelta(hours=1)
    asked = replace(request(), from_utc=first, until_utc=last)
    for row in rank_tonight(ephemeris, candidates, asked).rows:
        assert first <= row.opens_utc <= row.best_utc <= row.closes_utc <= last
    noon = datetime(2026, 10, 10, 16, tzinfo=UTC)
    by_day = replace(request(), from_utc=noon, until_utc=noon + timedelta(hours=1))
    assert "the Sun is up" in rank_tonight(ephemeris, candidates, by_day).words


def test_the_south_has_its_own_showpieces(ephemeris: Ephemeris, candidates: Candidates) -> None:
    tonight = rank_tonight(ephemeris, candidates, request("10x50", DRY_PAN))
    names = {row.target.name for row in tonight.rows}
    assert "NGC 104" in names or "47 Tucanae" in names
    assert "Polaris" not in names


def test_polar_day_is_said(ephemeris: Ephemeris, candidates: Candidates) -> None:
    far = Site("far north", 80.0, 18.96, 10.0)
    asked = replace(request("10x50", far), utc=datetime(2026, 6, 21, 12, tzinfo=UTC))
    tonight = rank_tonight(ephemeris, candidates, asked)
    assert "does not set" in tonight.words
    assert tonight.passed < 100


def test_nothing_left_is_said(ephemeris: Ephemeris, candidates: Candidates) -> None:
    none = replace(request(), filters=Filters(keys=frozenset({"own:nothing"})))
    assert rank_tonight(ephemeris, candidates, none).words == "nothing passes the filters"
    low = replace(request(), filters=Filters(kinds=frozenset({Kind.DARK_NEBULA})))
    assert rank_tonight(ephemeris, candidates, low).words == "nothing passes: ask for less"


def test_ranking_tells_how_far_it_is_and_stops(
    ephemeris: Ephemeris, candidates: Candidates
) -> None:
    told: list[float] = []

    def listen(done: float) -> bool:
        told.append(done)
        return done < 0.5

    with pytest.raises(Cancelled):
        rank_tonight(ephemeris, candidates, request(), listen)
    assert 0.5 <= told[-1] < 0.6
    assert len(told) > 5


def test_aperture_zero_is_refused(ephemeris: Ephemeris, candidates: Candidates) -> None:
    asked = request()
    bad = replace(asked, instrument=replace(asked.instrument, aperture_mm=0.0))
    with pytest.raises(AdviceError, match="aperture of 0 mm"):
        rank_tonight(ephemeris, candidates, bad)


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("galaxies", {Kind.GALAXY}),
        ("planet, Moon", {Kind.PLANET, Kind.MOON}),
        ("clusters", {Kind.OPEN_CLUSTER, Kind.GLOBULAR, Kind.CLUSTER_NEBULA}),
        ("double", {Kind.DOUBLE}),
        ("stars", {Kind.STAR}),
    ],
)
def test_kinds_are_understood(text: str, kinds: set[Kind]) -> None:
    assert kinds_named(text) == kinds


@pytest.mark.parametrize("text", ["sun", "teapots"])
def test_no_such_kind_is_refused(text: str) -> None:
    with pytest.raises(AdviceError, match="is not a kind of target"):
        kinds_named(text)


@pytest.mark.parametrize(("lowest", "highest"), [(-5.0, 40.0), (50.0, 40.0), (0.0, 95.0)])
def test_no_such_altitudes(lowest: float, highest: float) -> None:
    with pytest.raises(AdviceError, match="are not a range"):
        Filters(lowest_deg=lowest, highest_deg=highest)
