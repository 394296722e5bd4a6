"""Random evenings in which somebody keeps taking notes: what was typed, and what is on the disk."""

import random

from companion.window import MainWindow
from window.hands import pause, press

_KEYS = (" ", "n", "k", "l", "Up", "Down", "End", "3", "1", "4", "2", "[", "]", "Alt+Down", "O")
_STEPS, _BREATH_MS = 7, 15


def play_notes(window: MainWindow, stories: int, seed: int) -> list[str]:
    """Play stories of random keys with notes between them; give every note that was typed."""
    chance = random.Random(seed)  # noqa: S311 - no secret
    typed: list[str] = []
    for story in range(stories):
        for step in range(_STEPS):
            if chance.random() < 0.35:
                typed.append(f"note {story} {step}")
                _note(window, typed[-1], chance)
            else:
                press(window, chance.choice(_KEYS))
            pause(_BREATH_MS)
        press(window, "1")
    return typed


def _note(window: MainWindow, text: str, chance: random.Random) -> None:
    """Write it as one does: about a target where there is one, or a line for the night."""
    on_target = window.stage.shown.word in {"aim", "sky"} and chance.random() < 0.7
    press(window, "w" if on_target else ".")
    for _ in range(chance.randrange(3) if on_target else 0):
        press(window, "Down")
    press(window, text, "Enter")
