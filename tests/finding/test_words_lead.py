"""Whoever takes a sentence at its word ends at the target."""

from datetime import UTC, datetime
from itertools import islice

import numpy as np
import pytest

from companion.finding import (
    GuideStars,
    Place,
    Way,
    WayFinder,
    WayKind,
    find_group,
    hops_to,
    seen_vectors,
    ways_to,
)
from companion.finding.courses import HORIZON, SEEN, course_to
from companion.sky import DRY_PAN, LOON_BARRENS, Catalogue, Ephemeris, SearchIndex, Site

from .literal import apart_deg, direction, hop_landings
from .spoken import MISLEADS_DEG, Spoken, seen, spoken
from .test_hops import finder

NIGHT = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
SPRING = datetime(2027, 5, 6, 2, 30, tzinfo=UTC)


@pytest.fixture(scope="module")
def heard(catalogue: Catalogue, ephemeris: Ephemeris) -> list[Spoken]:
    return list(islice(spoken(catalogue, ephemeris), 600))


def test_no_sentence_of_500_misleads_at_either_site(heard: list[Spoken]) -> None:
    followed = [one for one in heard if one.can_be_followed]
    assert len(followed) >= 500
    assert {one.site for one in followed} == {LOON_BARRENS, DRY_PAN}
    misleading = [one.sentence for one in followed if one.misled_deg > MISLEADS_DEG]
    assert misleading == []


def test_what_a_sentence_says_is_what_its_numbers_say(heard: list[Spoken]) -> None:
    """The codes beside a sentence name the same courses, and its stars are those it names."""
    for one in heard:
        way, sentence = one.way, one.sentence
        if way.kind is WayKind.MEMBER:
            continue
        assert all(name in sentence for name in (way.names[0], way.names[-1]))
        if way.side in SEEN:
            words = str(way.side).replace("up", "above").replace("down", "below").split("-")
            assert all(word in sentence.rpartition(" lies ")[2] for word in words)
        elif way.side in HORIZON:
            assert f"towards the {way.side} horizon" in sentence
        else:
            assert (
                way.kind not in {WayKind.LINE, WayKind.CHAIN}
                or "on the line" in sentence
                or (not way.gap_deg)
            )


def test_a_curve_leads_to_the_only_bright_light_there(
    heard: list[Spoken], catalogue: Catalogue
) -> None:
    """Between straight on and the row's own bend nothing else so bright is near its length."""
    bright = {star.name: star.magnitude for star in catalogue.bright_stars(3.0)}
    curves = [one for one in heard if one.way.kind is WayKind.CURVE]
    assert curves
    for one in curves:
        last = one.sky[one.way.names[-1]]
        far = apart_deg(last, one.target)
        assert abs(far - one.way.extension_deg) < 0.01
        own = one.sentence.partition(": ")[2].removesuffix(" is the bright light there.")
        for name, magnitude in bright.items():
            near = name in one.sky and apart_deg(one.sky[name], one.target) < 5.0
            fainter = (magnitude or 0.0) > (bright.get(own) or 0.0)
            assert name == own or not near or fainter, one.sentence


def test_the_star_of_a_group_is_marked_truly(catalogue: Catalogue, ephemeris: Ephemeris) -> None:
    moment, ready = ephemeris.moment(LOON_BARRENS, NIGHT), WayFinder(catalogue, NIGHT)
    stars = ready.guide_stars(moment, 6.0)
    seen = 0
    for hip in stars.hip.tolist():
        (place,) = ready.places(moment, (catalogue.star(hip),))
        for way in ways_to(stars, place).ways:
            if way.kind is not WayKind.MEMBER:
                continue
            assert hip not in way.stars
            rows = [stars.rows[other] for other in way.stars]
            seen += 1
            if "brightest" in way.sentence:
                assert stars.magnitude[stars.rows[hip]] < stars.magnitude[rows].min()
            elif "highest" in way.sentence:
                assert place.vector[2] > stars.vectors[rows][:, 2].max() - 0.02
            elif "lowest" in way.sentence:
                assert place.vector[2] < stars.vectors[rows][:, 2].min() + 0.02
    assert seen > 50


