"""How the window was left: kept while it runs, so that a flat battery loses nothing of it."""

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

if TYPE_CHECKING:
    from companion.live import Evening


class Memory:
    """Writes what changed since the last time; nothing is written twice."""

    def __init__(self, evening: "Evening") -> None:
        self._evening = evening
        left = evening.left_as
        self._kept: dict[str, object] = {
            "brightness_step": left.brightness_step,
            "window_size": tuple(left.window_size),
            "screen": left.screen,
            "target": left.target,
        }

    def keep(self, window: QWidget, brightness_step: float, screen: str) -> None:
        """Keep how everything is now, for the next start."""
        target = self._evening.choices.target
        values: dict[str, object] = {"brightness_step": float(brightness_step), "screen": screen}
        if target is not None:
            values["target"] = target.key
        if not window.isFullScreen() and not window.isMaximized() and window.isVisible():
            values["window_size"] = (float(window.width()), float(window.height()))
        for name, value in values.items():
            if value != self._kept.get(name):
                self._kept[name] = value
                self._evening.remember(name, value)
