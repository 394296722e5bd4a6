"""What a key is, the contexts that keys belong to, and how a pressed one is named.

A key belongs to a context: a screen, something that lies over the screens, or everywhere. The
table of all keys is ``key_table.py``.
"""

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
