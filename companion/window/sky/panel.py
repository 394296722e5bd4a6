"""The screen of the sky. What it shows is made when it first comes up: it needs numpy."""

from collections.abc import Mapping
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QWidget

from companion.journal import Outcome
from companion.window.frame.key_table import KEYS
from companion.window.frame.keys import SKY
from companion.window.frame.screen import Action, Screen
from companion.window.frame.sheets import Sheets
from companion.window.kit.motion import Motion
from companion.window.kit.type_scale import spread_scale

if TYPE_CHECKING:
    from companion.charts import SkyFrame
    from companion.live import Evening
    from companion.window.sky.view import SkyView

_OWN = frozenset({"found", "not_seen"})
# What brings a sheet up on any screen, or turns the sky there.
_EVERYWHERE = frozenset({"sight", "look", "note", "sky_on", "sky_back"})


class SkyPanel(Screen):
    """Hands keys to the view, and has the sky computed only while somebody looks."""

    digit, word = "3", SKY

    def __init__(
        self, evening: "Evening", motion: Motion, sheets: Sheets, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._evening, self._motion, self._sheets = evening, motion, sheets
        self._made: SkyView | None = None
        evening.charts.snapshot_ready.connect(self._take_sky)

    @property
    def view(self) -> "SkyView":
        """The view, made on first use."""
        if self._made is None:
            from companion.window.sky.view import SkyView

            self._made = SkyView(self._evening, self._motion, self._sheets, self)
            spread_scale(self._made, self.scale)
            self._made.setGeometry(self.rect())
            self._made.show()
        return self._made

    def key_actions(self) -> Mapping[str, Action]:
        """Give what the keys do."""
        evening = self._evening
        names = [key.action for key in KEYS if key.context == SKY and key.action not in _OWN]
        made: dict[str, Action] = {
            name: partial(self._do, name) for name in names if name not in _EVERYWHERE
        }
        made["found"] = lambda: evening.queue.mark(Outcome.FOUND)
        made["not_seen"] = lambda: evening.queue.mark(Outcome.NOT_SEEN)
        return made

    def _do(self, name: str) -> None:
        self.view.key_actions()[name]()

    def _take_sky(self, sky: "SkyFrame") -> None:
        if self.isVisible():
            self.view.show_sky(sky)

    def show_choices(self) -> None:
        """Until the new sky comes, say nothing of the old target."""
        if self.isVisible():
            self._look()

    def _look(self) -> None:
        """Have the sky computed; of no place in particular there is none."""
        if not self._evening.needs_site:
            self._evening.charts.show(live=True)
        self.view.show_choices()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Have the sky computed."""
        super().showEvent(event)
        self._look()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Let it rest."""
        super().hideEvent(event)
        self._evening.charts.show(live=False)

    def arrange(self) -> None:
        """Give the view the whole room."""
        if self._made is not None:
            self._made.setGeometry(self.rect())
