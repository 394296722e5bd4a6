from dataclasses import replace
from typing import Any

import pytest
from window.facts import ALIGNED, aim, snapshot
from window.gear_facts import (
    BUMP_DOUBT,
    FITTED,
    NEXT,
    ONE_SIDE_DOUBT,
    PARAMETERS,
    STAR_DOUBT,
    STAYS,
    sighted,
)

from companion.instant import AlignmentFacts, HandlingFacts, PointedFacts
from companion.mount import Doubt
from companion.window.aim import words as aim_words
from companion.window.forms.look_up_sheet import pointed_facts
from companion.window.mount import words as mount_words
from companion.window.mount.residual_plot import PlotFacts, reach_deg, ring_step_deg

NONE_KEPT: frozenset[tuple[str, tuple[int, ...]]] = frozenset()


@pytest.mark.parametrize(
    ("alignment", "instrument", "expected"),
    [
        (None, "", "true directions, no mount"),
        (None, "10×50", "true directions, no mount · 10×50"),
        (ALIGNED, "", "aligned on 3 stars, 95% of aims within 18′"),
        (
            FITTED,
            "150 mm f/8",
            "aligned on 3 stars, 95% of aims within 18′ · 1 set aside · 150 mm f/8",
        ),
    ],
)
def test_about(alignment: AlignmentFacts | None, instrument: str, expected: str) -> None:
    assert mount_words.about(alignment, instrument) == expected


@pytest.mark.parametrize(
    ("alignment", "described", "parts"),
    [
        (None, False, ("No mount is described yet.", "Press d")),
        (None, True, ("The fit is being made.",)),
        (
            replace(FITTED, sightings=()),
            True,
            ("No star is sighted yet.", "Press g", "aim at Cape"),
        ),
        (
            replace(FITTED, sightings=FITTED.sightings[:1]),
            True,
            ("No star is sighted yet.", "Press shift n"),
        ),
        (
            replace(FITTED, sightings=(), next_sighting=None),
            True,
            ("No star is sighted yet.", "bright star (/)"),
        ),
        (replace(FITTED, doubts=(STAR_DOUBT,)), True, ("24° off", "Press y: it was Deneb.")),
        (replace(FITTED, doubts=(BUMP_DOUBT,)), True, ("jumped", "Press y to set them aside")),
        (replace(FITTED, doubts=(ONE_SIDE_DOUBT,)), True, ("within 12°", "Press x once read.")),
        (replace(FITTED, doubts=(STAR_DOUBT, BUMP_DOUBT)), True, ("24° off", "(1 more)")),
    ],
)
def test_what_needs_attention(
    alignment: AlignmentFacts | None, described: bool, parts: tuple[str, ...]
) -> None:
    notice = mount_words.notice(alignment, NONE_KEPT, described=described)
    for part in parts:
        assert part in f"{notice.head} {notice.text}"


def test_a_sound_alignment_needs_no_attention() -> None:
    assert mount_words.notice(FITTED, NONE_KEPT, described=True) == aim_words.NOTHING


def test_a_doubt_that_was_left_is_not_asked_about_again() -> None:
    kept = frozenset({(STAR_DOUBT.kind, STAR_DOUBT.numbers)})
    facts = replace(FITTED, doubts=(STAR_DOUBT, BUMP_DOUBT))
    assert mount_words.open_doubts(facts, kept) == (BUMP_DOUBT,)


@pytest.mark.parametrize(
    ("doubts", "numbers"),
    [((), set()), ((STAR_DOUBT,), {3}), ((ONE_SIDE_DOUBT,), set()), ((BUMP_DOUBT,), {1, 2})],
)
def test_questioned_sightings(doubts: tuple[Doubt, ...], numbers: set[int]) -> None:
    assert mount_words.questioned_numbers(doubts) == numbers


@pytest.mark.parametrize(
    ("changes", "more", "figures"),
    [
        ({}, "", ("19:47", "41.3°", "120½°", "13′")),
        ({"azimuth_text": ""}, "", ("19:47", "41.3°", "–", "13′")),
        ({"weak": True, "altitude_text": ""}, "weak", ("19:47", "–", "120½°", "13′")),
        ({"set_aside": True}, "set aside", ("19:47", "41.3°", "120½°", "13′")),
        ({"number": 7}, "questioned", ("19:51", "41.3°", "120½°", "13′")),
    ],
)
def test_rows(changes: dict[str, Any], more: str, figures: tuple[str, ...]) -> None:
    base = sighted(3, "Vega", 0.21)
    one = replace(base, **changes)
    if "number" in changes:
        one = replace(one, utc=sighted(7, "Vega", 0.21).utc)
    row = mount_words.sighting_words(one, snapshot().local.tzinfo, frozenset({7}))
    assert (row.more, row.figures) == (more, figures)


@pytest.mark.parametrize(
    ("azimuth", "altitude", "whole", "right", "up"),
    [
        (0.3, 0.4, 0.5, 0.3, 0.4),
        (-0.6, 0.4, 0.5, -0.3, 0.4),  # 0.6° of azimuth at 60° high are 0.3° in the sky
        (None, -0.4, 0.4, 0.0, -0.4),
        (0.4, None, 0.2, 0.2, 0.0),
    ],
)
def test_a_residual_lies_where_it_is_in_the_sky(
    azimuth: float | None, altitude: float | None, whole: float, right: float, up: float
) -> None:
    one = sighted(1, "Vega", whole, azimuth_residual_deg=azimuth, altitude_residual_deg=altitude)
    point = mount_words.plot_point(one, frozenset())
    assert (point.right_deg, point.up_deg) == pytest.approx((right, up))


