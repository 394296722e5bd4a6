"""What the strip of messages says: doubts about the numbers first, then what happened."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from companion.live import Message, Severity
from companion.window.frame.keys import MOUNT
from companion.window.frame.message_strip import MessageStrip
from companion.window.frame.stage import Stage

if TYPE_CHECKING:
    from companion.live import Evening


class Notices(QObject):
    """Fills the strip, and knows which doubts were put away.

    A doubt is not a message that somebody sent: it stands as long as the snapshot says it, and
    comes back when it is said in other words.
    """

    def __init__(self, evening: "Evening", strip: MessageStrip, stage: Stage) -> None:
        super().__init__(strip)  # what it is told of ends with the strip
        self._evening, self._strip, self._stage = evening, strip, stage
        self._read: set[str] = set()  # doubts that were put away

    def show(self) -> None:
        """Show what there is to say on the screen that is up."""
        doubts = [Message(Severity.WARNING, text, "doubt") for text in self._unread()]
        self._strip.say([*doubts, *self._evening.messages.current])

    def put_away(self) -> None:
        """Put the newest away; a doubt only when nothing else is said."""
        if self._evening.messages.current:
            self._evening.messages.dismiss()
        else:
            self._read |= set(self._unread()[-1:])
            self.show()

    def _unread(self) -> list[str]:
        latest = self._evening.latest
        if latest is None:
            return []
        doubts = list(latest.doubts)
        if latest.alignment is not None and self._stage.shown.word != MOUNT:
            wrong = [one.wrong for one in latest.alignment.doubts if one.contradicts]
            doubts += [f"{text} Press 5." for text in wrong]
        return [one for one in doubts if one not in self._read]
