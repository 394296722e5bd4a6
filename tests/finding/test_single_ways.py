"""Ways in one step, on a sky of a few stars along a line: every number is counted by hand.

The stars stand on the horizon, where azimuths are the angles between them.
"""

from dataclasses import replace

import numpy as np
import pytest

from companion.finding import Group, GuideStars, Hemisphere, Place, Way, WayKind, seen_vectors
from companion.finding.lines import Lines, follow, known_pairs
from companion.finding.single_ways import beside_ways, between_ways, line_ways


def sky(*stars: tuple[float, float], groups: tuple[tuple[int, ...], ...] = ()) -> GuideStars:
    """Give stars of an azimuth and a magnitude each; their numbers are 1, 2 and on."""
    azimuth_deg, magnitude = np.array(stars).T
    return GuideStars(
        np.arange(1, len(stars) + 1),
        tuple("ABCDEFGH"[: len(stars)]),
        magnitude,
        seen_vectors(azimuth_deg, np.zeros(len(stars))),
        tuple(
            Group(f"g{at}", "Some", (), "Ori", Hemisphere.EQUATORIAL, members, (), ())
            for at, members in enumerate(groups)
        ),
    )


def place(
    azimuth_deg: float, altitude_deg: float = 0.0, own: frozenset[int] = frozenset()
) -> Place:
    return Place(seen_vectors(azimuth_deg, altitude_deg), "there", own=own)


def lines_to(stars: GuideStars, there: Place) -> Lines:
    return follow(stars, known_pairs(stars), there.vector[None, :])


def lines(stars: GuideStars, there: Place) -> dict[str, Way]:
    return {"".join(way.names): way for way in line_ways(stars, lines_to(stars, there))}


def between(stars: GuideStars, there: Place) -> list[Way]:
    return between_ways(stars, lines_to(stars, there), there)


PAIR = sky((100.0, 1.0), (105.0, 2.0))


def test_a_line_goes_on_from_its_second_star() -> None:
    (way,) = lines(PAIR, place(115.0)).values()
    assert way.names == ("A", "B")
    assert way.gap_deg == pytest.approx(5.0)
    assert way.extension_deg == pytest.approx(10.0)
    assert way.gaps == pytest.approx(2.0)
    assert way.miss_deg == pytest.approx(0.0, abs=1e-6)
    assert way.bearing_deg == pytest.approx(90.0)  # to the right
    assert way.group is None
    (back,) = lines(PAIR, place(90.0)).values()
    assert back.names == ("B", "A")
    assert back.bearing_deg == pytest.approx(270.0)


@pytest.mark.parametrize("altitude_deg", [2.0, -2.0])
def test_a_miss_has_no_sign_on_either_side(altitude_deg: float) -> None:
    (way,) = lines(PAIR, place(115.0, altitude_deg)).values()
    assert way.miss_deg == pytest.approx(2.0)
    assert way.distance_deg == pytest.approx(np.hypot(10.0, 2.0), abs=0.01)


@pytest.mark.parametrize(
    ("azimuth_deg", "altitude_deg", "led"),
    [
        (105.0 + 1.4, 0.0, False),  # hardly beyond the star itself
        (105.0 + 1.6, 0.0, True),
        (105.0 + 52.0, 0.0, True),  # ten gaps and a bit
        (105.0 + 53.0, 0.0, False),
        (120.0, 3.4, True),
        (120.0, 3.6, False),
        (120.0, -3.6, False),
    ],
)
def test_a_line_is_used_as_far_as_the_eye_can_carry_it(
    azimuth_deg: float, altitude_deg: float, *, led: bool
) -> None:
    assert bool(lines(PAIR, place(azimuth_deg, altitude_deg))) is led


@pytest.mark.parametrize(("beyond_deg", "led"), [(59.0, True), (61.0, False)])
def test_no_line_leads_over_more_than_six_fists(beyond_deg: float, *, led: bool) -> None:
    wide = sky((100.0, 1.0), (120.0, 1.0))
    assert ("AB" in lines(wide, place(120.0 + beyond_deg))) is led


def test_what_costs_trouble_costs() -> None:
    """A miss, more gaps, fainter stars and a pair of no group are each worse than without."""
    there = place(115.0)
    plain = lines(PAIR, there)["AB"].cost
    assert lines(PAIR, place(115.0, 1.0))["AB"].cost == pytest.approx(plain + 0.9, abs=0.02)
    half_a_degree_off = lines(PAIR, place(115.0, 0.5))["AB"].cost
    assert lines(PAIR, place(120.0))["AB"].cost > half_a_degree_off > plain  # a whole gap more
    fainter = replace(PAIR, magnitude=np.array([1.0, 2.2]))
    assert lines(fainter, there)["AB"].cost > plain
    both_bright = replace(PAIR, magnitude=np.array([0.0, 1.0]))
    assert lines(both_bright, there)["AB"].cost == pytest.approx(plain)  # the eye finds both
    of_three = sky((100.0, 1.0), (105.0, 2.0), (102.0, 2.0), groups=((1, 2, 3),))
    assert lines(of_three, there)["AB"].cost < plain
    pointers = sky((100.0, 1.0), (105.0, 2.0), groups=((1, 2),))
    way = lines(pointers, there)["AB"]
    assert way.cost < lines(of_three, there)["AB"].cost
    assert way.group == pointers.groups[0]


WIDE = sky((100.0, 1.0), (124.0, 2.0))


