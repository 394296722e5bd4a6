"""Frame times of the charts at 1920 by 1080 while panning, with all stars loaded.

Run ``xvfb-run -a python tests/benchmarks/chart_frames.py`` or with ``QT_QPA_PLATFORM=offscreen``.
Each frame pans by a hundredth of the view and is rendered whole, the red guard's mask included,
beside a bare widget of the same size that is filled black and masked.
"""

import statistics
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtCore import QPoint
from PySide6.QtGui import QImage, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))  # for ``window.sky_fakes``

from window.sky_fakes import sky_of

from companion.charts import ChartKind
from companion.window import RedApplication
from companion.window.kit.motion import Motion
from companion.window.kit.type_scale import TypeScale
from companion.window.sky.chart import Chart

FRAMES = 120
WIDTH, HEIGHT = 1920, 1080


class Bare(QWidget):
    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        QPainter(self).fillRect(self.rect(), 0)


def frames_ms(widget: QWidget, move: Callable[[int], None]) -> list[float]:
    image = QImage(WIDTH, HEIGHT, QImage.Format.Format_RGB32)
    times: list[float] = []
    for at in range(FRAMES):
        start = time.perf_counter()
        move(at)
        widget.render(image, QPoint(0, 0))
        times.append((time.perf_counter() - start) * 1000.0)
    return times


def said(name: str, times: list[float], base: float) -> str:
    median, p95 = statistics.median(times), statistics.quantiles(times, n=20)[-1]
    return f"{name}: median {median:.1f} ms, p95 {p95:.1f} ms, ratio to bare {median / base:.1f}"


def main() -> None:
    app = RedApplication(["chart_frames"])
    bare = Bare()
    bare.resize(WIDTH, HEIGHT)
    base = statistics.median(frames_ms(bare, lambda _at: None))
    print(f"bare black widget: median {base:.1f} ms")
    motion = Motion()
    chart = Chart(motion)
    chart.set_scale(TypeScale(1.0))
    chart.resize(WIDTH, HEIGHT)
    at = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
    sky = sky_of("ngc:NGC6205", at, borders=False)
    print(f"{len(sky.stars)} stars loaded")
    chart.show_sky(sky)

    def move(at: int) -> None:
        chart.pan(0.01 if at < FRAMES / 2 else -0.01, 0.0)
        motion.settle()

    for kind in ChartKind:
        chart.choose(kind)
        motion.settle()
        print(said(kind.value, frames_ms(chart, move), base))
    chart.choose(ChartKind.WHOLE)
    chart.show_sky(sky_of("ngc:NGC6205", at))
    print(said("whole sky with borders", frames_ms(chart, move), base))
    app.quit()


if __name__ == "__main__":
    main()
