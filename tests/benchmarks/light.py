"""How much each screen glows, how bright its smallest text is, and on how few edges words stand.

``QT_QPA_PLATFORM=offscreen python tests/benchmarks/light.py`` opens the demo evening at 1366 by 768
and prints, screen by screen, the mean light at 100% (all pixels full red is 1) beside that of the
chart of the sky in the same run, the light of the tones at 100% and at 10%, the light of the pixels
of the smallest text as they are drawn at 10%, and the left edges on which the words of right-hand
columns begin, over all screens. Light goes with the power 2.2 of a code (sRGB, about).
"""

import os
import sys
import tempfile
from collections import Counter
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).resolve().parents[1]))  # for ``window.test_stories``

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QWidget
from window.hands import pause, press
from window.test_stories import Person

from companion.window import MainWindow, RedApplication
from companion.window.kit import lettering
from companion.window.kit.palette import Role, tones_at

SCREENS = (
    ("aim", "1"), ("north", "2"), ("sky", "3"), ("night", "4"), ("mount", "5"), ("journal", "6"),
    ("place", "7"), ("about", "8"), ("events", "9"), ("road", "F7"), ("host", "F8"),
)  # fmt: skip
SETTLES_MS = 3000
ANYTHING_FROM, ANYTHING_TO = 0.38, 0.85  # of the width, where right-hand columns begin
TIMES = 2  # so many words that begin at one place on a screen make an edge
SAME = 3.0  # pixels


def light_of(code: np.ndarray | float) -> np.ndarray | float:
    return (np.asarray(code, float) / 255.0) ** 2.2


def mean_light(window: QWidget) -> float:
    return float(np.mean(light_of(_red(window.grab().toImage()))))


def _red(image: QImage) -> np.ndarray:
    plain = image.convertToFormat(QImage.Format.Format_RGB32)
    return np.frombuffer(bytes(plain.constBits()), np.uint8).reshape(-1, 4)[:, 2]


def step_of(share: float) -> int:
    """Give the step of brightness at which emphasis has about that share of full light."""
    return min(range(60), key=lambda at: abs(float(light_of(tones_at(at).emphasis)) - share))


class Edges:
    """Keeps where words that are written from the left begin, screen by screen."""

    def __init__(self) -> None:
        self.written: list[tuple[QWidget, float]] = []
        plain = lettering.write

        def write(
            painter: QPainter,
            box: QRectF,
            text: str,
            align: Qt.AlignmentFlag = Qt.AlignmentFlag.AlignLeft,
        ) -> float:
            wide = plain(painter, box, text, align)
            widget = painter.device()
            if isinstance(widget, QWidget) and align & Qt.AlignmentFlag.AlignLeft and text.strip():
                self.written.append((widget, box.left()))
            return wide

        for name, module in list(sys.modules.items()):
            if name.startswith("companion.window") and getattr(module, "write", None) is plain:
                module.write = write  # type: ignore[attr-defined]

    def of(self, window: MainWindow) -> set[float]:
        """Give the edges of right-hand columns on the screen that is up."""
        self.written.clear()
        window.grab()
        room = window.width()
        found = Counter[float]()
        for widget, left in self.written:
            at = widget.mapTo(window, QPointF(left, 0.0)).x()
            if ANYTHING_FROM * room < at < ANYTHING_TO * room and window.stage.isAncestorOf(widget):
                near = next((one for one in found if abs(one - at) <= SAME), at)
                found[near] += 1
        return {at for at, count in found.items() if count >= TIMES}


def smallest_text(window: QWidget) -> float:
    """Give the light of a caption's strokes as they are drawn now: the mean of its lit pixels."""
    words = lettering.Words(lettering.Size.CAPTION, Role.TEXT)
    words.set_scale(next(one.scale for one in window.findChildren(lettering.Words)))
    words.say("IN THE 32 MM")
    words.resize(words.sizeHint())
    lit = np.asarray(light_of(_red(words.grab().toImage())))
    return float(np.mean(lit[lit > 0.1 * lit.max()]))


def main() -> None:
    app = RedApplication(["light"])
    with tempfile.TemporaryDirectory() as home:
        person = Person(Path(home), app)
        window = person.window
        press(window, *"1", *["Space"] * 3, "5", "d", "Enter", "Esc")  # something in each list
        found, edges, all_edges = {}, None, list[float]()
        for name, key in SCREENS:
            press(window, key)
            pause(SETTLES_MS)
            found[name] = mean_light(window)
            edges = edges or Edges()
        assert edges is not None
        for name, key in SCREENS:
            press(window, key)
            pause(SETTLES_MS // 6)
            on = sorted(edges.of(window))
            new = [at for at in on if all(abs(at - one) > SAME for one in all_edges)]
            all_edges += new
            print(f"{name}: right-hand columns begin at {[round(at) for at in on]}")
        for name, light in sorted(found.items(), key=lambda pair: -pair[1]):
            print(f"{name}: mean light {light:.4f}, {light / found['sky']:.1f} of the sky's")
        print(f"{len(all_edges)} edges: {sorted(round(at) for at in all_edges)}")
        for _step in range(step_of(0.1)):
            window.do("dimmer")
        print(f"at 10% the smallest text has {smallest_text(window):.4f} of full light")
        person.leave()
    for share in (1.0, 0.1):
        tones = tones_at(step_of(share))
        names = [name for name in ("emphasis", "text", "quiet", "line") if hasattr(tones, name)]
        said = ", ".join(f"{name} {float(light_of(getattr(tones, name))):.4f}" for name in names)
        print(f"at {share:.0%}: {said}")


if __name__ == "__main__":
    main()