@pytest.mark.parametrize(
    ("at", "value", "known"),
    [
        (0, "7.2° ± 13′", True),
        (1, "−25′ ± 6.6′", True),
        (4, "not known yet · within 17′", False),
    ],
)
def test_what_is_known(at: int, value: str, known: bool) -> None:
    words = mount_words.parameter_words(PARAMETERS[at])
    assert (words.value, words.known) == (value, known)
    assert -1.0 <= words.at <= 1.0
    assert 0.0 < words.half <= 1.0


def test_the_next_star_is_given_as_numbers_to_set() -> None:
    fact = mount_words.next_fact(FITTED)
    assert fact.value == f"{NEXT.name}  23.1°  64½°"
    assert mount_words.next_fact(None).value == ""


@pytest.mark.parametrize(("radius", "drawn"), [(None, None), (0.3, 0.3), (104.0, None)])
def test_no_circle_while_there_is_no_aim(radius: float | None, drawn: float | None) -> None:
    assert mount_words.plot_radius(replace(FITTED, typical_radius95_deg=radius)) == drawn


def test_the_plot_is_shaped_by_the_sightings_in_use() -> None:
    points = tuple(mount_words.plot_point(one, frozenset()) for one in FITTED.sightings)
    alone = reach_deg(PlotFacts(points, 0.3))
    assert alone == pytest.approx(0.3 * 1.08)  # neither the compass nor what is set aside
    assert reach_deg(PlotFacts(points, 0.3, (("finder", 6.0),))) == alone
    assert reach_deg(PlotFacts(points, 0.3, (("25 mm", 1.1),))) == pytest.approx(0.55 * 1.08)


@pytest.mark.parametrize(("reach", "step_arcmin"), [(0.09, 2), (0.33, 5), (0.6, 10), (3.0, 60)])
def test_rings_stand_at_whole_minutes(reach: float, step_arcmin: float) -> None:
    assert ring_step_deg(reach) * 60.0 == pytest.approx(step_arcmin)


# The aim with a mount.


@pytest.mark.parametrize(
    ("handling", "head"),
    [
        (HandlingFacts(reach="The azimuth dial ends before 12°."), "can't point at Saturn"),
        (HandlingFacts(blind="Better in 12 min."), "near the zenith"),
        (HandlingFacts(turn="The long way round."), "Not the short way"),
        (HandlingFacts(STAYS), ""),
    ],
)
def test_what_the_mount_and_the_hand_cannot_do(handling: HandlingFacts, head: str) -> None:
    notice = aim_words.notice(snapshot(), aim(handling=handling), frozenset())
    assert head in notice.head
    assert bool(notice.head) == bool(head)


def test_the_sun_comes_before_everything_else() -> None:
    blind = aim(handling=HandlingFacts(blind="Better in 12 min."), sun_danger=True)
    assert aim_words.notice(snapshot(), blind, frozenset()).caution


@pytest.mark.parametrize(
    ("stays", "expected"),
    [
        ((), ("IN THE FIELD", "", "")),
        (STAYS, ("IN THE 25 MM", "2 min", "then down and left")),
        (STAYS[:1], ("IN THE 8×50 FINDER", "13 min", "then down and left")),
        ((replace(STAYS[1], seconds=None),), ("IN THE 25 MM", "for ever", "")),
    ],
)
def test_how_long_it_stays(stays: Any, expected: tuple[str, str, str]) -> None:
    fact = aim_words.stay_fact(aim(handling=HandlingFacts(stays)))
    assert (fact.caption, fact.value, fact.more) == expected


def test_it_is_said_for_the_eyepiece_that_is_in() -> None:
    told = HandlingFacts(STAYS, eyepiece=STAYS[-1].look)
    assert aim_words.stay_fact(aim(handling=told)).caption == f"IN THE {STAYS[-1].look.upper()}"
    assert STAYS[-1].look != STAYS[1].look


# What readings point to.

POINTED = PointedFacts(
    azimuth_deg=187.3,
    altitude_deg=41.2,
    ra_deg=292.1,
    dec_deg=27.9,
    constellation="Cygnus",
    radius95_deg=0.4,
    star="Albireo",
    star_distance_deg=0.31,
    objects=(("M 56", 0.8), ("NGC 6800", 0.9)),
)


@pytest.mark.parametrize(
    ("changes", "caption", "value"),
    [
        ({}, "CONSTELLATION", "Cygnus"),
        ({}, "NEAREST BRIGHT STAR", "Albireo"),
        ({}, "IN THE FIELD", "M 56 48′ · NGC 6800 54′"),
        ({"objects": ()}, "IN THE FIELD", "nothing of the catalogues"),
        ({}, "RIGHT ASCENSION AND DECLINATION", "19h28.4m  +27°54′"),
        ({}, "SURE", "to 24′"),
        ({"radius95_deg": 0.0}, "SURE", ""),
        ({}, "TRUE ALTITUDE AND AZIMUTH", "41.2°, 187.3°"),
    ],
)
def test_what_is_pointed_at(changes: dict[str, Any], caption: str, value: str) -> None:
    made = {fact.caption: fact.value for fact in pointed_facts(replace(POINTED, **changes))}
    assert made[caption] == value
