"""The one table of keys: it drives dispatch, draws the hint line and fills the help.

A key belongs to a context: a screen, something that lies over the screens, or everywhere. The
context's own keys come before those of everywhere.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

EVERYWHERE = ""
AIM, NORTH, MOUNT, PLACE = "aim", "north", "mount", "place"
SKY = "sky"
ABOUT = "about"
NIGHT, JOURNAL = "night", "journal"
ROAD, REHEARSAL = "road", "rehearsal"  # the rehearsal is a page of the road
HOST = "host"
EVENTS, YEAR = "events", "year"  # the year is a page of the screen of what comes
TONIGHT, ROUNDS, ORDER, REPORT = (
    "tonight",
    "rounds",
    "order",
    "report",
)  # pages of the screen of the night
DESCRIBE, INSTRUMENT = "describe", "instrument"  # pages of the screen of the mount
SEARCH, TOWNS, ENTRY, SET_UP, HELP = "search", "towns", "entry", "set up", "help"
HORIZON = "horizon"
OFFERS = ("F2", "F3", "F4", "F5", "F6")  # keys of what is offered while nothing is aimed at
SIGHTING = "sighting"  # the sheet on which its readings are typed


@dataclass(frozen=True, slots=True)
class Key:
    """One key: ``name`` as ``name_of`` gives it, ``word`` for the hint line, ``says`` for help.

    Of two keys that go together, up and down, say, one speaks for both and the other is silent.
    """

    name: str
    action: str
    word: str
    says: str
    context: str = EVERYWHERE
    also: tuple[str, ...] = ()
    hint: bool = True  # whether the hint line shows it
    shown: str = ""  # on the key cap, where it differs from the name
    late: bool = False  # on the hint line after all others: the first to find no room
    means: str = ""  # where one key serves several screens: what it means on all of them

    @property
    def cap(self) -> str:
        """What is drawn on the key."""
        return self.shown or self.name.lower()

    @property
    def meaning(self) -> str:
        """What the key means, the same on every screen."""
        return self.means or _MOVES.get(self.name.rpartition("+")[2], self.action)


# What keys mean that move, take and leave, whatever is there to be moved through or taken.
_MOVES = dict.fromkeys(
    ("Up", "Down", "Left", "Right", "PageUp", "PageDown", "Home", "End"), "move"
) | {"Enter": "take what is chosen", "Esc": "leave", "Delete": "take away",
     "Backspace": "take away"}  # fmt: skip
WRITE, READ, LOOK = "write a file", "read a file", "what you look through"


def _page_keys(context: str, others: str) -> tuple[Key, ...]:
    """Give the keys of a page with fields at the left and things to choose at the right."""
    return (
        Key("Enter", "take", "change", "change this field, use this one", context),
        Key("Down", "row_down", "move", "another line", context, shown="↑ ↓"),
        Key("Up", "row_up", "", "", context, hint=False),
        Key("Right", "row_right", others, f"the fields, the {others}", context, shown="← →"),
        Key("Left", "row_left", "", "", context, hint=False),
        Key("Esc", "back", "back", "back to the sightings", context),
    )


def _turning_keys(context: str) -> tuple[Key, ...]:
    """Give the keys by which the sky turns: ten minutes on or back; ``T`` comes back to now."""
    return (
        Key(
            "Shift+Right",
            "sky_on",
            "turn",
            "the sky ten minutes on, ten minutes back",
            context,
            ("Alt+Right",),
            shown="shift ← →",
            late=True,
        ),
        Key("Shift+Left", "sky_back", "", "", context, ("Alt+Left",), hint=False),
    )


KEYS: tuple[Key, ...] = (
    Key("Enter", "take_offer", "aim at it", "aim at what is chosen of the best of now", AIM),
    Key("F2", "offer_1", "", "the first of the best of now, the second …", AIM, hint=False,
        shown="f2 … f6"),
    *(Key(name, f"offer_{at}", "", "", AIM, hint=False) for at, name in enumerate(OFFERS[1:], 2)),
    Key("Space", "found", "found", "found it", AIM),
    Key("n", "not_seen", "not seen", "looked, but not seen", AIM),
    Key("k", "skip", "skip", "skip it", AIM),
    Key("l", "later", "later", "later: behind the other waiting ones", AIM),
    Key("a", "lead", "ahead", "numbers for some seconds ahead", AIM),
    Key("w", "note", "note", "write a note about it", AIM),
    Key("U", "uncover", "uncover", "twice: uncover it near the Sun", AIM, hint=False,
        shown="shift u"),
    Key("Down", "row_down", "choose", "aim at another row", AIM, shown="↑ ↓", late=True),
    Key("Up", "row_up", "", "", AIM, hint=False),
    Key("PageDown", "page_down", "", "ten rows further", AIM, hint=False, shown="page ↑ ↓"),
    Key("PageUp", "page_up", "", "", AIM, hint=False),
    Key("End", "row_last", "", "the first row, the last row", AIM, hint=False, shown="home end"),
    Key("Home", "row_first", "", "", AIM, hint=False),
    Key("Alt+Down", "move_down", "", "move this row", AIM, ("Shift+Down",), False, "alt ↑ ↓"),
    Key("Alt+Up", "move_up", "", "", AIM, ("Shift+Up",), hint=False),
    Key("s", "sight", "sighting", "sighting: type what the dials show", AIM),
    Key("S", "sight_found", "", "sighting of what was found last", AIM, shown="shift s"),
    Key("e", "eyepiece", "eyepiece", "which eyepiece is in: it is written with what you find",
        AIM, late=True, means=LOOK),
    Key("i", "look", "", "what am I looking at?", AIM, hint=False),
    Key("m", "tonight", "tonight", "what is worth seeing tonight", AIM, late=True),
    Key("O", "sort", "", "sort by time left, altitude or turn", AIM, hint=False,
        shown="shift o"),
    Key("Delete", "remove", "", "take it out of the queue", AIM, ("Backspace",), hint=False),
    Key("L", "low_limit", "", "how low is too low", AIM, hint=False, shown="shift l"),
    Key("D", "measure", "deviation", "measure what the compass adds", NORTH, shown="shift d"),
    Key("x", "forget", "forget it", "forget what it adds", NORTH, means="take away"),
    Key("A", "chart_whole", "sky", "the whole sky, as you stand", SKY, shown="shift a"),
    Key("W", "chart_wide", "wide", "a wide field around the target", SKY, shown="shift w"),
    Key("F", "chart_finder", "finder", "as the finder shows it", SKY, shown="shift f"),
    Key("E", "chart_eyepiece", "eyepiece", "as each eyepiece shows it", SKY, shown="shift e"),
    Key("v", "chart_next", "view", "the next chart: sky, wide, finder, eyepiece", SKY),
    Key("V", "chart_before", "", "the chart before", SKY, hint=False, shown="shift v"),
    Key("p", "way", "by eye", "the next way by eye", SKY),
    Key("h", "hop", "hop", "the next step through the finder", SKY),
    Key("H", "hop_back", "", "a step back", SKY, hint=False, shown="shift h"),
    Key("X", "other_route", "", "another route through the finder", SKY, hint=False,
        shown="shift x"),
    Key("c", "centre", "centre", "back to the target", SKY),
    Key("r", "group_round", "round", "queue what a star group leads to", SKY, late=True,
        means="rounds"),
    Key("K", "legend", "signs", "what the signs mean", SKY, shown="shift k"),
    Key("Space", "found", "found", "found it", SKY, late=True),
    Key("n", "not_seen", "not seen", "looked, but not seen", SKY, late=True),
    Key("w", "note", "note", "write a note about it", SKY, late=True),
    Key("s", "sight", "", "sighting: type what the dials show", SKY, hint=False),
    Key("i", "look", "", "what am I looking at?", SKY, hint=False),
    *_turning_keys(SKY),
    Key("Right", "pan_right", "", "move the view", SKY, hint=False, shown="↑ ↓ ← →"),
    Key("Left", "pan_left", "", "", SKY, hint=False),
    Key("Up", "pan_up", "", "", SKY, hint=False),
    Key("Down", "pan_down", "", "", SKY, hint=False),
    Key("+", "zoom_in", "", "closer, wider", SKY, ("=",), hint=False, shown="+ −"),
    Key("-", "zoom_out", "", "", SKY, hint=False),
    Key("M", "turn_view", "", "upright, turned, mirrored", SKY, hint=False, shown="shift m"),
    Key("B", "borders", "", "constellation borders", SKY, hint=False, shown="shift b"),
    Key("G", "grid", "", "readings of the dials as a grid", SKY, hint=False, shown="shift g"),
    Key("P", "print", "", "print to a file", SKY, hint=False, shown="shift p", means=WRITE),
    Key("s", "sight", "sighting", "sighting: type what the dials show", MOUNT),
    Key("S", "sight_found", "", "sighting of what was found last", MOUNT, shown="shift s",
        late=True),
    Key("N", "next", "next star", "aim at the star that helps most", MOUNT, shown="shift n"),
    Key("y", "accept", "accept", "accept what explains a doubt", MOUNT),
    Key("x", "keep", "keep it", "put a doubt away: the sighting counts", MOUNT,
        means="take away"),
    Key("Enter", "turn_aside", "set aside", "set this sighting aside, bring it back", MOUNT),
    Key("Down", "row_down", "choose", "another sighting", MOUNT, shown="↑ ↓"),
    Key("Up", "row_up", "", "", MOUNT, hint=False),
    Key("g", "set_up", "set up", "set the mount up, step by step", MOUNT),
    Key("b", "both_sides", "play", "measure the play of the dials from both sides", MOUNT,
        late=True),
    Key("d", "describe", "mounts", "choose or describe a mount", MOUNT),
    Key("e", "instrument", "instruments", "choose or describe an instrument", MOUNT, means=LOOK),
    Key("i", "look", "what is this", "what am I looking at?", MOUNT),
    Key("m", "tonight", "tonight", "what is worth seeing tonight", NIGHT),
    Key("r", "rounds", "rounds", "ready-made rounds", NIGHT),
    Key("o", "order", "order", "an order for the queue", NIGHT),
    Key("Enter", "take", "aim then", "aim at it as it will stand then", NIGHT),
    Key("Right", "row_right", "time", "five minutes along the night", NIGHT, shown="← →"),
    Key("Left", "row_left", "", "", NIGHT, hint=False),
    Key("Shift+Right", "leap_right", "", "an hour along the night", NIGHT, ("Alt+Right",), False,
        "shift ← →"),
    Key("Shift+Left", "leap_left", "", "", NIGHT, ("Alt+Left",), hint=False),
    Key("Down", "row_down", "target", "another target", NIGHT, shown="↑ ↓"),
    Key("Up", "row_up", "", "", NIGHT, hint=False),
    Key("Home", "best", "best", "when it is planned, or at its best", NIGHT, late=True),
    Key("u", "hours", "", "your hours: from and until", NIGHT, hint=False),
    Key("R", "import", "", "read a list from a file", NIGHT, hint=False, shown="shift r",
        means=READ),
    Key("Esc", "stop", "", "stop the work, dismiss a message", NIGHT, hint=False),
    Key("Q", "report", "", "remarks on the list read last", NIGHT, hint=False, shown="shift q"),
    Key("Enter", "take", "add", "put it into the queue", TONIGHT),
    Key("Down", "row_down", "choose", "another target", TONIGHT, shown="↑ ↓"),
    Key("Up", "row_up", "", "", TONIGHT, hint=False),
    Key("PageDown", "page_down", "", "ten targets further", TONIGHT, hint=False, shown="page ↑ ↓"),
    Key("PageUp", "page_up", "", "", TONIGHT, hint=False),
    Key("Right", "chip_right", "filters", "the filters; enter changes the chosen one", TONIGHT,
        shown="← →"),
    Key("Left", "chip_left", "", "", TONIGHT, hint=False),
    Key("e", "instrument", "", "with another instrument", TONIGHT, hint=False, means=LOOK),
    Key("u", "hours", "", "your hours: from and until", TONIGHT, hint=False),
    Key("x", "clear", "all", "take all filters away", TONIGHT, means="take away"),
    Key("r", "rounds", "rounds", "ready-made rounds", TONIGHT),
    Key("R", "import", "read file", "read a list from a file", TONIGHT, shown="shift r",
        means=READ),
    Key("Esc", "back", "back", "stop the work, or back to the chart", TONIGHT),
    Key("Enter", "take", "add it", "put the whole round into the queue", ROUNDS),
    Key("Down", "row_down", "choose", "another round", ROUNDS, shown="↑ ↓"),
    Key("Up", "row_up", "", "", ROUNDS, hint=False),
    Key("u", "hours", "hours", "your hours: from and until", ROUNDS),
    Key("Esc", "back", "back", "stop the work, or back to the chart", ROUNDS),
    Key("Enter", "take", "accept", "put the queue into this order", ORDER),
    Key("Down", "row_down", "choose", "another target", ORDER, shown="↑ ↓"),
    Key("Up", "row_up", "", "", ORDER, hint=False),
    Key("PageDown", "page_down", "", "ten targets further", ORDER, hint=False, shown="page ↑ ↓"),
    Key("PageUp", "page_up", "", "", ORDER, hint=False),
    Key("Right", "chip_right", "wishes", "minutes, clouds, end, break; enter asks", ORDER,
        shown="← →"),
    Key("Left", "chip_left", "", "", ORDER, hint=False),
    Key("u", "hours", "", "your hours: from and until", ORDER, hint=False),
    Key("P", "export", "write files", "write table and calendar", ORDER, shown="shift p",
        means=WRITE),
    Key("Esc", "back", "back", "stop the work, or back to the chart", ORDER),
    Key("Down", "row_down", "choose", "another line", REPORT, shown="↑ ↓"),
    Key("Up", "row_up", "", "", REPORT, hint=False),
    Key("PageDown", "page_down", "", "ten lines further", REPORT, hint=False, shown="page ↑ ↓"),
    Key("PageUp", "page_up", "", "", REPORT, hint=False),
    Key("R", "import", "read file", "read another list", REPORT, shown="shift r", means=READ),
    Key("Esc", "back", "back", "stop the work, or back to the chart", REPORT),
    Key("Down", "row_down", "choose", "another night, another target", JOURNAL, shown="↑ ↓"),
    Key("Up", "row_up", "", "", JOURNAL, hint=False),
    Key("PageDown", "page_down", "", "ten further", JOURNAL, hint=False, shown="page ↑ ↓"),
    Key("PageUp", "page_up", "", "", JOURNAL, hint=False),
    Key("Right", "row_right", "seen", "the nights, what was seen", JOURNAL, shown="← →"),
    Key("Left", "row_left", "", "", JOURNAL, hint=False),
    Key("Enter", "take", "to the queue", "put it into tonight's queue", JOURNAL),
    Key("P", "export", "write file", "write it all as a table, JSON lines or a page", JOURNAL,
        shown="shift p", means=WRITE),
    Key("Enter", "take", "to the queue", "put it into the queue", EVENTS),
    Key("Shift+Enter", "aim_then", "aim then", "aim at it as it will stand then", EVENTS,
        shown="shift enter"),
    Key("Down", "row_down", "choose", "another event", EVENTS, shown="↑ ↓"),
    Key("Up", "row_up", "", "", EVENTS, hint=False),
    Key("PageDown", "page_down", "", "ten events further", EVENTS, hint=False, shown="page ↑ ↓"),
    Key("PageUp", "page_up", "", "", EVENTS, hint=False),
    Key("Right", "chip_right", "filters", "how far ahead, kinds, aurora, the year as a picture; "
        "enter changes the chosen one", EVENTS, shown="← →"),
    Key("Left", "chip_left", "", "", EVENTS, hint=False),
    Key("e", "instrument", "", "with another instrument", EVENTS, hint=False, means=LOOK),
    Key("x", "clear", "all", "take all filters away", EVENTS, means="take away"),
    Key("R", "import", "read file", "read orbits of comets and satellites, or Kp, from a file",
        EVENTS, shown="shift r", means=READ),
    Key("Esc", "back", "list", "back to the list", YEAR),
    Key("Space", "found", "found", "found it", ROAD),
    Key("n", "not_seen", "not seen", "looked, but not seen", ROAD),
    Key("Enter", "take", "aim at it", "aim at what the step is about", ROAD),
    *_turning_keys(ROAD),
    Key("Down", "row_down", "choose", "another step", ROAD, shown="↑ ↓"),
    Key("Up", "row_up", "", "", ROAD, hint=False),
    Key("F10", "open_sky", "clouds", "clouds hide the sky, or have gone", ROAD, late=True),
    Key("I", "rehearse", "rehearse", "indoors: questions about this evening's sky", ROAD,
        shown="shift i"),
    Key("Enter", "take", "answer, go on", "take the chosen answer, then go on", REHEARSAL),
    Key("F2", "offer_1", "", "the first of the answers, the second …", REHEARSAL, hint=False,
        shown="f2 … f5"),
    *(Key(name, f"offer_{at}", "", "", REHEARSAL, hint=False)
      for at, name in enumerate(OFFERS[1:4], 2)),
    Key("Down", "row_down", "choose", "another answer", REHEARSAL, shown="↑ ↓"),
    Key("Up", "row_up", "", "", REHEARSAL, hint=False),
    Key("I", "rehearse", "anew", "another round of questions", REHEARSAL, shown="shift i"),
    Key("Esc", "back", "back", "back to the road", REHEARSAL),
    Key("N", "next", "next", "show the next target", HOST, shown="shift n"),
    Key("Enter", "take", "show it", "work it out; show this target now", HOST),
    Key("Space", "found", "found", "found: written, and the next one", HOST),
    Key("F10", "open_sky", "clouds", "clouds: another part of the sky", HOST),
    Key("P", "sheet", "sheet", "print a sheet for visitors", HOST, shown="shift p", means=WRITE,
        late=True),
    Key("Shift+Enter", "queue_all", "queue", "put all of it at the end of the queue", HOST,
        shown="shift enter", late=True),
    Key("Down", "row_down", "choose", "another target", HOST, shown="↑ ↓", late=True),
    Key("Up", "row_up", "", "", HOST, hint=False),
    Key("PageDown", "page_down", "", "ten targets further", HOST, hint=False, shown="page ↑ ↓"),
    Key("PageUp", "page_up", "", "", HOST, hint=False),
    Key("Right", "chip_right", "wishes", "numbers, with what; enter asks", HOST,
        shown="← →"),
    Key("Left", "chip_left", "", "", HOST, hint=False),
    *_page_keys(DESCRIBE, "mounts"),
    Key("P", "export", "write file", "write this mount to a file", DESCRIBE, shown="shift p",
        means=WRITE),
    Key("R", "import", "read file", "read a mount from a file", DESCRIBE, shown="shift r",
        means=READ),
    *_page_keys(INSTRUMENT, "instruments"),
    Key("C", "towns", "town", "another town, or latitude and longitude", PLACE, shown="shift c"),
    Key("Enter", "take", "change", "change this field, go to this site", PLACE),
    Key("Down", "row_down", "move", "another field or site", PLACE, shown="↑ ↓"),
    Key("Up", "row_up", "", "", PLACE, hint=False),
    Key("Right", "row_right", "sites", "the fields, the remembered sites", PLACE, shown="← →"),
    Key("Left", "row_left", "", "", PLACE, hint=False),
    Key("_", "draw_horizon", "horizon", "draw the horizon", PLACE),
    Key("Enter", "take", "aim at it", "put it into the queue and aim at it", SEARCH),
    Key("Shift+Enter", "take_later", "to the end", "put it at the end of the queue", SEARCH,
        shown="shift enter"),
    Key("Down", "row_down", "choose", "another find", SEARCH, shown="↑ ↓"),
    Key("Up", "row_up", "", "", SEARCH, hint=False),
    Key("Enter", "take", "take it", "go to this place", TOWNS),
    Key("Down", "row_down", "choose", "another place", TOWNS, shown="↑ ↓"),
    Key("Up", "row_up", "", "", TOWNS, hint=False),
    Key("Enter", "take", "take it", "take what is typed", ENTRY),
    Key("Down", "row_down", "", "another choice", ENTRY, ("Up",), hint=False, shown="↑ ↓"),
    Key("s", "sight", "centred now", "it is in the centre now", SIGHTING),
    Key("Enter", "take", "take it", "take what is typed", SIGHTING),
    Key("Down", "row_down", "other dial", "the other dial", SIGHTING, ("Up",), shown="↑ ↓"),
    Key("Enter", "take", "keep", "keep this horizon", HORIZON),
    Key("Right", "row_right", "turn", "turn by 5°", HORIZON, shown="← →"),
    Key("Left", "row_left", "", "", HORIZON, hint=False),
    Key("Up", "height_up", "altitude", "raise or lower by 1°", HORIZON, shown="↑ ↓"),
    Key("Down", "height_down", "", "", HORIZON, hint=False),
    Key("Esc", "close", "drop", "leave the horizon as it was", HORIZON),
    Key("Backspace", "clear_here", "open here", "open in this direction", HORIZON),
    Key("Delete", "clear_all", "open all", "open all round", HORIZON),
    Key("Enter", "take", "done", "this step is done", SET_UP),
    Key("Down", "step_on", "leave it out", "leave this step out", SET_UP, shown="↓"),
    Key("Up", "step_back", "step before", "the step before", SET_UP, shown="↑"),
    Key("Right", "before", "before you go out", "what to think of before you go out", HELP,
        shown="→"),
    Key("Left", "before_left", "", "", HELP, hint=False),
    Key("/", "search", "search", "search for anything in the sky"),
    Key(".", "night_line", "", "a line for the night itself", hint=False),
    Key("z", "undo", "undo", "take the last step back"),
    Key("Z", "redo", "", "bring it back again", hint=False, shown="shift z"),
    Key("j", "retry_journal", "try again", "try again to write the journal", hint=False),
    Key("J", "begin_anew", "new journal", "twice: begin a new journal, keep the old file",
        hint=False, shown="shift j"),
    Key("Y", "rescue", "bring back", "bring back what a damaged journal still holds", hint=False,
        shown="shift y"),
    Key(",", "put_off", "", "put off what is said to begin", hint=False, shown="comma"),
    Key("t", "preview", "", "show another time", hint=False),
    Key("T", "present", "", "back to the present", hint=False, shown="shift t"),
    Key("?", "help", "help", "all keys", also=("F1",)),
    Key("[", "dimmer", "dim", "dimmer", also=("<",), late=True),
    Key("]", "brighter", "", "brighter", also=(">",), hint=False),
    Key("0", "white_light", "", "there was white light: the eyes adapt anew", hint=False),
    Key("f", "full_screen", "", "full screen, or a window", also=("F11",), hint=False),
    Key("F9", "guest_page", "", "the page for guests, on a second screen", hint=False),
    Key("#", "fast", "", "ten times a second, or twice", hint=False),
    Key("Esc", "close", "close", "close this, dismiss a message", hint=False),
    Key("q", "quit", "", "twice: leave", hint=False),
)  # fmt: skip

_NAMED = {
    Qt.Key.Key_Space: "Space",
    Qt.Key.Key_Return: "Enter",
    Qt.Key.Key_Enter: "Enter",
    Qt.Key.Key_Escape: "Esc",
    Qt.Key.Key_Delete: "Delete",
    Qt.Key.Key_Backspace: "Backspace",
    Qt.Key.Key_Tab: "Tab",
    Qt.Key.Key_Up: "Up",
    Qt.Key.Key_Down: "Down",
    Qt.Key.Key_Left: "Left",
    Qt.Key.Key_Right: "Right",
    Qt.Key.Key_PageUp: "PageUp",
    Qt.Key.Key_PageDown: "PageDown",
    Qt.Key.Key_Home: "Home",
    Qt.Key.Key_End: "End",
    Qt.Key.Key_F1: "F1",
    Qt.Key.Key_F2: "F2",
    Qt.Key.Key_F3: "F3",
    Qt.Key.Key_F4: "F4",
    Qt.Key.Key_F5: "F5",
    Qt.Key.Key_F6: "F6",
    Qt.Key.Key_F7: "F7",
    Qt.Key.Key_F8: "F8",
    Qt.Key.Key_F9: "F9",
    Qt.Key.Key_F10: "F10",
    Qt.Key.Key_F11: "F11",
}


def name_of(event: QKeyEvent) -> str:
    """Name the pressed key as the table does: what it types, or its name with Alt and Shift."""
    held = event.modifiers()
    named = _NAMED.get(Qt.Key(event.key()))
    if named is not None:
        alt = "Alt+" if held & Qt.KeyboardModifier.AltModifier else ""
        shift = "Shift+" if held & Qt.KeyboardModifier.ShiftModifier else ""
        return f"{alt}{shift}{named}"
    spoiling = (
        Qt.KeyboardModifier.ControlModifier
        | Qt.KeyboardModifier.AltModifier
        | Qt.KeyboardModifier.MetaModifier
    )
    return "" if held & spoiling else event.text()


def keys_of(context: str) -> Iterator[Key]:
    """Give the keys that hold in a context: its own, then those of everywhere."""
    own = [key for key in KEYS if key.context == context]
    taken = {name for key in own for name in (key.name, *key.also)}
    yield from own
    if context != EVERYWHERE:
        yield from (key for key in KEYS if key.context == EVERYWHERE and key.name not in taken)


def find_key(name: str, context: str) -> Key | None:
    """Give the key that was pressed in a context; with capitals locked letters still work."""
    for wanted in dict.fromkeys((name, name.lower() if len(name) == 1 else name)):
        for key in keys_of(context):
            if wanted and wanted in {key.name, *key.also}:
                return key
    return None
