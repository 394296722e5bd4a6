"""How the window was left: kept while it runs, so that a flat battery loses nothing of it."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

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

    def keep(self, values: Mapping[str, object]) -> None:
        """Keep these values."""
        for name, value in values.items():
            if value != self._kept.get(name):
                self._kept[name] = value
                self._evening.remember(name, value)