@pytest.mark.parametrize(
    ("origin", "ahead", "course"),
    [
        ((180.0, 40.0), (180.0, 45.0), "up"),
        ((180.0, 40.0), (190.0, 40.0), "right"),
        ((10.0, 40.0), (4.0, 36.0), "down-left"),
        ((180.0, 80.0), (180.0, 85.0), "north"),  # up, and over the head
        ((180.0, 80.0), (180.0, 75.0), "south"),
        ((0.0, 90.0), (90.0, 70.0), "east"),
        ((350.0, 75.0), (250.0, 80.0), "south-south-west"),
    ],
)
def test_overhead_a_course_is_told_by_the_horizon(
    origin: tuple[float, float], ahead: tuple[float, float], course: str
) -> None:
    told = course_to(seen_vectors(*origin), seen_vectors(*ahead))
    assert told.course == course
    assert abs(told.off_deg) <= (22.6 if told.course in SEEN else 12.5)


def test_a_course_and_what_is_left_of_it_give_the_direction_back() -> None:
    rng = np.random.default_rng(3)
    for _ in range(200):
        azimuth, altitude = float(rng.uniform(0, 360)), float(rng.uniform(2, 89.9))
        origin = seen_vectors(azimuth, altitude)
        ahead = seen_vectors(azimuth + rng.uniform(-20, 20), min(altitude + rng.uniform(-5, 5), 90))
        told = course_to(origin, ahead)
        at = direction(azimuth, altitude)
        if told.course in HORIZON:
            point = direction(22.5 * HORIZON.index(told.course), 0.0)
            said = np.array([point[1], -point[0], point[2]])
        else:
            turn = np.radians(45.0 * SEEN.index(told.course))
            right, above = np.cross(origin, (0, 0, 1)), np.array([0, 0, 1]) - at[2] * origin
            said = np.sin(turn) * right + np.cos(turn) * above
        tangents = [v - (v @ origin) * origin for v in (said, ahead)]
        one, other = (v / np.linalg.norm(v) for v in tangents)
        assert np.degrees(np.arccos(one @ other)) == pytest.approx(abs(told.off_deg), abs=1e-4)
        assert float(np.cross(one, other) @ origin) * told.off_deg >= 0.0  # clockwise, from inside


def ways_of(
    catalogue: Catalogue, ephemeris: Ephemeris, key: str, site: Site, utc: datetime
) -> tuple[tuple[Way, ...], GuideStars, Place]:
    moment, ready = ephemeris.moment(site, utc), WayFinder(catalogue, utc)
    stars = ready.guide_stars(moment, 6.0)
    (place,) = ready.places(moment, (catalogue.target(key),))
    return ways_to(stars, place, most=12).ways, stars, place


@pytest.mark.parametrize(
    ("name", "own"),
    [
        ("Vega", "Vega"),
        ("Alcyone", "Alcyone"),
        ("M 45", "Alcyone Atlas Electra Maia Merope"),
        ("Hyades", "Ain Prima Hyadum"),
        ("big dipper", "Dubhe Merak Phecda Megrez Alioth Mizar Alkaid"),
        ("Cor Caroli", "Cor Caroli"),
        ("Castor", "Castor"),
    ],
)
@pytest.mark.parametrize("utc", [NIGHT, SPRING, datetime(2026, 12, 20, 2, tzinfo=UTC)])
def test_nothing_is_found_from_itself(
    name: str,
    own: str,
    utc: datetime,
    catalogue: Catalogue,
    ephemeris: Ephemeris,
    search: SearchIndex,
) -> None:
    target = search.resolve(name)
    moment, ready = ephemeris.moment(LOON_BARRENS, utc), WayFinder(catalogue, utc)
    (place,) = ready.places(moment, (target,))
    for way in ways_to(ready.guide_stars(moment, 6.0), place, most=12).ways:
        used = {*way.names, *(way.first.names if way.first else ())}
        assert not used & {own, *own.split()} or way.kind is WayKind.MEMBER
        if way.kind is WayKind.MEMBER:
            assert name not in way.names
    hops = hops_to(ready.field_stars(moment), place, finder())
    for step in (*hops.steps, *hops.second):
        assert step.start_name not in {own, *own.split()}


