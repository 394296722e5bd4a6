"""The evening goes on: uncovering, sightings, rounds, another place."""

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from companion.advice import AdviceError
from companion.journal import Outcome
from companion.live import WOODEN
from companion.mount import Fitting
from companion.sky import DRY_PAN, LOON_BARRENS, Site
from live.conftest import Open
from live.test_evening import SATURN, SIGMA, VEGA, filled, names


def test_uncovering_is_for_one_target(open_evening: Open, qtbot: QtBot) -> None:
    evening = open_evening()
    filled(evening, qtbot, VEGA, SATURN)
    evening.uncover()
    assert evening.choices.uncovered == {VEGA.key}
    evening.set_fast(fast=True)
    assert evening.choices.rate_hz == 10.0


def test_sightings_are_kept_and_set_aside(open_evening: Open, qtbot: QtBot) -> None:
    evening = open_evening()
    filled(evening, qtbot, VEGA, SATURN)
    evening.mounts.choose(WOODEN)
    qtbot.waitUntil(
        lambda: (
            evening.latest is not None
            and evening.latest.aim is not None
            and evening.latest.alignment is not None
        ),
        timeout=10_000,
    )
    assert evening.latest is not None
    aim, utc = evening.latest.aim, evening.latest.utc
    assert aim is not None
    for azimuth, altitude in (("abc", ""), ("", ""), ("400", "40")):
        with pytest.raises(AdviceError):
            evening.mounts.sight(aim, utc, azimuth=azimuth, altitude=altitude)
    evening.mounts.sight(aim, utc, azimuth="142½", altitude="69.4")
    qtbot.waitUntil(lambda: len(evening.choices.sightings) == 1)
    kept = evening.choices.sightings[0]
    assert (kept.name, kept.azimuth_reading_deg, kept.altitude_reading_deg) == ("Vega", 142.5, 69.4)
    evening.mounts.set_aside([kept.number])
    qtbot.waitUntil(lambda: evening.choices.sightings[0].set_aside)
    evening.mounts.bring_back([kept.number])
    qtbot.waitUntil(lambda: not evening.choices.sightings[0].set_aside)
    star = Fitting("Deneb", "hip:102098", 80.0, 50.0, 0.1)
    evening.mounts.rename(kept.number, star)
    qtbot.waitUntil(lambda: len(evening.choices.sightings) == 2)
    qtbot.waitUntil(lambda: evening.choices.sightings[0].set_aside)
    assert evening.choices.sightings[1].name == "Deneb"
    evening.mounts.choose(None)
    assert evening.choices.sightings == ()
    evening.close()
    again = open_evening(site=None)
    assert [mount.name for mount in again.mounts.known] == ["wooden mount"]
    assert again.choices.mount is None
    again.mounts.choose(WOODEN)
    assert len(again.choices.sightings) == 2


def test_a_round_from_a_group_goes_to_the_end_of_the_queue(
    open_evening: Open, qtbot: QtBot
) -> None:
    evening = open_evening()
    filled(evening, qtbot, SIGMA)
    evening.guide_round.start("Big Dipper")
    qtbot.waitUntil(lambda: len(evening.queue.items) > 3, timeout=20_000)
    # Where the Dipper's stars lead: common practice, no source. Arcturus is down to 13° by then,
    # and a round takes only what stands well.
    assert "Polaris" in names(evening)
    assert "Arcturus" not in names(evening)
    assert names(evening)[0] == SIGMA.name
    assert any("Big Dipper leads to" in message.text for message in evening.messages.current)
    evening.undo()
    qtbot.waitUntil(lambda: names(evening) == [SIGMA.name])
    evening.guide_round.start("Southern Cross")
    qtbot.waitUntil(
        lambda: any("cannot be made out" in m.text for m in evening.messages.current),
        timeout=10_000,
    )
    evening.guide_round.start("no such group")
    qtbot.waitUntil(
        lambda: any("no such group" in m.text for m in evening.messages.current), timeout=10_000
    )
    assert names(evening) == [SIGMA.name]


def test_a_place_that_is_visited_again_keeps_what_was_told_of_it(
    open_evening: Open, qtbot: QtBot
) -> None:
    evening = open_evening()
    treed = replace(DRY_PAN, horizon=((0.0, 12.0), (180.0, 3.0)), elevation_m=1510.0)
    evening.sites.choose(treed)
    qtbot.waitUntil(lambda: treed in evening.sites.known)
    evening.sites.visit(LOON_BARRENS)
    qtbot.waitUntil(lambda: evening.choices.site == LOON_BARRENS)
    evening.sites.visit(DRY_PAN)
    qtbot.waitUntil(lambda: evening.choices.site == treed)
    moved = replace(DRY_PAN, latitude_deg=-30.0)  # another place of the same name
    evening.sites.visit(moved)
    qtbot.waitUntil(lambda: evening.choices.site == moved)


def test_a_row_merely_looked_at_or_skipped_is_not_where_the_tube_stands(
    open_evening: Open, qtbot: QtBot
) -> None:
    evening = open_evening()
    filled(evening, qtbot, VEGA, SATURN, SIGMA)
    evening.queue.choose(SATURN.key)
    assert evening.choices.last_target is None
    evening.queue.mark(Outcome.SKIPPED)
    qtbot.waitUntil(lambda: evening.choices.target == SIGMA)
    assert evening.choices.last_target is None
    evening.queue.choose(VEGA.key)
    evening.queue.mark(Outcome.FOUND)
    qtbot.waitUntil(lambda: evening.choices.target == SIGMA)
    assert evening.choices.last_target == VEGA


def test_a_change_of_place_is_taken_back_with_all_that_was_told_of_it(
    open_evening: Open, qtbot: QtBot
) -> None:
    evening = open_evening()
    treed = replace(LOON_BARRENS, horizon=((0.0, 12.0), (180.0, 3.0)))
    evening.sites.choose(treed)
    qtbot.waitUntil(lambda: evening.undo_text == "place: Loon Barrens")
    high = replace(treed, elevation_m=480.0)
    evening.sites.choose(high)
    evening.sites.choose(DRY_PAN)
    qtbot.waitUntil(lambda: evening.undo_text == "place: Dry Pan")

    def taken_back_to(before: Site) -> None:
        evening.undo()
        qtbot.waitUntil(lambda: evening.choices.site == before)
        qtbot.waitUntil(lambda: before in evening.sites.known)

    for place in (high, treed, LOON_BARRENS):
        taken_back_to(place)
    assert any("as it was told before" in one.text for one in evening.messages.current)
    assert evening.undo_text != "place: Loon Barrens"
    evening.redo()
    qtbot.waitUntil(lambda: evening.choices.site == treed)


def test_the_first_place_of_all_leaves_nothing_to_go_back_to(
    open_evening: Open, qtbot: QtBot
) -> None:
    evening = open_evening(site=None, demo=False)
    evening.sites.choose(DRY_PAN)
    qtbot.waitUntil(lambda: DRY_PAN in evening.sites.known)
    assert evening.undo_text == ""
