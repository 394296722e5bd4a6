"""What the screen of the night says at the cursor, and where names find room."""

from datetime import datetime, timedelta, timezone
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtCore import QPointF, QRectF, QSizeF
from window.facts import SATURN
from window.night_fakes import at, plan, view

from companion.advice import AdviceError
from companion.window.kit.labels import Label, placed
from companion.window.night.plot import TimeAxis
from companion.window.night.prompts import constellation_of
from companion.window.night.words import altitude_at, hint, shades, stands

# Words and geometry.


def test_a_curve_is_read_off_between_its_steps() -> None:
    times, up = (0.0, 100.0, 200.0), (0.0, 10.0, 30.0)
    assert altitude_at(times, up, 50.0) == 5.0
    assert altitude_at(times, up, 175.0) == 25.0
    assert altitude_at(times, up, -9.0) == 0.0
    assert altitude_at(times, up, 900.0) == 30.0


def test_words_at_the_cursor() -> None:
    shown = view([SATURN])
    one = shown.plans[0]
    assert stands(shown, one, at(6.0).timestamp()).endswith("south-east")
    assert hint(shown, one, at(6.6).timestamp()) == "until 22:00"
    assert hint(shown, one, at(6.0).timestamp()) == "from 19:30"
    assert hint(shown, one, at(12.0).timestamp()) == "over since 22:00"
    assert hint(shown, plan(SATURN, 0, never=True), 0.0) == "of no use tonight"


def test_shades_fill_the_shown_night_without_gaps() -> None:
    shown = view([])
    found = shades(shown)
    assert found[0].begins_s == shown.begins_utc.timestamp()
    assert found[-1].ends_s == shown.ends_utc.timestamp()
    for one, other in pairwise(found):
        assert one.ends_s == pytest.approx(other.begins_s)
    assert [one.level for one in found] == [4, 3, 2, 1, 0, 1, 2, 3, 4]


def test_full_hours_stay_full_when_the_clocks_change() -> None:
    halifax = ZoneInfo("America/Halifax")
    begins = datetime(2026, 10, 31, 23, 30, tzinfo=halifax).timestamp()
    axis = TimeAxis(begins, begins + 6 * 3600.0, 0.0, 600.0)
    hours = [one.hour for one in axis.ticks(halifax, 60)]
    assert hours == [0, 1, 1, 2, 3, 4]  # the hour that comes twice
    assert axis.time_s(axis.x(begins + 99.0)) == pytest.approx(begins + 99.0)
    india = timezone(timedelta(hours=5, minutes=30))
    assert all(one.minute == 0 for one in axis.ticks(india, 60))


def test_names_take_another_place_or_none() -> None:
    size, spot, aside = QSizeF(40, 10), QPointF(50, 50), QPointF(50, 80)
    labels = [Label("a", size, (spot,)), Label("b", size, (spot, aside)), Label("c", size, (spot,))]
    stand = placed(labels, QRectF(0, 0, 200, 200), [], 2.0)
    assert [(text, box.center()) for text, box in stand] == [("a", spot), ("b", aside)]


@pytest.mark.parametrize(
    ("typed", "short"),
    [("Cygnus", "Cyg"), ("cyg", "Cyg"), ("androm", "And"), ("", ""), ("ursa major", "UMa")],
)
def test_a_constellation_by_name_or_letters(typed: str, short: str) -> None:
    assert constellation_of(typed) == short


@pytest.mark.parametrize("typed", ["xyz", "ursa", "c"])
def test_no_or_several_constellations_are_refused(typed: str) -> None:
    with pytest.raises(AdviceError):
        constellation_of(typed)
