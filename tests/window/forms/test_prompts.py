"""Values that are typed beside the numbers."""

from collections.abc import Sequence
from typing import Any

import pytest
from window.conftest import Windows
from window.facts import SATURN, UTC_NOW
from window.fakes import FakeEvening
from window.hands import press

from companion.window.forms.prompt_sheet import PromptSheet


@pytest.mark.parametrize(
    ("keys", "typed", "call"),
    [
        ("a", "30", ("set_lead", 30.0)),
        ("L", "12.5", ("set_low_limit", 12.5)),
        ("L", "12,5°", ("set_low_limit", 12.5)),
        ("w", "a smoke ring", ("note", "a smoke ring", SATURN)),
        ("t", "2026-10-11T02:30:00Z", ("set_preview", UTC_NOW.replace(day=11, hour=2, minute=30,
                                                                     second=0))),
        ("t", "", ("come_back",)),
    ],
)  # fmt: skip
def test_values_are_typed_beside_the_numbers(
    make_window: Windows, keys: str, typed: str, call: tuple[Any, ...]
) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, keys)
    assert isinstance(window.sheets.up, PromptSheet)
    window.sheets.up.field.setText(typed)
    press(window, "Enter")
    assert evening.told == [call]
    assert window.sheets.up is None


@pytest.mark.parametrize(
    ("keys", "typed", "parts"),
    [
        (
            "a",
            "soon",
            ("“soon” is not a valid number of seconds ahead", "from 0 to 3600 s", "is kept"),
        ),
        ("a", "-4", ("out of range",)),
        ("L", "nan", ("out of range",)),
        ("t", "yesterday", ("is not a time", "is kept")),
    ],
)
def test_bad_values_are_refused_in_their_place(
    make_window: Windows, keys: str, typed: str, parts: Sequence[str]
) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, keys)
    sheet = window.sheets.up
    assert isinstance(sheet, PromptSheet)
    sheet.field.setText(typed)
    press(window, "Enter")
    assert evening.told == []
    assert window.sheets.up is sheet
    for part in parts:
        assert part in sheet.error.text
