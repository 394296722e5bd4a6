"""Search as one types, and what is taken."""

from typing import Any

import pytest
from window.conftest import Windows
from window.facts import QUEUE, SATURN, VEGA
from window.fakes import FakeEvening, FakeHit
from window.hands import press, told

from companion.journal import Outcome
from companion.sky import Match
from companion.window.forms.find_sheet import FindSheet


def test_search_is_live_and_enter_takes(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "/", "veg")
    sheet = window.sheets.up
    assert isinstance(sheet, FindSheet)
    assert [words.name for words in sheet.list.words] == ["Vega"]
    assert sheet.list.words[0].about == "star in Lyra · mag 0.0"
    press(window, "Enter")
    assert evening.told == [("add", VEGA, True)]
    assert window.sheets.up is None
    press(window, " ")
    assert evening.told[-1] == ("mark", Outcome.FOUND)


def test_shift_enter_puts_a_find_at_the_end(make_window: Windows) -> None:
    evening = FakeEvening()
    press(make_window(evening), "/", "m 3", "Shift+Enter")
    assert told(evening, "add") == [("add", QUEUE[2], False)]


def test_what_is_typed_into_a_field_is_no_key(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "/", "q n k 7?")
    assert evening.told == []
    assert window.sheets.up is not None
    assert window.sheets.up.field.text() == "q n k 7?"
    press(window, "Esc")
    assert window.sheets.up is None


def test_a_guess_is_shown_as_one_and_enter_does_not_take_it(
    make_window: Windows, monkeypatch: pytest.MonkeyPatch
) -> None:
    evening = FakeEvening()
    guess = FakeHit(VEGA, 1.0, Match.LIKE, "Vega", at_once=False)
    monkeypatch.setattr(evening, "find", lambda _text, answer: answer([guess]))
    window = make_window(evening)
    press(window, "/", "vgea", "Enter")
    sheet = window.sheets.up
    assert isinstance(sheet, FindSheet)
    assert evening.told == []
    assert sheet.list.words[0].below.startswith("a guess, spelled like Vega")
    assert "Nothing is called “vgea”" in sheet.explanation.text
    assert "Choose one" in sheet.error.text
    press(window, "Down", "Enter")
    assert evening.told == [("add", VEGA, True)]


@pytest.mark.parametrize(("sure", "told"), [(True, [("add", VEGA, True)]), (False, [])])
def test_enter_before_the_answer_waits_for_it(
    make_window: Windows, monkeypatch: pytest.MonkeyPatch, *, sure: bool, told: list[Any]
) -> None:
    evening = FakeEvening()
    answers: list[Any] = []
    monkeypatch.setattr(evening, "find", lambda _text, answer: answers.append(answer))
    window = make_window(evening)
    press(window, "/", "v", "e")
    answers[1]([FakeHit(SATURN, 1.0, Match.EXACT, "Saturn")])
    press(window, "g", "Enter")  # what is shown answers to "ve", not to "veg"
    assert evening.told == []
    answers[2]([FakeHit(VEGA, 1.0, Match.BEGINS, "Vega", at_once=sure)])
    assert evening.told == told


def test_nothing_found_says_what_may_be_typed(make_window: Windows) -> None:
    window = make_window()
    press(window, "/", 'x"y')
    assert window.sheets.up is not None
    assert "Nothing is called" in window.sheets.up.explanation.text
    assert "M 31" in window.sheets.up.explanation.text


def test_a_stale_answer_is_dropped(make_window: Windows, monkeypatch: pytest.MonkeyPatch) -> None:
    evening = FakeEvening()
    answers: list[Any] = []
    monkeypatch.setattr(evening, "find", lambda _text, answer: answers.append(answer))
    window = make_window(evening)
    press(window, "/", "v", "e")
    sheet = window.sheets.up
    assert isinstance(sheet, FindSheet)
    answers[0]([FakeHit(VEGA, 1.0, Match.EXACT, "Vega")])
    assert sheet.list.words == ()
    answers[1]([FakeHit(VEGA, 1.0, Match.EXACT, "Vega")])
    assert len(sheet.list.words) == 1


def test_ten_megabytes_pasted_into_the_search_are_cut(make_window: Windows) -> None:
    window = make_window()
    press(window, "/")
    assert window.sheets.up is not None
    window.sheets.up.field.setText("x" * 10_000_000)
    assert len(window.sheets.up.field.text()) == 200
