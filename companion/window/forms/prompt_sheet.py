"""One value typed at a time: its error stands in its place and says what was kept."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from PySide6.QtWidgets import QWidget

from companion.advice import AdviceError
from companion.window.frame.keys import ENTRY
from companion.window.frame.screen import Action
from companion.window.frame.sheet import Sheet
from companion.window.kit.lettering import Size, Words
from companion.window.kit.palette import Role


@dataclass(frozen=True, slots=True)
class Prompt:
    """What is asked for; ``take`` raises ``AdviceError`` where it can't be used.

    With ``choices`` the arrows choose what the value is about, and ``take`` is told which;
    ``heads`` are head and explanation of each choice, where they differ.
    """

    head: str
    explanation: str
    text: str
    take: Callable[[str, int], None]
    choices: tuple[str, ...] = ()
    longest: int = 200
    heads: tuple[tuple[str, str], ...] = ()


class PromptSheet(Sheet):
    """Asks for one value."""

    word = ENTRY

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._prompt: Prompt | None = None
        self._choice = 0
        self.choices = Words(Size.BODY, Role.TEXT, wrap=True, parent=self)

    def ask(self, entry: Prompt) -> None:
        """Come up and ask for a value."""
        self._prompt, self._choice = entry, 0
        self.field.setMaxLength(entry.longest)
        self.field.setVisible(entry.longest > 0)
        self.field.setText(entry.text)
        self._say_choice()
        self.open()

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        return {"take": self._take, "row_down": self._next_choice}

    def _take(self) -> None:
        if self._prompt is None:
            return
        try:
            self._prompt.take(self.field.text(), self._choice)
        except AdviceError as error:
            self.show_error(str(error))
        else:
            self.dismiss()

    def _next_choice(self) -> None:
        if self._prompt is not None and self._prompt.choices:
            self._choice = (self._choice + 1) % len(self._prompt.choices)
            self._say_choice()

    def _say_choice(self) -> None:
        prompt = self._prompt
        if prompt is None:
            return
        heads = prompt.heads or ((prompt.head, prompt.explanation),)
        head, explanation = heads[min(self._choice, len(heads) - 1)]
        self.head.say(head)
        self.explanation.say(explanation)
        self.choices.say(f"↑↓ {prompt.choices[self._choice]}" if prompt.choices else "")
        self.arrange()

    def arrange_rest(self, top: int) -> None:
        """Put the choice below the field."""
        left, width = self.scale.grid(4), max(1, self.width() - self.scale.grid(8))
        self.choices.setGeometry(left, top, width, self.choices.height_for(width))