def test_a_neighbour_is_another_thing(catalogue: Catalogue, ephemeris: Ephemeris) -> None:
    """Mizar leads to Alcor, and Mirach to the galaxy seven minutes of arc from it."""
    ways, *_ = ways_of(catalogue, ephemeris, "hip:65477", LOON_BARRENS, SPRING)
    assert ways[0].names[-1] == "Mizar"
    ways, *_ = ways_of(catalogue, ephemeris, "ngc:NGC0404", LOON_BARRENS, NIGHT)
    assert ways[0].names == ("Mirach",)
    assert "go less than a finger" in ways[0].sentence


@pytest.mark.parametrize(
    ("key", "neighbour"),
    [("ngc:NGC0224", "Mirach"), ("ngc:NGC7078", "Enif"), ("ngc:NGC6720", "Vega")],
)
def test_a_bright_neighbour_comes_first(
    key: str, neighbour: str, catalogue: Catalogue, ephemeris: Ephemeris
) -> None:
    ways, *_ = ways_of(catalogue, ephemeris, key, LOON_BARRENS, NIGHT)
    assert neighbour in {way.names[0] for way in ways[:3] if way.kind is WayKind.BESIDE}


def test_a_long_line_is_given_only_where_nothing_else_leads(heard: list[Spoken]) -> None:
    ranks: dict[tuple[object, object], set[bool]] = {}
    for one in heard:
        ranks.setdefault((one.moment.utc, one.place), set()).add(one.whole.rank[0])
    assert all(len(long) == 1 for long in ranks.values())
    assert sum(long == {True} for long in ranks.values()) < 0.05 * len(ranks)


def test_no_step_through_a_finder_misleads(catalogue: Catalogue, ephemeris: Ephemeris) -> None:
    ready, checked = WayFinder(catalogue, NIGHT), 0
    deep = catalogue.deep_sky
    targets = tuple(deep.target(row) for row in deep.messier_rows.values())
    for site, utc in ((LOON_BARRENS, NIGHT), (DRY_PAN, NIGHT.replace(hour=20))):
        moment = ephemeris.moment(site, utc)
        stars = ready.field_stars(moment)
        row = {int(hip): at for at, hip in enumerate(stars.hip)}
        for place in ready.places(moment, targets):
            hops = hops_to(stars, place, finder())
            for hop in (*hops.steps, *hops.second):
                if "just beside" in hop.sentence:
                    continue
                start = seen(stars.vectors[row[hop.start_hip]])
                end = direction(hop.azimuth_deg, hop.altitude_deg)
                landed = hop_landings(hop.sentence, start, 6.0)
                assert max(apart_deg(one, end) for one in landed) < MISLEADS_DEG, hop.sentence
                checked += 1
    assert checked > 150


@pytest.mark.parametrize(
    ("dec_deg", "site"), [(90.0, LOON_BARRENS), (-90.0, DRY_PAN), (-89.9, DRY_PAN)]
)
def test_a_celestial_pole_is_a_place_like_any_other(
    dec_deg: float, site: Site, catalogue: Catalogue, ephemeris: Ephemeris
) -> None:
    for hour in (0, 3, 18, 21):
        utc = NIGHT.replace(hour=hour)
        ways, *_ = ways_of(catalogue, ephemeris, f"icrs:0.00000{dec_deg:+.5f}", site, utc)
        assert ways


def test_a_group_that_leads_nowhere_near_says_where_the_target_stands(
    catalogue: Catalogue, ephemeris: Ephemeris
) -> None:
    moment, ready = ephemeris.moment(LOON_BARRENS, NIGHT), WayFinder(catalogue, NIGHT)
    (place,) = ready.places(moment, (catalogue.target("ngc:NGC7293"),))
    found = ways_to(ready.guide_stars(moment, 6.0), place, from_group=find_group("pointers"))
    assert not found.ways
    assert "stands roughly" in found.advice
