"""The one channel by which anything says something to the person."""

from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtCore import QObject, QTimer, Signal


class Severity(StrEnum):
    """How much it matters; the value is the word shown before the text."""

    NOTE = "note"
    WARNING = "warning"
    ERROR = "error"


@dataclass(frozen=True, slots=True)
class Message:
    """One message. A later one with the same key takes its place; an empty key stands alone."""

    severity: Severity
    text: str
    key: str = ""


class Messages(QObject):
    """Messages are kept until they are cleared, so that none is lost before a window exists.

    A mere note goes by itself once it has been shown for a while.
    """

    changed = Signal()
    _MOST = 20
    _NOTE_MS = 20_000

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._messages: list[Message] = []

    @property
    def current(self) -> tuple[Message, ...]:
        """All messages, the newest last."""
        return tuple(self._messages)

    def post(self, message: Message) -> None:
        """Add a message, or renew the one with its key."""
        if message in self._messages[-1:]:
            return
        self._messages = [m for m in self._messages if not m.key or m.key != message.key]
        self._messages = [*self._messages, message][-self._MOST :]
        if message.severity is Severity.NOTE:
            QTimer.singleShot(self._NOTE_MS, self, lambda: self._expire(message))
        self.changed.emit()

    def _expire(self, message: Message) -> None:
        """Take a note away, unless another one took its place: that has a time of its own."""
        kept = [one for one in self._messages if one is not message]
        if len(kept) != len(self._messages):
            self._messages = kept
            self.changed.emit()

    def say(self, severity: Severity, text: str, key: str = "") -> None:
        """Post a message from its parts."""
        self.post(Message(severity, text, key))

    def clear(self, key: str) -> None:
        """Take away the message with a key."""
        kept = [message for message in self._messages if message.key != key]
        if len(kept) != len(self._messages):
            self._messages = kept
            self.changed.emit()

    def dismiss(self) -> None:
        """Take away the newest message: the person has read it."""
        if self._messages:
            self._messages.pop()
            self.changed.emit()
