"""Two readings typed at a time: each is checked where it stands, and either may stay empty."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from companion.advice import AdviceError
from companion.window.frame.keys import ENTRY, SIGHTING
from companion.window.frame.screen import Action
from companion.window.frame.sheet import Field, Sheet
from companion.window.kit.lettering import Size, Words
from companion.window.kit.palette import Role
from companion.window.kit.type_scale import TypeScale

_LONGEST = 60
_KEY = "s"  # of the table: the one that asked for the sighting
Check = Callable[[str], object]


@dataclass(frozen=True, slots=True)
class PairPrompt:
    """What is asked for; the checks of both fields and ``take`` raise ``AdviceError``.

    ``anew`` asks the same for the moment at which it is called, None where that cannot be.
    """

    head: str
    explanation: str
    captions: tuple[str, str]
    checks: tuple[Check, Check]
    take: Callable[[str, str], None]
    anew: "Callable[[], PairPrompt | None] | None" = None
    expected: tuple[str, str] = ("", "")  # what stands at the end of each line


class PairSheet(Sheet):
    """Asks for two values; Enter goes on to the second, then takes both.

    Where they belong to a moment, its key sets that anew, also while readings are typed.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent, _LONGEST)
        self._pair: PairPrompt | None = None
        self.second = Field(self, _LONGEST)
        self.captions = (
            Words(Size.CAPTION, Role.TEXT, parent=self),
            Words(Size.CAPTION, Role.TEXT, parent=self),
        )
        right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        self.expected = (
            Words(Size.BODY, align=right, parent=self),
            Words(Size.BODY, align=right, parent=self),
        )
        for field in self.fields():
            field.textEdited.connect(self._look_for_the_key)

    def fields(self) -> tuple[Field, ...]:
        """Give both lines to type into."""
        return (self.field, self.second)

    def ask(self, pair: PairPrompt) -> None:
        """Come up empty and ask for two values."""
        self._pair = pair
        self.word = ENTRY if pair.anew is None else SIGHTING
        self._say_heads(pair)
        for field, caption, text in zip(self.fields(), self.captions, pair.captions, strict=True):
            field.clear()
            field.setAccessibleName(text)
            caption.say(text)
        self.open()

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        return {
            "take": self._enter,
            "row_down": lambda: self._go_to(1 - self._at()),
            "sight": self._set_anew,
        }

    def _say_heads(self, pair: PairPrompt) -> None:
        self.head.say(pair.head)
        self.explanation.say(pair.explanation)
        for words, text in zip(self.expected, pair.expected, strict=True):
            words.say(text)

    def _look_for_the_key(self, text: str) -> None:
        """Take the key out of what is typed: no reading has that letter."""
        if self._pair is None or self._pair.anew is None or _KEY not in text.lower():
            return
        for field in self.fields():
            field.setText(field.text().replace(_KEY, "").replace(_KEY.upper(), ""))
        self._set_anew()

    def _set_anew(self) -> None:
        anew = None if self._pair is None or self._pair.anew is None else self._pair.anew()
        if anew is not None:
            self._pair = anew
            self._say_heads(anew)
            self.arrange()

    def _at(self) -> int:
        return 1 if self.window().focusWidget() is self.second else 0

    def _go_to(self, at: int) -> None:
        field = self.fields()[at]
        field.setFocus(Qt.FocusReason.OtherFocusReason)
        field.selectAll()

    def focusNextPrevChild(self, _forward: bool) -> bool:  # noqa: N802 - Qt's name and call
        """Go to the other field with Tab, never out of the sheet."""
        self._go_to(1 - self._at())
        return True

    def _enter(self) -> None:
        if self._pair is None or not self._stands(self._at()):
            return
        if self._at() == 0:
            self.show_error("")
            self._go_to(1)
        elif self._stands(0):
            self._take(self._pair)

    def _stands(self, at: int) -> bool:
        """Check one field; say beside it what is wrong with it, and stay there."""
        text = self.fields()[at].text()
        try:
            if self._pair is not None and text.strip():
                self._pair.checks[at](text)
        except AdviceError as error:
            self._go_to(at)
            self.show_error(str(error))
            return False
        return True

    def _take(self, pair: PairPrompt) -> None:
        try:
            pair.take(self.field.text(), self.second.text())
        except AdviceError as error:
            self._go_to(0)
            self.show_error(str(error))
        else:
            self.taken()

    def taken(self) -> None:
        """Go away once the values are taken."""
        self.dismiss()

    def arrange_fields(self, left: int, top: int, width: int) -> int:
        """Place both fields, each under its caption; give where they end."""
        grid = self.scale.grid
        high = self.field.fontMetrics().height() + grid(1)
        for field, caption, expected in zip(
            self.fields(), self.captions, self.expected, strict=True
        ):
            caption.setGeometry(left, top, width, caption.height_for(width))
            top += caption.height()
            beside = min(expected.sizeHint().width() if expected.text else 0, width // 2)
            field.setGeometry(left, top, width - beside, high)
            expected.setGeometry(left + width - beside, top, beside, high)
            top += high + grid(2)
        return top

    def set_scale(self, scale: TypeScale) -> None:
        """Take a new scale; the fields take theirs before they are placed."""
        for field in self.fields():
            field.set_scale(scale)
        super().set_scale(scale)
