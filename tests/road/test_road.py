from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from companion.road import AIMS, BOX_NIGHTS, Learned, Tool, counted, standings
from companion.sky import DRY_PAN, LOON_BARRENS, Site, load_catalogue

from .conftest import Walk

SPRING = datetime(2027, 4, 11, 1, 0, tzinfo=UTC)
WINTER = datetime(2027, 1, 20, 23, 30, tzinfo=UTC)
SOUTH = datetime(2027, 5, 10, 19, 0, tzinfo=UTC)


def test_there_are_forty_aims_and_each_comes_after_known_ones() -> None:
    known: set[str] = set()
    keys = {aim.key for aim in AIMS}
    assert len(AIMS) == len(keys) == 40
    for aim in AIMS:
        assert set(aim.after) <= keys
        known.add(aim.key)


def test_the_first_steps_begin_at_the_best_known_group(walk: Walk) -> None:
    north = walk(LOON_BARRENS, SPRING)
    assert [step.subject for step in north.steps[:2]] == ["group:dipper", "hip:11767"]
    assert len(north.doable) >= 5
    south = walk(DRY_PAN, SOUTH)
    assert [step.subject for step in south.steps[:2]] == [
        "group:southern-cross",
        "point:south-pole",
    ]
    for step in north.doable:
        assert step.sentences
        assert step.check
        assert step.missing


def test_the_first_bright_star_is_bright_and_sentences_agree(walk: Walk) -> None:
    for site, utc in ((LOON_BARRENS, SPRING), (DRY_PAN, SOUTH), (LOON_BARRENS, WINTER)):
        (first,) = [step for step in walk(site, utc).steps if step.key == "first-star"]
        assert (load_catalogue().target(first.subject).magnitude or 9.0) <= 1.0
    assert "the Southern Cross stands" in walk(DRY_PAN, SOUTH).steps[0].sentences[0]


def test_the_sun_is_not_said_to_set_where_it_does_not(walk: Walk) -> None:
    noon = datetime(2027, 6, 20, 11, 0, tzinfo=UTC)
    found = walk(Site("far north", 89.0, 10.0), noon)
    assert all(step.waits for step in found.steps if step.key == "sunset")
    assert not any("compass" in text for step in found.steps for text in step.sentences)
    evening = datetime(2027, 4, 10, 22, 30, tzinfo=UTC)
    assert "sunset" in {step.key for step in walk(LOON_BARRENS, evening, overcast=False).steps}


def test_a_count_of_stars_tells_how_dark_it_is() -> None:
    few, many = (counted(load_catalogue(), "great square", number) for number in (2, 20))
    assert few.limit_mag < many.limit_mag
    assert few.zenith_mag < many.zenith_mag
    assert 0.1 <= many.error_mag < 1.5


def test_no_two_new_figures_in_a_night(walk: Walk) -> None:
    for site, utc in ((LOON_BARRENS, SPRING), (DRY_PAN, SOUTH)):
        assert sum(step.is_figure for step in walk(site, utc).doable) <= 1


def test_what_waits_says_until_when(walk: Walk) -> None:
    waiting = [step for step in walk(LOON_BARRENS, SPRING, tool=Tool.TELESCOPE).steps if step.waits]
    assert waiting
    assert all(step.waits_until is None or step.waits_until >= SPRING for step in waiting)


def test_by_day_the_steps_are_for_dusk(walk: Walk) -> None:
    noon = datetime(2027, 4, 10, 15, 0, tzinfo=UTC)
    found = walk(LOON_BARRENS, noon)
    assert noon < found.utc < noon + timedelta(hours=12)
    sky = [step for step in found.doable if step.key == "own-group"]
    assert sky[0].waits_until == found.utc


def test_found_steps_do_not_come_again_until_they_are_due(walk: Walk) -> None:
    once = (Learned("own-group", "group:dipper", SPRING - timedelta(minutes=30), found=True),)
    same_night = walk(LOON_BARRENS, SPRING, tries=once)
    assert all(step.key != "own-group" for step in same_night.steps)
    next_night = walk(LOON_BARRENS, SPRING + timedelta(days=1), tries=once)
    assert next_night.steps[0].again
    assert next_night.steps[0].subject == "group:dipper"
    assert next_night.steps[0].sentences[0].startswith("First without help")