@pytest.mark.parametrize(
    ("azimuth_deg", "names", "part"),
    [
        (112.0, ("A", "B"), 1 / 2),
        (108.0, ("A", "B"), 1 / 3),
        (116.0, ("B", "A"), 1 / 3),
        (106.0, ("A", "B"), 1 / 4),
        (118.0, ("B", "A"), 1 / 4),
    ],
)
def test_a_point_between_is_counted_from_the_nearer_star(
    azimuth_deg: float, names: tuple[str, str], part: float
) -> None:
    """Halfway is told once, not from both ends."""
    (way,) = between(WIDE, place(azimuth_deg))
    assert (way.kind, way.names) == (WayKind.BETWEEN, names)
    assert way.gaps == pytest.approx(part)
    assert way.gap_deg == pytest.approx(24.0)
    assert way.extension_deg == pytest.approx(24.0 * part)
    assert way.miss_deg == pytest.approx(0.0, abs=1e-5)
    assert way.distance_deg == pytest.approx(24.0 * (1.0 - part))  # from the second star


@pytest.mark.parametrize(
    ("gap_deg", "off_deg", "used"),
    [(20.0, 1.9, True), (20.0, 2.1, False), (35.0, 2.4, True), (35.0, 2.6, False)],
)
def test_a_point_between_is_met_to_a_tenth_of_the_gap_and_two_and_a_half_degrees(
    gap_deg: float, off_deg: float, *, used: bool
) -> None:
    stars = sky((100.0, 1.0), (100.0 + gap_deg, 1.0))
    there = place(100.0 + gap_deg / 2.0, off_deg)
    found = between(stars, there)
    assert bool(found) is used
    if used:
        assert found[0].miss_deg == pytest.approx(off_deg, abs=0.01)
        assert np.cos(np.radians(found[0].bearing_deg)) == pytest.approx(1.0)  # straight above


def test_halfway_is_easiest_and_near_stars_are_easier_than_far_ones() -> None:
    def cost(azimuth_deg: float, altitude_deg: float = 0.0, stars: GuideStars = WIDE) -> float:
        (way,) = between(stars, place(azimuth_deg, altitude_deg))
        return way.cost

    half, third, quarter = cost(112.0), cost(108.0), cost(106.0)
    assert half < third < quarter
    assert half < cost(112.0, 1.0) < cost(112.0, 2.0)
    assert cost(106.0, stars=sky((100.0, 1.0), (112.0, 2.0))) < half
    on_a_line = lines(sky((100.0, 1.0), (124.0, 2.0)), place(148.0))["AB"].cost
    assert half < on_a_line


@pytest.mark.parametrize(
    ("magnitude", "apart_deg", "used"),
    [
        (2.1, 15.9, True),
        (2.1, 16.1, False),
        (2.2, 9.9, True),
        (2.2, 10.1, False),
        (2.5, 5.0, True),
        (2.6, 5.0, False),  # known by a group only
        (1.0, 0.06, True),
        (1.0, 0.04, False),  # to the eye the star is the target
    ],
)
def test_a_place_is_beside_a_star_that_is_known_and_near(
    magnitude: float, apart_deg: float, *, used: bool
) -> None:
    found = beside_ways(sky((100.0, magnitude), (200.0, 0.0)), place(100.0 + apart_deg))
    assert bool(found) is used
    if used:
        (way,) = found
        assert (way.names, way.kind) == (("A",), WayKind.BESIDE)
        assert (way.gap_deg, way.gaps, way.miss_deg) == (0.0, 0.0, 0.0)
        assert way.distance_deg == way.extension_deg == pytest.approx(apart_deg)
        assert way.bearing_deg == pytest.approx(90.0, abs=0.1)


def test_a_faint_star_is_known_by_its_group_and_a_part_of_the_target_leads_nowhere() -> None:
    stars = sky((100.0, 3.4), (103.0, 3.0), groups=((1, 2),))
    near = {way.names: way for way in beside_ways(stars, place(105.0))}
    assert set(near) == {("A",), ("B",)}
    assert near["A",].group == stars.groups[0]
    assert near["B",].cost < near["A",].cost
    own = beside_ways(stars, place(105.0, own=frozenset({2})))
    assert [way.names for way in own] == [("A",)]


@pytest.mark.parametrize(("magnitude", "stands_out"), [(1.6, True), (1.8, False), (2.4, False)])
def test_a_star_of_a_group_is_told_by_the_others(magnitude: float, *, stands_out: bool) -> None:
    """One clearly brighter than all others of the group is the easiest way of all."""
    stars = sky((100.0, magnitude), (103.0, 2.0), (106.0, 3.0), groups=((1, 2, 3),))
    (member,) = [way for way in beside_ways(stars, place(100.0)) if way.kind is WayKind.MEMBER]
    assert member.names == ("B", "C")
    assert member.stars == (2, 3)
    # One is there already: nothing to carry on, nothing to miss, no way to turn to.
    lengths = (member.gap_deg, member.extension_deg, member.gaps, member.distance_deg)
    assert (*lengths, member.miss_deg, member.bearing_deg) == (0.0,) * 6
    assert (member.cost == 0.0) is stands_out
    assert member.cost >= 0.0


@pytest.mark.parametrize("altitude_deg", [-30.0, 0.0, 41.0, 90.0])
def test_a_place_knows_how_high_it_stands(altitude_deg: float) -> None:
    assert place(200.0, altitude_deg).altitude_deg == pytest.approx(altitude_deg)


def test_from_bright_stars_all_ways_are_as_easy_and_from_faint_ones_harder() -> None:
    def cost(magnitude: float, apart_deg: float) -> float:
        (way,) = beside_ways(sky((100.0, magnitude), (200.0, 0.0)), place(100.0 + apart_deg))
        return way.cost

    assert 0.0 < cost(0.0, 5.0) == pytest.approx(cost(2.0, 5.0))
    assert cost(2.0, 5.0) < cost(2.5, 5.0) < cost(2.5, 8.0)
