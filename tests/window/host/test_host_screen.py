"""The host's screen and the guests' page: what they say, and stories by keys on the real thing."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QRect
from pytestqt.qtbot import QtBot
from window.conftest import Windows
from window.fakes import FakeEvening
from window.hands import press
from window.host_fakes import RING, SAYINGS, STOPS, turn
from window.purity import lit, stained
from window.test_stories import Person

from companion.finding import InstrumentKind
from companion.instant import DEMO_UTC
from companion.journal import FILE_NAME, Journal, Outcome, night_of
from companion.live import HostModel, Showing
from companion.sky import LOON_BARRENS, zone_of
from companion.window import MainWindow, RedApplication
from companion.window.host.guest_page import GuestPage
from companion.window.host.panel import HostPanel
from companion.window.host.words import WELCOME, counter, guest_lines

SIZES = ((1366, 768), (1920, 1080), (800, 480), (480, 800))


def panel_of(window: MainWindow) -> HostPanel:
    panel = window.stage.shown
    assert isinstance(panel, HostPanel)
    return panel


def guests_of(window: MainWindow) -> GuestPage:
    page = window.guests.page
    assert page is not None
    assert page.isVisible()
    return page


def test_an_empty_screen_says_what_to_do_and_enter_does_it(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "F8")
    assert "Enter works the evening out" in panel_of(window).page.notice.notice.head
    press(window, "Enter")
    assert ("work_out",) in evening.told


def test_the_values_above_the_list_are_typed(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "F8", "Right", "Right", "Enter", "7", "Enter")
    assert evening.host.wishes.minutes == 7.0
    press(window, "Right", "Enter")
    assert evening.host.wishes.through is InstrumentKind.EYE
    press(window, "Right", "Enter", "900", "Enter")
    assert evening.host.wishes.axis_m is None
    assert "out of range" in window.sheets.up.error.text  # type: ignore[union-attr]


def test_a_row_says_when_with_what_and_how_high_the_eyepiece_is(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "F8")
    evening.host.give()
    first, second = panel_of(window).page.list.rows
    assert (first.lead, first.name, first.beside) == ("20:14", "Saturn", "150 mm f/8, 6 mm")
    assert first.right == "eyepiece 1.4 m up · in the east, two fists up"
    assert first.below == SAYINGS[0].fact
    assert second.name == "M 57, Ring Nebula"
    assert (first.outcome, second.outcome) == (None, Outcome.FOUND)


def test_the_keys_lead_through_the_evening(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "F8")
    evening.host.give()
    press(window, "Down", "Enter", "N", "F10", " ", "Shift+Enter")
    mine = {"show", "go_on", "clouds", "mark_found", "queue_all"}
    assert [one for one in evening.told if one[0] in mine] == [
        ("show", 1), ("go_on",), ("clouds",), ("mark_found",), ("queue_all",)
    ]  # fmt: skip


def test_the_host_reads_the_answer_and_guests_do_not(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "F8", "F9")
    evening.host.turn_to(1, STOPS[1])
    now = panel_of(window).now
    assert now.counter.text == "2 of 2 · 10 minutes left"
    assert SAYINGS[1].answer in now.behind.text
    lines = guests_of(window).lines
    assert lines.name == "Ring Nebula"
    assert lines.what.startswith("M 57: a planetary nebula")
    assert lines.look == "Face east: two fists up."
    assert lines.ask == SAYINGS[1].ask
    assert SAYINGS[1].answer not in guests_of(window).accessibleName()
    for one in (window.grab(), guests_of(window).grab()):
        assert lit(one)
        assert not stained(one)


@pytest.mark.parametrize(
    ("left", "words"),
    [
        (10.0, "1 of 6 · 10 minutes left"),
        (1.2, "1 of 6 · one minute left"),
        (0.1, "1 of 6 · its time is over"),
        (-1.0, "1 of 6 · 1 minute over"),
        (-4.2, "1 of 6 · 4 minutes over"),
    ],
)
def test_the_counter(left: float, words: str) -> None:
    assert counter(Showing(RING, 1, 6, left, None)) == words


def test_guests_are_never_told_a_direction_that_is_not_known(make_window: Windows) -> None:
    assert guest_lines(None) == WELCOME
    waiting = guest_lines(Showing(RING, 1, 2, 10.0, None))
    assert (waiting.name, waiting.look, waiting.ask) == ("M 57", "", "")
    low = turn(RING, SAYINGS[1], DEMO_UTC, caution="It stands too low now: go on to the next.")
    told = guest_lines(Showing(RING, 1, 2, 10.0, low))
    assert (told.look, told.ask) == ("", low.caution)
    overhead = replace(STOPS[1], where="nearly overhead", face="Face east, lean back")
    assert guest_lines(Showing(RING, 1, 2, 9.0, overhead)).look == (
        "Face east, lean back: nearly overhead."
    )


@pytest.mark.parametrize("size", SIZES)
def test_everything_that_guests_read_is_inside_the_window(
    make_window: Windows, size: tuple[int, int]
) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "F9")
    page = guests_of(window)
    page.resize(*size)
    for at, stop in enumerate(STOPS):
        evening.host.turn_to(at, stop)
        boxes = page.places()
        assert len(boxes) == 5
        assert all(QRect(0, 0, *size).contains(box) for box in boxes), boxes
        assert boxes[0].height() > boxes[1].height() / 3  # letters to be read from some steps away


def test_closing_either_loses_nothing(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    evening.host.turn_to(0, STOPS[0])
    press(window, "F9")
    page = guests_of(window)
    press(page, "Esc")
    assert not page.isVisible()
    press(window, "F9")
    assert guests_of(window).lines.name == "Saturn"
    press(guests_of(window), "F9")  # also from there
    assert not page.isVisible()
    press(window, "F9")
    window.close()
    assert window.guests.page is None
    assert evening.host.at == 0


def test_keys_on_the_guests_page_are_the_host_s(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "F8", "F9")
    evening.host.give()
    page = guests_of(window)
    press(page, "N", "f")
    assert ("go_on",) in evening.told
    assert page.isFullScreen()
    assert not window.isFullScreen()
    press(page, "Esc")
    assert page.isVisible()
    assert not page.isFullScreen()


# Stories on the real window, with real threads and a real journal.


@pytest.fixture
def person(tmp_path: Path, qapp: RedApplication, qtbot: QtBot) -> Iterator[Person]:
    somebody = Person(tmp_path, qapp)
    qtbot.addWidget(somebody.window)
    press(somebody.window, "F8", "Enter")
    somebody.wait(lambda: somebody.evening.host.program is not None)
    yield somebody
    somebody.window.guests.close()
    somebody.evening.close()


def host_of(person: Person) -> HostModel:
    return person.evening.host


def shown(person: Person, at: int) -> None:
    """Wait until a turn is shown as it stands now."""
    person.wait(lambda: host_of(person).at == at and _told(person) is not None)


def _told(person: Person) -> object:
    showing = host_of(person).showing
    return None if showing is None else showing.told


def test_an_evening_is_led_and_what_was_found_is_kept(person: Person) -> None:
    names = [target.name for target in host_of(person).targets]
    assert names[0] == "Saturn"
    press(person.window, "N")
    shown(person, 0)
    press(person.window, "F9")
    assert guests_of(person.window).lines.name == "Saturn"
    press(person.window, " ")
    shown(person, 1)
    assert guests_of(person.window).lines.name != "Saturn"
    person.wait(lambda: host_of(person).found("body:saturn"))
    person.leave()
    journal = Journal(person.home / FILE_NAME)
    entry = journal.evening(night_of(DEMO_UTC, zone_of(LOON_BARRENS.time_zone))).entry(
        "body:saturn"
    )
    journal.close()
    assert entry is not None
    assert entry.outcome is Outcome.FOUND


def test_clouds_bring_what_stands_elsewhere_and_what_they_hide_comes_after(
    person: Person,
) -> None:
    press(person.window, "N")
    shown(person, 0)
    hidden = host_of(person).showing
    assert hidden is not None
    assert hidden.told is not None
    before = host_of(person).targets
    press(person.window, "F10")
    person.wait(lambda: host_of(person).targets[0] != before[0])
    shown(person, 0)
    now = host_of(person).showing
    assert now is not None
    assert now.told is not None
    apart = abs((now.told.azimuth_deg - hidden.told.azimuth_deg + 180.0) % 360.0 - 180.0)
    assert apart >= 70.0  # 75, less what the sky turns meanwhile
    assert now.told.altitude_deg >= 20.0
    assert host_of(person).targets[1] == hidden.target
    assert set(host_of(person).targets) >= set(before)


def test_the_evening_goes_into_the_queue_once(person: Person) -> None:
    press(person.window, "Shift+Enter")
    wanted = {target.key for target in host_of(person).targets}
    person.wait(lambda: wanted <= {item.target.key for item in person.evening.queue.items})
    count = len(person.evening.queue.items)
    press(person.window, "Shift+Enter")
    person.wait(lambda: any("All stand" in m.text for m in person.evening.messages.current))
    assert len(person.evening.queue.items) == count
    press(person.window, "N")
    person.wait(lambda: person.evening.choices.target == host_of(person).targets[0])


def test_another_screen_and_back_finds_the_same_turn(person: Person) -> None:
    press(person.window, "N", "N")
    shown(person, 1)
    press(person.window, "4", "F8")
    assert panel_of(person.window).now.counter.text.startswith("2 of ")


def test_a_sheet_is_printed_by_one_key_and_never_over_another(person: Person) -> None:
    for _time in range(2):
        press(person.window, "P", "Enter")
        person.wait(lambda: any("Printed" in m.text for m in person.evening.messages.current))
        person.evening.messages.dismiss()
    names = sorted(one.name for one in person.home.glob("*.pdf"))
    assert names == ["2026-10-10-for-visitors-2.pdf", "2026-10-10-for-visitors.pdf"]
    assert all((person.home / one).read_bytes().startswith(b"%PDF") for one in names)
