"""A page with the fields of the record in use, and beside them others to use instead."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from PySide6.QtWidgets import QWidget

from companion.window.aim.words import NOTHING, Notice
from companion.window.forms.prompt_sheet import Prompt
from companion.window.kit.attention import Attention
from companion.window.kit.facts import Fact
from companion.window.kit.field_list import FieldList
from companion.window.kit.lettering import Size, Words
from companion.window.kit.palette import Role
from companion.window.kit.type_scale import Arranged

Record = TypeVar("Record")

_LONGEST = 80  # characters of a part
_FIELDS_COLUMN, _CHOICE_COLUMN = 5, 7  # where the right one of two lists begins
_BOTH_FROM = 800  # pixels of width, under which one column is shown at a time
_LEAST_CHOICES = 3  # that a tall window must have room for below the fields
_LEAST_PICTURE = 26  # steps of the grid, under which a picture could not be read


@dataclass(frozen=True, slots=True)
class RecordField:
    """One line: ``change`` asks for a value, or changes it at once and gives None."""

    caption: str
    value: str
    more: str
    change: Callable[[], Prompt | None]


@dataclass(frozen=True, slots=True)
class Part(Generic[Record]):
    """A typed part of a record; ``change`` raises ``AdviceError`` where the text can't be used."""

    caption: str
    explanation: str
    say: Callable[[Record], tuple[str, str]]
    text: Callable[[Record], str]
    change: Callable[[Record, str], Record]

    def field(self, record: Record, use: Callable[[Record], None]) -> RecordField:
        """Give the line of this part; ``use`` takes the record as it was changed."""

        def take(text: str, _choice: int) -> None:
            use(self.change(record, text))

        head, text = self.caption.capitalize(), self.text(record)
        value, more = self.say(record)
        return RecordField(
            self.caption,
            value,
            more,
            lambda: Prompt(head, self.explanation, text, take, longest=_LONGEST),
        )


@dataclass(frozen=True, slots=True)
class OtherRecord:
    """A record that can be used instead."""

    name: str
    more: str
    take: Callable[[], None]


@dataclass(frozen=True, slots=True)
class RecordFacts:
    """What a page shows: its head, its fields, and the choice; a notice while there are none."""

    name: str
    about: str
    caption: str
    fields: tuple[RecordField, ...]
    choices: tuple[OtherRecord, ...]
    notice: Notice = NOTHING


