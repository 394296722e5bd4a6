"""The sheet on which the horizon of the site is drawn, by keys or by hand."""

from collections.abc import Mapping
from dataclasses import replace
from math import ceil, floor
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from companion.night import HorizonLine
from companion.sky import altitude_text, azimuth_text, compass_point
from companion.window.frame.keys import HORIZON
from companion.window.frame.screen import Action
from companion.window.frame.sheet import Sheet
from companion.window.kit.lettering import Size, Words
from companion.window.kit.palette import Role
from companion.window.night.words import short_name
from companion.window.place.horizon_drawing import HorizonDrawing

if TYPE_CHECKING:
    from companion.live import Evening

_HELP = (
    "What stands around: trees, roofs, hills. Turn to a direction and raise the line there, or "
    "draw it with the mouse; delete opens it all round. A fist at arm's length is 10° high."
)
_LEAST = 24  # steps of the grid: a lower drawing needs the room of the explanation


class HorizonSheet(Sheet):
    """Shows the site's horizon as it is; what is drawn is kept by Enter and dropped by Esc."""

    word = HORIZON
    wide = True

    def __init__(self, evening: "Evening", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening = evening
        self._before = self.line = HorizonLine.through(())
        self.cursor_deg = 0
        self.field.hide()
        self.reading = Words(Size.VALUE, Role.EMPHASIS, parent=self)
        self.drawing = HorizonDrawing(self)
        self.drawing.stroked.connect(self._stroke)
        evening.night.changed.connect(self._show_paths)

    def open(self) -> None:
        """Begin with the site's horizon, towards south: that is the middle."""
        site = self._evening.choices.site
        self.head.say(f"Horizon of {site.name}")
        self.explanation.say(_HELP)
        self._before = HorizonLine.through(site.horizon)
        self._evening.night.begin()
        self._show_paths()
        self._show(self._before, 180)
        super().open()
        self.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_paths(self) -> None:
        """Show how what waits passes tonight, as far as the night was worked out."""
        view = self._evening.night.view
        plans = () if view is None else view.plans
        self.drawing.show_paths(
            [
                (
                    short_name(plan.target),
                    [
                        (float(azimuth), float(altitude))
                        for azimuth, altitude in zip(
                            plan.curve.azimuth_deg, plan.curve.altitude_deg, strict=True
                        )
                    ],
                )
                for plan in plans
            ]
        )

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        step = HorizonLine.STEP_DEG
        return {
            "take": self._take,
            "row_right": lambda: self._show(self.line, (self.cursor_deg + step) % 360),
            "row_left": lambda: self._show(self.line, (self.cursor_deg - step) % 360),
            "height_up": self._raise,
            "height_down": lambda: self._set(ceil(self._altitude_deg()) - 1),
            "clear_here": lambda: self._set(0.0),
            "clear_all": lambda: self._show(HorizonLine.through(()), self.cursor_deg),
        }

    # What the keys and the hand do.

    def _altitude_deg(self) -> float:
        return self.line.altitude_deg(self.cursor_deg)

    def _raise(self) -> None:
        """Go to the next whole degree; what is above the scale already stays there."""
        here = self._altitude_deg()
        self._set(max(here, min(floor(here) + 1, HorizonLine.TOP_DEG)))

    def _set(self, altitude_deg: float) -> None:
        self._show(self.line.with_altitude(self.cursor_deg, altitude_deg), self.cursor_deg)

    def _stroke(self, start: tuple[int, float], end: tuple[int, float]) -> None:
        self._show(self.line.with_stroke(start, end), end[0])

    def _take(self) -> None:
        """Keep what was drawn; a horizon that was only looked at stays to the letter."""
        line, changed = self.line, self.line != self._before
        self.dismiss()
        if changed:
            site = self._evening.choices.site
            self._evening.sites.choose(replace(site, horizon=line.thinned()))

    def _show(self, line: HorizonLine, cursor_deg: int) -> None:
        self.line, self.cursor_deg = line, cursor_deg
        self.drawing.show_line(line, cursor_deg)
        self.reading.say(reading_words(cursor_deg, self._altitude_deg()))

    # Where it stands.

    def arrange_rest(self, top: int) -> None:
        """Put the words above the drawing, and give it the rest."""
        grid, left = self.scale.grid, self.margin()
        width, high = max(1, self.width() - 2 * left), self.reading.height_for(0)
        room = self.height() - top - high - grid(2)
        if room < grid(_LEAST):
            top, room = self.explanation.y(), room + top - self.explanation.y()
        self.explanation.setVisible(top > self.explanation.y())
        self.reading.setGeometry(left, top, width, high)
        self.drawing.setGeometry(left, top + high + grid(1), width, max(1, room))


def reading_words(azimuth_deg: int, altitude_deg: float) -> str:
    """Say what stands in a direction."""
    where = f"in the {compass_point(azimuth_deg)} · azimuth {azimuth_text(azimuth_deg, 1.0)}°"
    if altitude_deg < 0.5:
        return f"Open {where}"
    return f"Tree line {altitude_text(altitude_deg, 1.0)}° high {where}"
