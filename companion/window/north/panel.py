"""The screen of true north: the rose, and what the compass must read."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from PySide6.QtCore import QRect
from PySide6.QtWidgets import QWidget

from companion.instant import Snapshot
from companion.window.aim.words import NO_PLACE, NOTHING, Notice, withheld
from companion.window.forms.prompt_sheet import Prompt
from companion.window.forms.prompts import number_in
from companion.window.frame.keys import NORTH
from companion.window.frame.screen import Action, Screen
from companion.window.frame.sheets import Sheets
from companion.window.kit.attention import Attention
from companion.window.kit.facts import Facts
from companion.window.kit.figure import FULL_POINTS, Figure, height_of, width_of
from companion.window.kit.lettering import Size, Words
from companion.window.kit.motion import Motion
from companion.window.north import words as north_words
from companion.window.north.rose import Rose, RoseFacts

if TYPE_CHECKING:
    from companion.live import Evening

_POINTS = 60.0  # one below the other
_LEAST_POINTS = 62.0  # side by side
_NUMBERS_COLUMN = 6
_ROSE_FROM = 700  # pixels of width, under which the rose stands below the numbers
_LEAST_ROSE = 30  # steps of the grid, under which it could not be read
_NO_FIELD = "Here the compass shows nothing that could be measured against."
_NOT_UP = "Nothing to measure by is up: choose a target above the horizon, away from the Sun."


class NorthPanel(Screen):
    """Rose at the left; at the right the two readings, and what they rest on."""

    digit, word = "2", NORTH

    def __init__(
        self,
        evening: "Evening",
        motion: Motion,
        sheets: Sheets,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._evening, self._sheets = evening, sheets
        self.rose = Rose(motion, self)
        self.captions = (Words(Size.CAPTION, parent=self), Words(Size.CAPTION, parent=self))
        self.figures = (Figure("Compass for true north", self), Figure("Compass for target", self))
        self.attention = Attention(self)
        self.facts = Facts(parent=self)
        self.captions[0].say("COMPASS FOR TRUE NORTH")

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        return {"measure": self._measure, "forget": lambda: self._evening.sites.set_deviation(None)}

    # What is new.

    def show_choices(self) -> None:
        """Draw the place; its numbers follow with the next snapshot."""
        if self._evening.needs_site:
            self._say(NO_PLACE)
        elif self._evening.latest is None:
            self._say(Notice("The field is being computed.", "The numbers come in a moment."))

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Draw a new instant."""
        north, aim = snapshot.north, snapshot.aim
        uncovered = self._evening.choices.uncovered
        self.figures[0].say(north_words.compass_north(north))
        self.figures[1].say(north_words.compass_target(north, aim, uncovered))
        self.captions[1].say(north_words.target_caption(aim, uncovered))
        self.facts.say(*north_words.facts(north))
        hidden = aim is None or withheld(aim, uncovered)
        reading = north.compass_for_true_north_deg
        self.rose.show_facts(
            RoseFacts(
                compass_north_deg=None if reading is None else -reading,
                polaris_deg=north.polaris_azimuth_deg,
                target_deg=None if hidden or aim is None else aim.azimuth_deg,
                target_name="" if aim is None else aim.target.name,
                lights=snapshot.lights,
            )
        )
        self._say(north_words.notice(snapshot))

    def _say(self, notice: Notice) -> None:
        self.attention.say(notice)
        self.arrange()

    # Measuring the deviation.

    def _measure(self) -> None:
        known = self._known()
        north = None if self._evening.latest is None else self._evening.latest.north
        if north is None or north.declination_deg is None or not known:
            wrong = (
                _NOT_UP if north is not None and north.declination_deg is not None else _NO_FIELD
            )
            self._say(Notice("The deviation can't be measured now.", wrong))
            return
        declination_deg = north.declination_deg

        def take(text: str, choice: int) -> None:
            reading = number_in(text, "compass reading", 0.0, 360.0, "°")
            self._evening.sites.measure_deviation(known[choice][1], reading, declination_deg)

        self._sheets.ask(
            Prompt(
                "What does the compass show?",
                "Sight along the compass, iron and phones well away, and type its reading in "
                "degrees. By the Sun: only along the shadow, never at the Sun itself.",
                "",
                take,
                tuple(f"towards {name}" for name, _azimuth in known),
            )
        )

    def _known(self) -> list[tuple[str, float]]:
        """Give the known directions there are now, with their true azimuths."""
        latest = self._evening.latest
        if latest is None:
            return []
        aim, north = latest.aim, latest.north
        made: list[tuple[str, float]] = []
        if aim is not None and aim.altitude_deg > 0.0 and not aim.sun_danger:
            made.append((aim.target.name, aim.azimuth_deg))
        if north.polaris_azimuth_deg is not None:
            made.append(("Polaris", north.polaris_azimuth_deg))
        if north.shadow_azimuth_deg is not None:
            made.append(("the end of a shadow", north.shadow_azimuth_deg))
        return made

    # Where it stands.

    def arrange(self) -> None:
        """Lay the parts out: the rose beside the numbers, in a tall window below them."""
        grid, margin = self.scale.grid, self.scale.margin
        beside = self.width() >= max(_ROSE_FROM, grid(110))
        edge = self.scale.column(self.width(), _NUMBERS_COLUMN)
        side = min(self.height() - grid(4), edge - grid(8)) if beside else 0
        left = edge if beside else margin
        column = QRect(left, 0, max(1, self.width() - left - margin), self.height())
        top = self._arrange_numbers(column)
        if beside:
            place = QRect(grid(4), (self.height() - side) // 2, max(1, side), max(1, side))
        else:
            side = min(self.height() - top - grid(2), self.width() - grid(8))
            place = QRect((self.width() - side) // 2, top, max(1, side), max(1, side))
        self.rose.setVisible(side >= grid(_LEAST_ROSE))
        self.rose.setGeometry(place)

    def _arrange_numbers(self, column: QRect) -> int:
        """Put the numbers side by side, or one below the other where they would be small.

        Give where they and the facts end.
        """
        grid, gap = self.scale.grid, self.scale.gutter
        wide = max(width_of(figure.text or "88½", 100.0) for figure in self.figures)
        half = (column.width() - gap) // 2
        beside = 100.0 * half / wide >= self.scale.pixels(_LEAST_POINTS)
        room = half if beside else column.width()
        full = float(self.scale.pixels(FULL_POINTS if beside else _POINTS))
        pixels = min(full, 100.0 * room / wide)
        top, high = grid(4), height_of(pixels)
        for at, (caption, figure) in enumerate(zip(self.captions, self.figures, strict=True)):
            left = column.left() + (at * (half + gap) if beside else 0)
            caption.setGeometry(left, top, room, caption.height_for(1))
            figure.set_pixels(pixels)
            figure.setGeometry(left, top + caption.height() + grid(1), room, high)
            if at == 1 or not beside:
                top += caption.height() + grid(1) + high + grid(3)
        notice = self.attention.height_for(column.width())
        self.attention.setVisible(self.attention.notice != NOTHING)
        self.attention.setGeometry(column.left(), top, column.width(), notice)
        top += notice + (grid(3) if notice else 0)
        room = max(1, self.height() - top - grid(1))
        self.facts.set_columns(2 if beside else 1)
        high = min(room, self.facts.sizeHint().height())
        self.facts.setGeometry(column.left(), top, column.width(), max(1, high))
        return top + high + grid(1)
