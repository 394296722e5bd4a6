"""Ways and hops on the sky's screen, and what it says when it can show nothing."""

from typing import Any, cast

import pytest
from window.conftest import Windows
from window.fakes import FakeEvening
from window.hands import press
from window.sky.test_sky import off_deg, up
from window.sky_fakes import CONJUNCTION, TELESCOPE, sky_of

from companion.charts import ChartKind
from companion.sky import DRY_PAN
from companion.window.aim.words import NOTHING
from companion.window.forms.prompt_sheet import PromptSheet
from companion.window.sky import chart_names
from companion.window.sky.chart_legend import ENTRIES
from companion.window.sky.view import SkyView
from companion.window.sky.words import (
    Walk,
)


def test_the_ways_by_eye_go_round(make_window: Windows) -> None:
    window, view = up(make_window)
    ways = sky_of().paths.ways
    assert len(ways) > 1
    texts = [view.side.texts[0].text]
    for _ in ways:
        press(window, "p")
        texts.append(view.side.texts[0].text)
    assert texts[: len(ways)] == [way.sentence for way in ways]
    assert view.chart.shown.way is None
    press(window, "p")
    assert view.side.texts[0].text == ways[0].sentence
    assert view.chart.shown.way is ways[0]


def test_in_the_wide_chart_the_whole_way_is_in_view(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "W", "p", "p")
    window.motion.settle()
    shown = view.chart.shown.way
    assert shown is not None
    for star in shown.stars:
        assert view.chart.view.holds(view.chart.view.places(star))


def test_one_key_hops_on_and_the_chart_follows(make_window: Windows) -> None:
    window, view = up(make_window)
    hops = sky_of().paths.hops
    for hop in hops:
        press(window, "h")
        window.motion.settle()
        assert view.chart.kind is ChartKind.FINDER
        assert off_deg(view, hop.start) < 1e-6
        assert view.chart.view.holds(view.chart.view.places(hop.end))
        assert view.side.texts[0].text.startswith(hop.sentence)
    steps = [view.walk.step]
    for key in ("H", "h", "h"):
        press(window, key)
        steps.append(view.walk.step)
    last = len(hops) - 1
    assert steps == [last, last - 1, last, None]
    window.motion.settle()
    target = sky_of().target
    assert target is not None
    assert off_deg(view, target.vector) < 1e-6


def test_another_route_when_the_first_fails(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "h", "X")
    second = sky_of().paths.second
    assert "SECOND ROUTE, STEP 1" in view.side.captions[0].text
    assert view.side.texts[0].text == second[0].sentence
    press(window, "X")
    assert view.side.texts[0].text == sky_of().paths.hops[0].sentence


def test_orientation_is_said_and_turned_by_key(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "F")
    assert "The view is turned upside down." in view.side.chart.text
    press(window, "M")
    assert "mirrored, upright; the instrument's is not" in view.side.chart.text
    press(window, "M", "M")
    assert "The view is turned upside down." in view.side.chart.text


def test_borders_grid_and_legend_by_key(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "B")
    assert window.evening.charts.borders  # type: ignore[attr-defined]
    press(window, "G")
    assert "No sighting" in view.side.attention.notice.head
    shown = []
    for _ in range(2):
        press(window, "K")
        shown.append((view.legend.isVisible(), view.side.isVisible()))
    assert shown == [(True, False), (False, True)]
    assert len(ENTRIES) > 20


def test_a_new_target_starts_anew(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "h")
    window.evening.charts.tell(sky_of("ngc:NGC6205"))  # type: ignore[attr-defined]
    window.motion.settle()
    assert view.walk == Walk()
    target = sky_of("ngc:NGC6205").target
    assert target is not None
    assert off_deg(view, target.vector) < 1e-6


def test_readings_take_the_chart_to_where_they_point(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "F")
    sky = sky_of("hip:62956", pointed_deg=(90.0, 41.0))
    window.evening.charts.tell(sky)  # type: ignore[attr-defined]
    window.motion.settle()
    assert sky.pointed is not None
    assert off_deg(view, sky.pointed) < 1e-6
    assert view.side.name.text == "Where the tube points"


def test_near_the_sun_no_instrument_is_shown(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "F")
    sky = sky_of("body:venus", CONJUNCTION)
    window.evening.charts.tell(sky)  # type: ignore[attr-defined]
    assert view.chart.kind is ChartKind.WHOLE
    assert view.side.attention.notice.caution
    assert "blinds" in view.side.attention.notice.text
    press(window, "F", "E", "h")
    assert view.chart.kind is ChartKind.WHOLE
    assert not sky.paths.ways
    assert not sky.paths.hops


def test_found_and_not_seen_work_from_the_chart(make_window: Windows) -> None:
    window, _view = up(make_window)
    press(window, " ", "n")
    told = window.evening.told  # type: ignore[attr-defined]
    assert [call[0] for call in told if call[0] == "mark"] == ["mark", "mark"]


def test_without_a_target_it_says_how_to_choose_one(make_window: Windows) -> None:
    _window, view = up(make_window, lambda: sky_of(""))
    assert "Press /" in view.side.attention.notice.head
    south = sky_of("", site=DRY_PAN)
    _window, view = up(make_window, lambda: south)
    assert view.chart.centre[0] > 0.0  # towards the north, where the Sun passes there


def test_without_a_place_there_is_no_sky(make_window: Windows) -> None:
    evening = FakeEvening(rows=0)
    evening.needs_site, evening.charts.sky = True, lambda: sky_of("")
    window = make_window(evening)
    press(window, "Esc")
    window.go_to("sky")
    (view,) = window.stage.shown.findChildren(SkyView)
    seen = [(evening.charts.live, view.side.attention.notice.head)]
    evening.sites.choose(DRY_PAN)
    press(window, "3")
    seen.append((evening.charts.live, view.side.attention.notice.head))
    assert seen[0] == (False, "No place is known yet.")
    assert seen[1][0]
    assert seen[1][1].startswith("Press /")


def test_a_round_starts_from_a_group_that_is_known(make_window: Windows) -> None:
    window, _view = up(make_window)
    evening = cast("FakeEvening", window.evening)
    press(window, "r")
    sheet = window.sheets.up
    assert isinstance(sheet, PromptSheet)
    sheet.field.setText("no such group")
    window.do("take")
    assert window.sheets.up is sheet  # the error stands in its place, what was typed is kept
    assert sheet.field.text() == "no such group"
    sheet.field.setText("dipper")
    window.do("take")
    assert ("start a round", "Big Dipper") in evening.told


def test_the_note_of_a_key_goes_with_the_next(make_window: Windows) -> None:
    window, view = up(make_window, lambda: sky_of(instrument=TELESCOPE))
    press(window, "G")
    assert view.side.attention.notice != NOTHING
    press(window, "W")
    assert view.side.attention.notice == NOTHING


def test_letters_are_parted_from_what_lies_behind_without_being_stroked_anew(
    make_window: Windows, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: list[object] = []
    rim = chart_names._rim

    def count(*args: Any) -> object:
        made.append(args[0])
        return rim(*args)

    monkeypatch.setattr(chart_names, "_rim", count)
    window, view = up(make_window)
    before = view.chart.grab().toImage()
    first = len(made)
    assert first > 3
    assert view.chart.grab().toImage() == before
    assert len(made) == first
    window.do("dimmer")
    view.chart.grab()
    assert len(made) == first  # the ground stays black, however dim the letters are
