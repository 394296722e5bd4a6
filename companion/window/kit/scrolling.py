"""Which rows of a long list are in sight: it moves only as far as it must, or as the wheel says."""

from PySide6.QtGui import QWheelEvent

_NOTCH = 40  # of the wheel's eighths of a degree: three rows for a click of most mice


class Scrolling:
    """The first row in sight. A click never moves what is under the pointer."""

    def __init__(self) -> None:
        self._top = 0
        self._follows = True  # the chosen row is kept in sight, until the wheel goes elsewhere

    def follow(self) -> None:
        """Bring the chosen row back into sight."""
        self._follows = True

    def first(self, count: int, room: int, chosen: int) -> int:
        """Give the first row in sight, of so many with room for some."""
        top = min(self._top, max(0, count - room))
        if self._follows and 0 <= chosen < count:
            top = min(max(top, chosen - room + 1), chosen)
        self._top = max(0, top)
        return self._top

    def wheel(self, event: QWheelEvent, count: int, room: int) -> None:
        """Look at other rows without choosing one."""
        self._follows = False
        rows = -round(event.angleDelta().y() / _NOTCH)
        self._top = max(0, min(self._top + rows, count - room))
        event.accept()
