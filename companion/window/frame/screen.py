"""What every screen and everything that lies over the screens has in common."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal

from companion.window.kit.type_scale import Arranged

if TYPE_CHECKING:
    from companion.instant import Snapshot
    from companion.sky import Target

Action = Callable[[], None]


@dataclass(frozen=True, slots=True)
class ScreenPlace:
    """Where a screen is reached, and how it is made when somebody first goes there."""

    digit: str
    word: str
    make: "Callable[[], Screen]"


class Screen(Arranged):
    """A screen: reached by its digit, told what is new, asked what its keys do.

    Attributes
    ----------
    digit : str
        The key that brings it up.
    word : str
        Its name on the hint line; also its context in the table of keys.
    """

    wanted = Signal(str)  # an action of the window
    turned = Signal()  # another page is up, with other keys

    digit = ""
    word = ""

    @property
    def context(self) -> str:
        """Where its keys stand in the table: a screen may have pages with keys of their own."""
        return self.word

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys of this screen do, by the names in the table."""
        return {}

    @property
    def pointed_at(self) -> "Target | None":
        """What a list of this screen stands on, where that is not what is aimed at."""
        return None

    def show_snapshot(self, snapshot: "Snapshot") -> None:
        """Draw a new instant."""

    def show_choices(self) -> None:
        """Draw what a person has changed: queue, outcomes, site, choices."""
