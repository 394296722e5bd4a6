from datetime import UTC, datetime

import numpy as np
import pytest

from companion.finding import (
    GuideStars,
    Place,
    Way,
    WayKind,
    find_group,
    round_of,
    seen_vectors,
    ways_to,
)
from companion.finding.guide import guide_targets
from companion.finding.lines import follow, known_pairs
from companion.sky import (
    DRY_PAN,
    LOON_BARRENS,
    Ephemeris,
    SearchIndex,
    Site,
    TargetTable,
    load_catalogue,
)

AUTUMN = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
SPRING = datetime(2027, 5, 6, 2, 30, tzinfo=UTC)
SOUTHERN_SPRING = datetime(2026, 10, 10, 19, 14, tzinfo=UTC)


class Evening:
    """Guide stars of one site and moment, and places among them."""

    def __init__(
        self, ephemeris: Ephemeris, search: SearchIndex, site: Site, utc: datetime
    ) -> None:
        self.moment, self.utc, self.search = ephemeris.moment(site, utc), utc, search
        self.targets = guide_targets(load_catalogue())
        self.seen = self.moment.horizontal(TargetTable.of(self.targets, utc))
        self.stars = self.with_limit(4.5)

    def with_limit(self, faintest: float, floor_deg: float = 8.0) -> GuideStars:
        return GuideStars.of(
            self.targets,
            self.seen.azimuth_deg,
            self.seen.altitude_deg,
            floor_deg=floor_deg,
            faintest=faintest,
        )

    def place(self, name: str) -> Place:
        target = self.search.resolve(name)
        seen = self.moment.horizontal(TargetTable.of([target], self.utc))
        vector = seen_vectors(seen.azimuth_deg, seen.altitude_deg)[0]
        return Place(vector, target.name, target.magnitude)

    def ways(self, name: str, most: int = 4) -> tuple[Way, ...]:
        return ways_to(self.stars, self.place(name), most=most).ways


@pytest.fixture(scope="module")
def autumn(ephemeris: Ephemeris, search: SearchIndex) -> Evening:
    return Evening(ephemeris, search, LOON_BARRENS, AUTUMN)


@pytest.fixture(scope="module")
def spring(ephemeris: Ephemeris, search: SearchIndex) -> Evening:
    return Evening(ephemeris, search, LOON_BARRENS, SPRING)


@pytest.fixture(scope="module")
def south(ephemeris: Ephemeris, search: SearchIndex) -> Evening:
    return Evening(ephemeris, search, DRY_PAN, SOUTHERN_SPRING)


# Which pair points where is common practice, no source; the numbers follow from Hipparcos.
@pytest.mark.parametrize(
    ("first", "second", "target", "miss_deg"),
    [
        ("Merak", "Dubhe", "Polaris", 1.9),
        ("Megrez", "Phecda", "Regulus", 2.7),
        ("Megrez", "Merak", "Castor", 0.6),
        ("Megrez", "Dubhe", "Capella", 3.3),
        ("Phecda", "Dubhe", "Algol", 1.1),
    ],
)
def test_the_dippers_pointers_miss_by_what_the_catalogue_says(
    first: str, second: str, target: str, miss_deg: float, all_stars: GuideStars
) -> None:
    at = {name: row for row, name in enumerate(all_stars.names)}
    pairs = known_pairs(all_stars)
    one = pairs.where((pairs.first == at[first]) & (pairs.second == at[second]))
    assert len(one) == 1
    lines = follow(all_stars, one, all_stars.vectors[[at[target]]])
    assert abs(lines.miss_deg[0, 0]) == pytest.approx(miss_deg, abs=0.06)
    assert lines.along_deg[0, 0] > 0.0


def test_polaris_is_five_gaps_on_from_the_pointers(spring: Evening) -> None:
    (way,) = (w for w in spring.ways("Polaris") if w.names == ("Merak", "Dubhe"))
    assert way.gaps == pytest.approx(5.3, abs=0.06)
    assert way.distance_deg == pytest.approx(28.7, abs=0.06)
    assert way.miss_deg == pytest.approx(1.9, abs=0.06)
    assert way.group == find_group("pointers")
    assert "From Merak through Dubhe" in way.sentence
    assert "five and a half times their gap, about two and three quarter fists" in way.sentence
    assert way.sentence.endswith("Polaris lies two fingers below and to the left of the line.")


def test_the_handle_leads_to_arcturus_and_on_to_spica(spring: Evening) -> None:
    (way,) = (w for w in spring.ways("Arcturus", 12) if w.kind is WayKind.CURVE)
    assert way.names == ("Megrez", "Alioth", "Mizar", "Alkaid")
    assert "curve" in way.sentence
    (way,) = (w for w in spring.ways("Spica", 12) if w.kind is WayKind.CURVE)
    assert way.names[-1] == "Arcturus"
    assert way.miss_deg < 0.2


