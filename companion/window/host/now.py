"""What a host needs of the target that guests look at now, for the host's eyes."""

from PySide6.QtWidgets import QWidget

from companion.live import Showing
from companion.window.host import words
from companion.window.kit.facts import Facts
from companion.window.kit.lettering import Size, Words
from companion.window.kit.palette import Role
from companion.window.kit.type_scale import Arranged


class HostNow(Arranged):
    """The counter, the name, where and with what, what to say and to ask."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.counter = Words(Size.VALUE, Role.EMPHASIS, parent=self)
        self.name = Words(Size.TITLE, Role.EMPHASIS, wrap=True, parent=self)
        self.what = Words(Size.SMALL, wrap=True, parent=self)
        self.facts = Facts(parent=self)
        self.say_it = Words(Size.BODY, wrap=True, parent=self)
        self.ask = Words(Size.BODY, wrap=True, parent=self)
        self.behind = Words(Size.SMALL, wrap=True, parent=self)
        self._behind: tuple[str, ...] = ()

    def show_target(self, showing: Showing | None) -> None:
        """Say another target, or the same one as it stands now."""
        if showing is None:
            return
        self.counter.say(words.counter(showing))
        stop = showing.told
        self.name.say(showing.target.name if stop is None else stop.full_name)
        if stop is None or stop.caution:
            self.what.say("" if stop is None else stop.caution)
            self.facts.say()
            self._behind = ()
            for part in (self.say_it, self.ask):
                part.say("")
        else:
            far = f" · {stop.saying.far}" if stop.saying.far else ""
            self.what.say(f"{stop.saying.what}{far}")
            self.facts.say(*words.facts(stop))
            self.say_it.say(stop.saying.fact)
            self.ask.say(stop.saying.ask)
            self._behind = tuple(words.behind(stop).split("\n"))
        self.arrange()

    def arrange(self) -> None:
        """Stack the parts; what finds no room at the end is left out whole."""
        grid = self.scale.grid
        left, width, top = grid(6), max(1, self.width() - grid(9)), grid(2)
        for part in (self.counter, self.name, self.what):
            top = self._put(part, left, top, width, 1.0)
        high = round(self.facts.pitch() * len(self.facts.facts))
        self.facts.setGeometry(left, top + grid(1), width, max(1, high))
        self.facts.setVisible(high > 0)
        top += high + (grid(2) if high else 0)
        for part in (self.say_it, self.ask):
            top = self._put(part, left, top, width, 1.8)
        self._say_what_fits(self.height() - top, width)
        self._put(self.behind, left, top, width, 0.0)

    def _say_what_fits(self, room: int, width: int) -> None:
        """Leave out from the end what is not seen whole."""
        for count in range(len(self._behind), -1, -1):
            self.behind.say("\n".join(self._behind[:count]))
            if self.behind.height_for(width) <= room:
                return

    def _put(self, part: Words, left: int, top: int, width: int, gap: float) -> int:
        high = part.height_for(width) if part.text else 0
        room = max(0, self.height() - top)
        part.setVisible(0 < high <= room)
        part.setGeometry(left, top, width, max(1, min(high, room)))
        return top + high + (self.scale.grid(gap) if high else 0)
