"""How much each screen glows, and how bright its smallest text is: what dark eyes have to bear.

``QT_QPA_PLATFORM=offscreen python tests/benchmarks/light.py`` opens the demo evening at 1366 by 768
and prints, screen by screen, the mean light at 100% (all pixels full red is 1) beside that of the
chart of the sky in the same run, and the light of the tones at 100% and at 10%. Light goes with the
power 2.2 of a code (sRGB, about).
"""

import os
import sys
import tempfile
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).resolve().parents[1]))  # for ``window.test_stories``

import numpy as np
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget
from window.hands import pause, press
from window.test_stories import Person

from companion.window import RedApplication
from companion.window.kit.palette import tones_at

SCREENS = (
    ("aim", "1"), ("north", "2"), ("sky", "3"), ("night", "4"), ("mount", "5"), ("journal", "6"),
    ("place", "7"), ("about", "8"), ("events", "9"), ("road", "F7"), ("host", "F8"),
)  # fmt: skip
SETTLES_MS = 3000


def light_of(code: np.ndarray | float) -> np.ndarray | float:
    return (np.asarray(code, float) / 255.0) ** 2.2


def mean_light(window: QWidget) -> float:
    image = window.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    bits = np.frombuffer(bytes(image.constBits()), np.uint8).reshape(-1, 4)
    return float(np.mean(light_of(bits[:, 2])))


def step_of(share: float) -> int:
    """Give the step of brightness at which emphasis has about that share of full light."""
    return min(range(60), key=lambda at: abs(float(light_of(tones_at(at).emphasis)) - share))


def main() -> None:
    app = RedApplication(["light"])
    with tempfile.TemporaryDirectory() as home:
        person = Person(Path(home), app)
        window = person.window
        found = {}
        for name, key in SCREENS:
            press(window, key)
            pause(SETTLES_MS)
            found[name] = mean_light(window)
        for name, light in sorted(found.items(), key=lambda pair: -pair[1]):
            print(f"{name}: mean light {light:.4f}, {light / found['sky']:.1f} of the sky's")
        person.leave()
    for share in (1.0, 0.1):
        step = step_of(share)
        tones = tones_at(step)
        parts = (("emphasis", tones.emphasis), ("text", tones.text), ("rules", tones.line))
        said = ", ".join(f"{name} {float(light_of(code)):.4f}" for name, code in parts)
        print(f"at {share:.0%}: {said}")


if __name__ == "__main__":
    main()
