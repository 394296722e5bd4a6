from itertools import groupby

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from window.conftest import Windows
from window.fakes import mounted

from companion.window.frame.help_sheet import HelpSheet
from companion.window.frame.key_table import KEYS, find_key, keys_of
from companion.window.frame.keys import EVERYWHERE, name_of

_OPENS = {
    "search": ("aim", "search"),
    "towns": ("place", "towns"),
    "entry": ("aim", "preview"),
    "help": ("aim", "help"),
    "describe": ("mount", "describe"),
    "instrument": ("mount", "instrument"),
    "tonight": ("night", "tonight"),
    "rounds": ("night", "rounds"),
    "order": ("night", "order"),
    "report": ("night", "report"),
    "set up": ("mount", "set_up"),
    "horizon": ("place", "draw_horizon"),
    "sighting": ("aim", "sight"),
    "year": ("events", "year"),
    "rehearsal": ("road", "rehearse"),
}


def _event(key: Qt.Key, text: str, held: Qt.KeyboardModifier) -> QKeyEvent:
    return QKeyEvent(QEvent.Type.KeyPress, key, held, text)


@pytest.mark.parametrize(
    ("key", "text", "held", "name"),
    [
        (Qt.Key.Key_Space, " ", Qt.KeyboardModifier.NoModifier, "Space"),
        (Qt.Key.Key_Enter, "\r", Qt.KeyboardModifier.KeypadModifier, "Enter"),
        (Qt.Key.Key_Return, "\r", Qt.KeyboardModifier.ShiftModifier, "Shift+Enter"),
        (Qt.Key.Key_Up, "", Qt.KeyboardModifier.AltModifier, "Alt+Up"),
        (Qt.Key.Key_Question, "?", Qt.KeyboardModifier.ShiftModifier, "?"),
        (Qt.Key.Key_Z, "Z", Qt.KeyboardModifier.ShiftModifier, "Z"),
        (Qt.Key.Key_Q, "q", Qt.KeyboardModifier.ControlModifier, ""),
        (Qt.Key.Key_Shift, "", Qt.KeyboardModifier.ShiftModifier, ""),
    ],
)
def test_names_of_pressed_keys(
    key: Qt.Key, text: str, held: Qt.KeyboardModifier, name: str
) -> None:
    assert name_of(_event(key, text, held)) == name


@pytest.mark.parametrize("context", sorted({key.context for key in KEYS}))
def test_a_key_means_one_thing_in_a_context(context: str) -> None:
    own = [name for key in KEYS if key.context == context for name in (key.name, *key.also)]
    assert len(own) == len(set(own))


def test_a_key_means_one_thing_on_all_screens() -> None:
    meanings: dict[str, set[str]] = {}
    for key in KEYS:
        for name in (key.name, *key.also):
            meanings.setdefault(name, set()).add(key.meaning)
    assert {name: found for name, found in meanings.items() if len(found) > 1} == {}


def test_what_a_key_means_is_the_same_action_unless_the_table_says_what_they_share() -> None:
    for key in KEYS:
        if len(key.name) == 1 and not key.means:
            actions = {one.action for one in KEYS if one.name == key.name and not one.means}
            assert actions == {key.action}, key.name


def test_a_screens_own_key_comes_before_that_of_everywhere() -> None:
    assert getattr(find_key("Esc", "tonight"), "action", "") == "back"
    assert getattr(find_key("/", "place"), "action", "") == "search"
    assert [key.action for key in keys_of("tonight") if key.name == "Esc"] == ["back"]


def test_letters_work_with_capitals_locked_but_shift_z_is_its_own() -> None:
    assert getattr(find_key("N", "aim"), "action", "") == "not_seen"
    assert getattr(find_key("Z", "aim"), "action", "") == "redo"
    assert find_key("", "aim") is None
    assert find_key("~", "aim") is None


def test_every_key_of_the_table_does_something(make_window: Windows) -> None:
    window = make_window(mounted())
    screens = {screen.word for screen in window.stage.screens}
    assert {key.context for key in KEYS} <= screens | set(_OPENS) | {EVERYWHERE}
    for context, keys in groupby(sorted(KEYS, key=lambda key: key.context), lambda k: k.context):
        window.go_to("aim")
        if context in screens:
            window.go_to(context)
        elif context:
            screen, action = _OPENS[context]
            window.go_to(screen)
            window.do(action)
        bound = window.key_actions()
        assert [key.action for key in keys if key.action not in bound] == []


def test_hints_and_help_are_drawn_from_the_table(make_window: Windows) -> None:
    window = make_window()
    for screen in window.stage.screens:
        window.go_to(screen.word)
        table = {(key.cap, key.action) for key in keys_of(screen.word)}
        assert {(hint.cap, hint.action) for hint in window.hints.hints} <= table
        window.do("help")
        sheet = window.sheets.up
        assert isinstance(sheet, HelpSheet)
        rows = {(row.cap, row.says) for group in sheet.groups() for row in group.rows}
        for key in KEYS:
            if key.says and key.context in {EVERYWHERE, screen.word}:
                assert (key.cap, key.says) in rows
        for one in window.stage.screens:
            assert (one.digit.lower(), one.word) in {(row.cap, row.says) for row in sheet.screens()}
        window.do("close")


def test_a_silent_key_has_a_partner_that_speaks_for_it() -> None:
    for key in KEYS:
        if not key.says:
            partners = [other for other in KEYS if other.context == key.context and other.says]
            stem = key.action.rpartition("_")[0]
            assert any(other.action.startswith(stem) for other in partners), key


def test_what_would_do_nothing_is_not_hinted(make_window: Windows) -> None:
    from window.facts import snapshot
    from window.fakes import FakeEvening

    evening = FakeEvening(snapshot(aim=None, rows=()), rows=0)
    evening.undo_text = ""
    actions = {hint.action for hint in make_window(evening).hints.hints}
    assert "search" in actions
    assert not actions & {"found", "not_seen", "skip", "undo", "sort", "uncover", "forget"}


def test_what_help_says_of_a_key_is_short_enough_for_its_column() -> None:
    assert [key.says for key in KEYS if len(key.says) > 38] == []
