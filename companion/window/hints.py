"""Which keys the hint line shows now: the table, with the words of the moment."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from companion.window.hint_line import Hint
from companion.window.keys import AIM, ENTRY, EVERYWHERE, HELP, SEARCH, TOWNS, Key, keys_of
from companion.window.screen import Screen

if TYPE_CHECKING:
    from companion.live import Evening

_SHEETS = frozenset({SEARCH, TOWNS, ENTRY, HELP})
_NEEDS_TARGET = frozenset({"found", "not_seen", "skip", "later", "lead", "note"})
_NEEDS_ROWS = frozenset({"row_down", "sort"})


def hints_of(context: str, evening: "Evening", *, leaving: bool = False) -> list[Hint]:
    """Give the hints of a context; what would do nothing now is left out."""
    if leaving:
        return [Hint("q", "press again to leave", "quit"), Hint("esc", "stay", "close")]
    keys = [key for key in keys_of(context) if _shown(key, context, evening)]
    keys.sort(key=lambda key: key.late)
    return [Hint(key.cap, _word(key, evening), key.action) for key in keys]


def _shown(key: Key, context: str, evening: "Evening") -> bool:
    if context in _SHEETS:
        return key.action == "close" or (key.hint and key.context != EVERYWHERE)
    special = {
        "uncover": lambda: _sun_is_near(evening),
        "forget": lambda: evening.choices.compass_deviation_deg is not None,
        "undo": lambda: bool(evening.undo_text),
        "present": lambda: evening.choices.preview_utc is not None and not evening.demo,
    }.get(key.action)
    if special is not None:
        return special()
    if context == AIM and key.action in _NEEDS_TARGET:
        return evening.choices.target is not None
    if context == AIM and key.action in _NEEDS_ROWS:
        return bool(evening.items)
    return key.hint


def _sun_is_near(evening: "Evening") -> bool:
    aim = None if evening.latest is None else evening.latest.aim
    return aim is not None and aim.sun_danger and aim.target.key not in evening.choices.uncovered


def _word(key: Key, evening: "Evening") -> str:
    if key.action == "undo":
        return f"undo {evening.undo_text}"
    if key.action == "present":
        return "to the present"
    return key.word


def screen_hints(screens: Sequence[Screen], shown: Screen) -> list[Hint]:
    """Give the digits of the screens."""
    return [
        Hint(screen.digit, screen.word, f"screen:{screen.word}", marked=screen is shown)
        for screen in screens
    ]
