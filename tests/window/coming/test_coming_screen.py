"""What keys and new facts do on the screen of what comes, and what the status line says of it."""

from dataclasses import replace

from window.coming_fakes import events
from window.conftest import Windows
from window.facts import UTC_NOW
from window.fakes import FakeEvening
from window.hands import press, told
from window.purity import lit, stained

from companion.live import Reach, Severity
from companion.window import MainWindow
from companion.window.coming.panel import ComingPanel


def opened(make: Windows, evening: FakeEvening, *keys: str) -> tuple[MainWindow, ComingPanel]:
    window = make(evening)
    press(window, "9", *keys)
    panel = window.stage.shown
    assert isinstance(panel, ComingPanel)
    return window, panel


def names(panel: ComingPanel) -> list[str]:
    return [row.name for row in panel.list.list.rows]


def test_what_is_seen_from_here_is_listed_with_where_and_with_what(make_window: Windows) -> None:
    _window, panel = opened(make_window, FakeEvening())
    assert names(panel) == [
        "Moon and Saturn, 2.4° apart", "Orionids at their peak", "Partial eclipse of the Sun",
    ]  # fmt: skip
    row = panel.list.list.rows[0]
    assert row.lead == "20:22"
    assert row.right == "41° up, south 171° · dials 41.0° 187½° · with binoculars · in the queue"


def test_the_sun_says_its_caution_first_and_is_never_aimed_at(make_window: Windows) -> None:
    evening = FakeEvening()
    window, panel = opened(make_window, evening, "Down", "Down")
    row = panel.list.list.rows[2]
    assert row.below.startswith("Never look at the Sun without a certified solar filter")
    assert "with a solar filter" in row.right
    for key in ("Enter", "Shift+Enter"):
        press(window, key)
        assert evening.messages.current[-1].severity is Severity.WARNING
    assert not told(evening, "find_target")


def test_enter_looks_the_target_up_for_the_queue(make_window: Windows) -> None:
    evening = FakeEvening()
    opened(make_window, evening, "Enter")
    ((_name, event, _then),) = told(evening, "find_target")
    assert event.keys[0] == "body:saturn"


def test_filters_are_chosen_by_arrows_and_changed_by_enter(make_window: Windows) -> None:
    evening = FakeEvening()
    window, panel = opened(make_window, evening, "Right", "Enter")
    assert told(evening, "set_reach") == [("set_reach", Reach.MONTH)]
    press(window, "Right", "Enter")
    assert names(panel) == ["Partial eclipse of the Sun"]
    press(window, "x")
    assert "The Moon covers Fang" in names(panel)


def test_the_year_is_a_picture_and_escape_leads_back(make_window: Windows) -> None:
    evening = FakeEvening()
    window, panel = opened(make_window, evening)
    window.do("year")
    assert panel.context == "year"
    picture = window.grab()
    assert not stained(picture)
    assert lit(picture)
    press(window, "Esc")
    assert panel.context == "events"


def test_what_begins_soon_stands_in_the_status_line_of_every_screen(make_window: Windows) -> None:
    evening = FakeEvening()
    evening.coming.soon = events(UTC_NOW)[0]
    window = make_window(evening)
    for digit in "1369":
        press(window, digit)
        evening.tell(replace(evening.latest)) if evening.latest else None
        assert (
            window.status.status.soon == "Moon and Saturn, 2.4° apart in 8 min (comma puts it off)"
        )
    press(window, ",")
    assert told(evening, "put_off") == [("put_off",)]