@pytest.mark.parametrize("name", ["M 13", "M 57", "M 31", "M 15", "NGC 869", "Albireo", "M 27"])
def test_every_showpiece_of_the_evening_has_a_way_in_one_sentence(
    name: str, autumn: Evening
) -> None:
    ways = autumn.ways(name)
    assert ways
    for way in ways:
        assert (
            way.sentence.startswith(("From", "Go", "First", "Follow")) or way.kind is WayKind.MEMBER
        )
        assert way.sentence.endswith(".")
        assert way.miss_deg <= 3.5
        assert way.gaps <= 10.5
        assert set(way.stars) <= set(autumn.stars.rows)


def test_halfway_between_is_halfway(autumn: Evening) -> None:
    (way,) = (
        w
        for w in autumn.ways("M 57")
        if w.kind is WayKind.BETWEEN and w.group and w.group.key == "lyra-lozenge"
    )
    assert way.gaps == pytest.approx(1 / 3)
    assert way.miss_deg < 0.5
    assert "a third of the way from Sheliak to Sulafat" in way.sentence


def test_a_star_of_a_group_says_so(autumn: Evening) -> None:
    assert autumn.ways("Vega")[0].kind is WayKind.MEMBER


def test_two_steps_where_one_does_not_reach(ephemeris: Ephemeris, search: SearchIndex) -> None:
    """With nothing but the Dipper and the brightest stars known, the rest goes by way of them."""
    evening = Evening(ephemeris, search, LOON_BARRENS, SPRING)
    only = (find_group("dipper"),)
    stars = GuideStars.of(
        evening.targets, evening.seen.azimuth_deg, evening.seen.altitude_deg, groups=only
    )
    chains = [
        way
        for name in ("M 104", "M 5", "M 3", "M 66", "M 13", "Vindemiatrix")
        for way in ways_to(stars, evening.place(name), most=12).ways
        if way.kind is WayKind.CHAIN
    ]
    assert chains
    for way in chains:
        assert way.first is not None
        assert way.sentence.startswith("First: ")
        assert way.first.group in {None, *only}
        assert "Then: From" in way.sentence


def test_ways_from_one_group_begin_there(autumn: Evening) -> None:
    group = find_group("cassiopeia-w")
    ways = ways_to(autumn.stars, autumn.place("M 31"), from_group=group).ways
    assert ways
    assert all((way.first or way).stars[0] in group.stars for way in ways)


def test_a_round_leads_to_bright_things_nearest_first(spring: Evening) -> None:
    names = ["Polaris", "Arcturus", "Regulus", "Castor", "Capella", "Spica", "Dubhe", "Antares"]
    group = find_group("dipper")
    leads = round_of(spring.stars, group, [spring.place(name) for name in names])
    reached = [place.name for place, _way in leads]
    assert {"Arcturus", "Regulus", "Castor"} <= set(reached)
    assert "Dubhe" not in reached
    distances = [way.distance_deg for _place, way in leads]
    assert distances == sorted(distances)
    assert round_of(spring.stars, find_group("teapot"), [spring.place("Polaris")]) == ()


def test_southern_skies_have_their_own_groups(south: Evening) -> None:
    for name in ("NGC 104", "NGC 253", "Achernar", "M 7"):
        ways = south.ways(name)
        assert ways, name
        assert all(way.group is None or way.group.key != "dipper" for way in ways)


def test_nothing_below_the_horizon_by_day_or_with_every_group_down(autumn: Evening) -> None:
    place = autumn.place("M 31")
    below = ways_to(autumn.stars, autumn.place("Regulus"))
    assert not below.ways
    assert "below the horizon" in below.advice
    day = ways_to(autumn.with_limit(-4.0), place)
    assert not day.ways
    assert "too bright" in day.advice
    walled = ways_to(autumn.with_limit(4.5, floor_deg=89.9), place)
    assert not walled.ways
    assert walled.advice
    dusk = ways_to(autumn.with_limit(0.3), place)
    assert not dusk.ways
    assert "group" in dusk.advice
    low = ways_to(autumn.stars, place, from_group=find_group("southern cross"))
    assert "Southern Cross" in low.advice


def test_at_the_horizon_haze_is_warned_of(autumn: Evening) -> None:
    vector = seen_vectors([70.0], [1.0])[0]
    answer = ways_to(autumn.stars, Place(vector, "a low thing"))
    assert "high" in answer.advice or not answer.ways


@pytest.mark.parametrize("altitude_deg", [90.0, 89.999])
def test_the_zenith_is_a_place_like_any_other(altitude_deg: float, autumn: Evening) -> None:
    answer = ways_to(autumn.stars, Place(seen_vectors([0.0], [altitude_deg])[0], "the zenith"))
    assert answer.ways
    assert all(np.isfinite(way.distance_deg) for way in answer.ways)


def test_the_poles_themselves(ephemeris: Ephemeris, search: SearchIndex) -> None:
    for latitude_deg in (90.0, -90.0):
        evening = Evening(ephemeris, search, Site("pole", latitude_deg, 0.0), AUTUMN)
        assert evening.stars.groups
        assert evening.ways("Polaris" if latitude_deg > 0 else "Achernar")
