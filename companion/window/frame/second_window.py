"""The window for guests, beside the host's: on a second screen where there is one."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QRect, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent
from PySide6.QtWidgets import QWidget

if TYPE_CHECKING:
    from companion.live import Evening
    from companion.window.host.guest_page import GuestPage

_SHARE = 0.7  # of the screen, where there is only one


class SecondWindow(QObject):
    """Opens and closes the page for guests; what it shows is kept by the model."""

    pressed = Signal(QKeyEvent)  # a key that belongs to the host's window

    def __init__(self, evening: "Evening", host: QWidget) -> None:
        super().__init__(host)
        self._evening, self._host = evening, host
        self.page: GuestPage | None = None

    def turn(self) -> None:
        """Open the page, or close it."""
        if self.page is not None and self.page.isVisible():
            self.page.close()
        else:
            self._open()

    def close(self) -> None:
        """Close it for good, with the host's window."""
        if self.page is not None:
            self.page.close()
            self.page.deleteLater()
            self.page = None

    def _open(self) -> None:
        from companion.window.host.guest_page import GuestPage

        if self.page is None:
            self.page = GuestPage(self._evening)
            self.page.pressed.connect(self.pressed)
        room = self._other_screen()
        self.page.follow()
        if room is None:
            self.page.setGeometry(self._beside())
            self.page.show()
        else:
            self.page.setGeometry(room)
            self.page.showFullScreen()
            self._host.activateWindow()  # the keys stay with the host
        self.page.raise_()

    def _other_screen(self) -> QRect | None:
        own = self._host.screen()
        return next((one.geometry() for one in QGuiApplication.screens() if one is not own), None)

    def _beside(self) -> QRect:
        """Give a place on the only screen: lower right, so that the host's window shows."""
        room = self._host.screen().availableGeometry()
        wide, high = round(room.width() * _SHARE), round(room.height() * _SHARE)
        return QRect(room.right() - wide + 1, room.bottom() - high + 1, wide, high)
