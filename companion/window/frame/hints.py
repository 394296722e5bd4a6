"""Which keys the hint line shows now: the table, with the words of the moment."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from companion.window.frame.hint_line import Hint
from companion.window.frame.key_table import keys_of
from companion.window.frame.keys import (
    AIM,
    ENTRY,
    EVERYWHERE,
    HELP,
    HORIZON,
    HOST,
    MOUNT,
    PLACE,
    SEARCH,
    SET_UP,
    SIGHTING,
    SKY,
    TOWNS,
    Key,
)
from companion.window.frame.screen import Screen, ScreenPlace

if TYPE_CHECKING:
    from companion.instant import AlignmentFacts
    from companion.live import Evening

_URGENT = frozenset({"retry_journal", "begin_anew", "rescue"})
_ALWAYS = ("help", "back", "found", "undo", "search")
_SHEETS = frozenset({SEARCH, TOWNS, ENTRY, SIGHTING, SET_UP, HORIZON, HELP})
_TYPED = _SHEETS - {SET_UP, HORIZON, HELP}
_AGAIN = {"quit": "leave", "begin_anew": "begin a new journal, the old file keeps another name"}
_NEEDS_TARGET = frozenset({"found", "not_seen", "skip", "later", "lead", "note"})
_NEEDS_ROWS = frozenset({"row_down", "sort"})


def hints_of(context: str, evening: "Evening", asked: str = "") -> list[Hint]:
    """Give the hints of a context; what would do nothing now is left out.

    ``asked`` is the action of which one press has been made, of the two that it needs.
    """
    for key in keys_of(EVERYWHERE):
        if key.action == asked:
            return [Hint(key.cap, f"press again: {_AGAIN[asked]}", asked)]
    shown = _shown_to_the_host if context == HOST else _shown
    keys = [key for key in keys_of(context) if shown(key, context, evening)]
    if evening.needs_site and context not in _SHEETS:
        keys = [key for key in keys if not (len(key.name) == 1 and key.name.isalnum())]  # typed
    keys.sort(key=lambda key: (key.action not in _URGENT, _rank(key), key.late))
    return [Hint(_cap(key, context), _word(key, evening), key.action) for key in keys]


def _shown_over(key: Key, context: str) -> bool:
    """Say whether a key is shown while something lies over the screen."""
    if key.context == EVERYWHERE:
        return key.action == "close" or (key.action == "help" and context != HELP)
    return key.hint


def _rank(key: Key) -> int:
    """Give the place of what is always there, for the mouse too; all others follow."""
    return _ALWAYS.index(key.action) if key.action in _ALWAYS else len(_ALWAYS)


def _cap(key: Key, context: str) -> str:
    """Give what is drawn on a key: where a field is open, what is typed belongs to it."""
    return key.also[0] if key.action == "help" and context in _TYPED else key.cap


def _shown(key: Key, context: str, evening: "Evening") -> bool:
    if context in _SHEETS:
        return _shown_over(key, context)
    mount, alignment = evening.choices.mount, _alignment(evening)
    special = {
        "sight": lambda: mount is not None and evening.choices.target is not None,
        "sight_found": lambda: mount is not None and evening.mounts.centred is not None,
        "take_offer": lambda: evening.choices.target is None and evening.offers.view is not None,
        "next": lambda: alignment is not None and alignment.next_sighting is not None,
        "accept": lambda: alignment is not None and bool(alignment.doubts),
        "keep": lambda: alignment is not None and bool(alignment.doubts),
        "turn_aside": lambda: alignment is not None and bool(alignment.sightings),
        "set_up": lambda: mount is not None,
        "both_sides": lambda: _has_unmeasured_play(evening),
        "eyepiece": lambda: _has_eyepieces(evening),
        "draw_horizon": lambda: not evening.needs_site,
        "uncover": lambda: _sun_is_near(evening),
        "forget": lambda: evening.choices.compass_deviation_deg is not None,
        "undo": lambda: bool(evening.undo_text),
        "retry_journal": lambda: evening.upkeep.fault is not None,
        "begin_anew": lambda: can_begin_anew(evening),
        "rescue": lambda: bool(evening.upkeep.rescuable),
        "present": lambda: evening.choices.preview_utc is not None and not evening.demo,
    }.get(key.action)
    if special is not None:
        return special()
    if context in {AIM, SKY} and key.action in _NEEDS_TARGET:
        return evening.choices.target is not None
    if context == MOUNT and key.action == "row_down":
        return alignment is not None and len(alignment.sightings) > 1
    if context == AIM and key.action in _NEEDS_ROWS:
        return key.hint and bool(evening.queue.items)
    return key.hint


def _shown_to_the_host(key: Key, context: str, evening: "Evening") -> bool:
    """Say whether a key of the host's screen does anything now."""
    if key.context != HOST:
        return _shown(key, context, evening)
    if key.action in {"found", "open_sky"}:
        return evening.host.at is not None
    if key.action in {"next", "queue_all", "row_down"}:
        return bool(evening.host.targets)
    return key.hint


def can_begin_anew(evening: "Evening") -> bool:
    """Say whether the journal's file is of no use, so that a new one would help."""
    fault = evening.upkeep.fault
    return fault is not None and fault.can_set_aside


def _alignment(evening: "Evening") -> "AlignmentFacts | None":
    return None if evening.latest is None else evening.latest.alignment


def _has_unmeasured_play(evening: "Evening") -> bool:
    mount = evening.choices.mount
    if mount is None or evening.choices.target is None:
        return False
    return None in {mount.azimuth.play_deg, mount.altitude.play_deg}


def _has_eyepieces(evening: "Evening") -> bool:
    instrument = evening.choices.instrument
    return instrument is not None and bool(instrument.eyepieces)


def _sun_is_near(evening: "Evening") -> bool:
    aim = None if evening.latest is None else evening.latest.aim
    return aim is not None and aim.sun_danger and aim.target.key not in evening.choices.uncovered


def _word(key: Key, evening: "Evening") -> str:
    if key.action == "undo":
        return f"undo {evening.undo_text}"
    centred = evening.mounts.centred
    if key.action == "sight_found" and centred is not None:
        return f"sight {centred[0].target.name}"
    if key.action == "eyepiece" and evening.choices.eyepiece:
        return f"in: {evening.choices.eyepiece}"
    if key.action == "present":
        return "to the present"
    return key.word


def screen_hints(
    screens: Sequence[ScreenPlace], shown: Screen, context: str, *, homeless: bool
) -> list[Hint]:
    """Give the keys of the screens; while no place is known only that of the place leads on.

    A digit belongs to the field as soon as one is up to be typed into, so none is offered then.
    """
    if homeless and context in _SHEETS:
        return []
    if context in _TYPED:
        screens = [screen for screen in screens if not screen.digit.isdigit()]
    return [
        Hint(
            screen.digit.lower(),
            screen.word,
            f"screen:{screen.word}",
            marked=homeless or screen.word == shown.word,  # alone it keeps its word
        )
        for screen in screens
        if not homeless or screen.word == PLACE
    ]
