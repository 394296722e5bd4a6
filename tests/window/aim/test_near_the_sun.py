"""What the aim withholds near the Sun."""

from time import monotonic

import pytest
from window.conftest import Windows
from window.facts import aim, snapshot
from window.fakes import FakeEvening
from window.hands import aim_of, press

from companion.window.north.panel import NorthPanel

# Near the Sun.


def _near_the_sun() -> FakeEvening:
    return FakeEvening(snapshot(aim=aim(sun_danger=True, sun_distance_deg=12.3)))


def test_near_the_sun_no_number_and_no_needle_shows_the_way(make_window: Windows) -> None:
    window = make_window(_near_the_sun())
    face = aim_of(window).face
    assert [figure.text for figure in face.figures] == ["", ""]
    assert [words.text for words in face.beneath] == ["", ""]
    assert [way.text for way in face.ways] == ["", ""]
    assert face.ring._needle.shown is None
    assert face.quadrant._tube.shown is None
    assert not face.facts.facts
    assert face.attention.notice.caution
    assert "uncover" in {hint.action for hint in window.hints.hints}
    press(window, "2")
    north = window.stage.shown
    assert isinstance(north, NorthPanel)
    assert north.figures[1].text == ""
    assert north.rose._target.shown is None


def test_u_uncovers_only_at_the_second_press(make_window: Windows) -> None:
    evening = _near_the_sun()
    window = make_window(evening)
    press(window, "U")
    face = aim_of(window).face
    assert evening.told == []
    assert "once more" in face.attention.notice.text
    press(window, "U")
    assert evening.told == [("uncover",)]
    assert face.figures[0].text == "41.3"
    assert face.attention.notice.caution


def test_the_first_press_is_forgotten_in_time_and_with_the_target(
    make_window: Windows, monkeypatch: pytest.MonkeyPatch
) -> None:
    evening = _near_the_sun()
    window = make_window(evening)
    press(window, "U")
    later = monotonic() + 60.0
    monkeypatch.setattr("companion.window.frame.twice.monotonic", lambda: later)
    press(window, "U")
    assert evening.told == []


def test_u_does_nothing_away_from_the_sun(make_window: Windows) -> None:
    evening = FakeEvening()
    press(make_window(evening), "U", "U")
    assert evening.told == []