class RecordPage(Arranged):
    """Two lists; the arrows go between them."""

    def __init__(
        self,
        facts: Callable[[], RecordFacts],
        ask: Callable[[Prompt | None], None],
        parent: QWidget | None = None,
        *,
        choose_first: bool = False,
    ) -> None:
        """Make the page; ``choose_first`` puts the choice at the left of the fields."""
        super().__init__(parent)
        self._make, self._ask, self._choose_first = facts, ask, choose_first
        self._facts = RecordFacts("", "", "", (), ())
        self._field, self._choice, self._on_choices = 0, 0, True
        self.name = Words(Size.TITLE, Role.EMPHASIS, parent=self)
        self.about = Words(Size.BODY, parent=self)
        self.attention = Attention(self)
        self.fields = FieldList(self)
        self.caption = Words(Size.BODY, parent=self)
        self.choices = FieldList(self)
        self._picture: QWidget | None = None
        self.fields.hit.connect(self._hit_field)
        self.choices.hit.connect(self._hit_choice)

    def put_picture(self, picture: QWidget) -> None:
        """Let a picture stand below the choice, or below the fields where those leave room."""
        self._picture = picture
        picture.setParent(self)
        picture.show()
        self.arrange()

    def open(self) -> None:
        """Come up: with the choice first while nothing is chosen."""
        self._field = self._choice = 0
        self.redraw()
        self._on_choices = not self._facts.fields
        self._draw_lists()
        self.arrange()

    def redraw(self) -> None:
        """Draw what is in use now."""
        before, self._facts = self._facts, self._make()
        facts = self._facts
        if facts.fields and not before.fields:
            self._on_choices = False  # the first one is in use: it has fields now
        self.name.say(facts.name)
        self.about.say(facts.about)
        self.caption.say(facts.caption)
        self.attention.say(facts.notice)
        self._draw_lists()
        self.arrange()

    def _draw_lists(self) -> None:
        facts = self._facts
        self._on_choices = self._on_choices or not facts.fields
        self._field = min(self._field, max(0, len(facts.fields) - 1))
        self._choice = min(self._choice, max(0, len(facts.choices) - 1))
        _say(self.fields, facts.fields, None if self._on_choices else self._field)
        _say(self.choices, facts.choices, self._choice if self._on_choices else None)

    # What the keys do.

    def key_actions(self) -> Mapping[str, Callable[[], None]]:
        """Give what the keys do that lead through the lists."""
        return {
            "take": self.take,
            "row_up": lambda: self.step(-1),
            "row_down": lambda: self.step(1),
            "row_left": lambda: self.cross(to_choices=self._choice_at_left),
            "row_right": self._cross_right,
        }

    def step(self, by: int) -> None:
        """Go to another line."""
        if self._on_choices:
            self._choice = min(max(self._choice + by, 0), max(0, len(self._facts.choices) - 1))
        else:
            self._field = min(max(self._field + by, 0), max(0, len(self._facts.fields) - 1))
        self._draw_lists()

    def cross(self, *, to_choices: bool) -> None:
        """Go to the other list."""
        self._on_choices = to_choices
        self._draw_lists()
        self.arrange()

    @property
    def _choice_at_left(self) -> bool:
        return self._choose_first and self.choices.x() < self.fields.x()

    def _cross_right(self) -> None:
        there = self._shows_both or not self._on_choices
        self.cross(to_choices=there and not self._choice_at_left)

    def take(self) -> None:
        """Change the field, or use what is chosen."""
        if self._on_choices:
            self._hit_choice(self._choice)
        else:
            self._hit_field(self._field)

    def _hit_field(self, at: int) -> None:
        self._field, self._on_choices = at, False
        self._draw_lists()
        if at < len(self._facts.fields):
            self._ask(self._facts.fields[at].change())

    def _hit_choice(self, at: int) -> None:
        self._choice, self._on_choices = at, True
        if at < len(self._facts.choices):
            self._facts.choices[at].take()
            self._choice = 0  # what is in use stands first
            self.cross(to_choices=False)

    # Where it stands.

    @property
    def _shows_both(self) -> bool:
        return self.fields.isVisibleTo(self) and self.choices.isVisibleTo(self)

    def arrange(self) -> None:
        """Lay the parts out."""
        grid, margin = self.scale.grid, self.scale.grid(6)
        both = self.width() >= max(_BOTH_FROM, grid(130))
        whole = max(1, self.width() - 2 * margin)
        first = both and self._choose_first
        edge = self.scale.column(self.width(), _FIELDS_COLUMN if first else _CHOICE_COLUMN)
        fields_left = edge if first else margin
        wide = self.width() - edge - margin if first else edge - margin - grid(8) if both else whole
        top = grid(3)
        for words in (self.name, self.about):
            high = words.height_for(whole) if words.text else 0
            words.setGeometry(margin, top, whole, high)
            top += high
        start = top - self.about.height()
        top += grid(2) if self.about.text else 0
        notice = self.attention.height_for(wide)
        self.attention.setVisible(bool(notice))
        self.attention.setGeometry(fields_left, top, wide, notice)
        below = top + notice + (grid(3) if notice else 0)
        stacked = not both and self._stacks(below)
        self.fields.setVisible(
            bool(self._facts.fields) and (both or stacked or not self._on_choices)
        )
        high = len(self._facts.fields) * self.fields.pitch() if stacked else self.height() - below
        self.fields.setGeometry(fields_left - grid(4), below, wide + grid(4), max(1, high))
        if stacked:
            self._arrange_choices(below + high + grid(2), margin, whole, titled=True)
        elif first:
            self._arrange_choices(top, margin, edge - margin - grid(8), titled=True)
        elif both:
            self._arrange_choices(start, edge, self.width() - edge - margin, titled=True)
        else:
            self._arrange_choices(below, margin, whole, titled=False)
        self._arrange_picture()

    def _stacks(self, below: int) -> bool:
        """Say whether a tall window has room for the choice below the fields."""
        fields, choices = len(self._facts.fields), min(_LEAST_CHOICES, len(self._facts.choices))
        caption = self.caption.height_for(self.width()) + self.scale.grid(4)
        needed = (fields + choices) * self.fields.pitch() + caption
        return fields > 0 and choices > 0 and below + needed <= self.height()

    def _arrange_choices(self, start: int, left: int, width: int, *, titled: bool) -> None:
        grid = self.scale.grid
        high = self.caption.height_for(width)
        self.caption.setVisible(titled)
        self.caption.setGeometry(left, start, max(1, width), high)
        top = start + high + grid(2) if titled else start
        self.choices.setVisible(titled or self._on_choices)
        self.choices.setGeometry(left - grid(4), top, width + grid(4), self.height() - top)

    def _arrange_picture(self) -> None:
        """Give it the square that is left at the foot of the right column, or of the only one."""
        if self._picture is None:
            return
        over = self.choices if self.choices.isVisibleTo(self) else self.fields
        lines = len(self._facts.choices) if over is self.choices else len(self._facts.fields)
        column = over.geometry().adjusted(self.scale.grid(4), 0, 0, 0)
        top = column.top() + lines * over.pitch() + self.scale.grid(2)
        side = min(column.width(), self.height() - top - self.scale.grid(2))
        self._picture.setVisible(side >= self.scale.grid(_LEAST_PICTURE))
        left = column.left() + (column.width() - side) // 2
        self._picture.setGeometry(left, top, max(1, side), max(1, side))
        if self._picture.isVisibleTo(self):
            over.resize(over.width(), max(1, lines * over.pitch()))


def _say(
    shown: FieldList, lines: Sequence[RecordField] | Sequence[OtherRecord], chosen: int | None
) -> None:
    shown.say(
        [
            Fact(line.caption, line.value, line.more)
            if isinstance(line, RecordField)
            else Fact("", line.name, line.more)
            for line in lines
        ],
        chosen,
    )
