"""Garbage is looked for in the window's thread alone."""

import gc

from PySide6.QtCore import QObject, QTimer

_EVERY_MS = 1000


class Collector(QObject):
    """Has Python's collector run here, as often as it would have run by itself.

    By itself it runs in whichever thread happens to make an object. What it finds may be Qt's, and
    that must go in the thread it belongs to. Whatever is there already is never looked through
    again: nearly all of it stays until the end.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        gc.disable()
        gc.freeze()
        self._timer = QTimer(self, interval=_EVERY_MS)
        self._timer.timeout.connect(self.look)
        self._timer.start()

    def look(self) -> None:
        """Collect the oldest generation whose count is over its threshold, if any is."""
        due = [
            generation
            for generation, (count, most) in enumerate(
                zip(gc.get_count(), gc.get_threshold(), strict=True)
            )
            if count > most > 0
        ]
        if due:
            gc.collect(due[-1])