def test_a_star_is_asked_again_from_another_side(walk: Walk) -> None:
    """The pole star by the Dipper in spring; the next time another figure leads to it."""
    first = SPRING - timedelta(hours=2)
    tries = (
        Learned("own-group", "group:dipper", first, found=True),
        Learned("pole", "hip:11767", first + timedelta(minutes=10), found=True),
    )
    (star,) = [s for s in walk(LOON_BARRENS, SPRING, tries=tries[:1]).doable if s.key == "pole"]
    tomorrow = walk(LOON_BARRENS, SPRING + timedelta(days=1), tries=tries)
    (again,) = [step for step in tomorrow.doable if step.key == "pole"]
    assert again.again
    assert again.subject == star.subject
    assert again.sentences[0].startswith("First without help")
    assert again.sentences[1].startswith("This time from ")
    assert "Dipper" not in again.sentences[1]
    assert again.look_altitude_deg == pytest.approx(star.look_altitude_deg, abs=1.0)


def test_where_no_other_figure_leads_the_way_of_before_is_told(walk: Walk) -> None:
    """In April only the Dipper's handle leads to Arcturus."""
    tries = tuple(
        Learned(aim, subject, SPRING - timedelta(hours=2), found=True)
        for aim, subject in (
            ("own-group", "group:dipper"),
            ("pole", "hip:11767"),
            ("first-star", "hip:69673"),
        )
    )
    tomorrow = walk(LOON_BARRENS, SPRING + timedelta(days=1), tries=tries)
    (again,) = [step for step in tomorrow.doable if step.key == "first-star"]
    assert again.again
    assert "handle" in again.sentences[1]


def test_boxes_are_leitners(walk: Walk) -> None:
    """Leitner 1972: found moves on one box, not found goes back to the first."""
    utc, tries = SPRING, []
    for nights in BOX_NIGHTS:
        tries.append(Learned("pole", "hip:11767", utc, found=True))
        (standing,) = standings(tries).values()
        assert not standing.due(utc + timedelta(days=nights) - timedelta(hours=13))
        utc += timedelta(days=nights)
        assert standing.due(utc)
    tries.append(Learned("pole", "hip:11767", utc, found=False))
    (standing,) = standings(tries).values()
    assert standing.box == 1
    practice = standings([Learned("pole", "hip:11767", utc, found=True, practice=True)])
    assert practice == {}


def test_what_is_not_found_three_times_rests_a_week(walk: Walk) -> None:
    tries = tuple(
        Learned("own-group", "group:dipper", SPRING - timedelta(hours=hours), found=False)
        for hours in (3, 2, 1)
    )
    found = walk(LOON_BARRENS, SPRING, tries=tries)
    (rests,) = [step for step in found.steps if step.key == "own-group"]
    assert rests.waits
    assert "ask somebody" in rests.sentences[0]
    assert found.doable
    later = walk(LOON_BARRENS, SPRING + timedelta(days=8), tries=tries)
    assert later.doable[0].key == "own-group"


def test_practice_that_failed_comes_first_outside(walk: Walk) -> None:
    missed = Learned("rehearse", "hip:69673", SPRING - timedelta(hours=5), False, practice=True)
    assert walk(LOON_BARRENS, SPRING, tries=(missed,)).doable[0].subject == "hip:69673"


@pytest.mark.parametrize("zenith_mag", [17.0, 18.5, 20.5, 22.0])
def test_town_and_full_moon_still_leave_steps(walk: Walk, zenith_mag: float) -> None:
    full_moon = datetime(2027, 4, 21, 1, 30, tzinfo=UTC)
    found = walk(LOON_BARRENS, full_moon, zenith_mag)
    assert len(found.doable) >= 5
    assert all("Milky Way" not in step.title for step in found.doable)


def test_bad_places_are_said(walk: Walk) -> None:
    june = datetime(2027, 6, 20, 21, 0, tzinfo=UTC)
    pole = walk(Site("far north", 89.0, 10.0), june)
    assert pole.words
    assert any(step.waits_until and step.waits_until.month in {9, 10, 11} for step in pole.steps)
    equator = walk(Site("equator", 0.0, 30.0), june)
    assert all(step.waits for step in equator.steps if step.key == "pole")
    trees = replace(LOON_BARRENS, horizon=((0.0, 40.0), (180.0, 40.0)))
    assert all(
        step.look_altitude_deg is None or step.look_altitude_deg >= 30.0 or step.key == "directions"
        for step in walk(trees, SPRING).doable
        if step.subject.startswith(("hip:", "group:"))
    )


def test_clouds_leave_what_needs_no_sky(walk: Walk) -> None:
    found = walk(LOON_BARRENS, SPRING, overcast=True)
    assert found.words
    assert {step.key for step in found.doable} <= {"hand", "directions", "sunset", "set-up"}
    assert found.doable


def test_an_old_moment_answers_too(walk: Walk) -> None:
    assert len(walk(LOON_BARRENS, datetime(1987, 3, 1, 1, 0, tzinfo=UTC)).doable) >= 5
