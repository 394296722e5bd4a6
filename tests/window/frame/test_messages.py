"""Messages stay until somebody has read them."""

from pathlib import Path

from window.conftest import Windows
from window.facts import snapshot
from window.fakes import FakeEvening
from window.hands import press

from companion.journal import Fault
from companion.live import Severity


def test_messages_stay_until_they_are_dismissed(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    evening.messages.say(Severity.NOTE, "First.")
    evening.messages.say(Severity.WARNING, "The clock looks wrong.")
    assert window.messages.text == "Warning: The clock looks wrong. (1 more: esc)"
    assert window.messages.isVisible()
    press(window, "Esc")
    assert window.messages.text == "Note: First."
    press(window, "Esc")
    assert not window.messages.isVisible()


def test_doubts_are_said_until_they_are_read(make_window: Windows) -> None:
    evening = FakeEvening(snapshot(doubts=("The clock looks wrong.", "The model has run out.")))
    window = make_window(evening)
    assert window.messages.text == "Warning: The model has run out. (1 more: esc)"
    evening.messages.say(Severity.ERROR, "The journal is full.")
    press(window, "Esc")
    press(window, "Esc")
    assert window.messages.text == "Warning: The clock looks wrong."
    press(window, "Esc")
    evening.tell(snapshot(doubts=("The clock looks wrong.",)))
    assert not window.messages.isVisible()
    assert window.status.status.trust.endswith("1 doubt")


def test_a_journal_in_trouble_offers_its_ways_out(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "J", "J")
    assert evening.told == []
    evening.upkeep.fault = Fault.FULL
    evening.changed.emit()
    assert window.hints.hints[0].action == "retry_journal"
    press(window, "J", "J", "j")
    assert evening.told == [("retry",)]
    evening.upkeep.fault = Fault.DAMAGED
    evening.changed.emit()
    press(window, "J")
    assert "the old file keeps another name" in window.hints.hints[0].word
    press(window, "J")
    assert evening.told == [("retry",), ("begin_anew",)]


def test_what_a_damaged_journal_holds_is_brought_back_on_one_key(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "Y")
    assert evening.told == []
    evening.upkeep.rescuable = (Path("journal-aside-1.sqlite"),)
    evening.changed.emit()
    assert (window.hints.hints[0].action, window.hints.hints[0].word) == ("rescue", "bring back")
    press(window, "Y")
    assert evening.told == [("rescue",)]


def test_a_message_keeps_its_whole_height_when_the_window_grows(make_window: Windows) -> None:
    """A message that stood before the window grew was cut through its letters."""
    evening = FakeEvening()
    window = make_window(evening)
    window.resize(800, 500)
    evening.messages.say(
        Severity.WARNING, "Something is to be known, and it is said in a line.", "x"
    )
    small = window.messages.height()
    window.resize(1920, 1080)
    assert window.messages.height() == window.messages.sizeHint().height()
    assert window.messages.height() > small
