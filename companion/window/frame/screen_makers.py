"""The screens of the window, each read and made only when somebody first goes there."""

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from companion.window.frame.screen import Screen
from companion.window.frame.sheets import Sheets
from companion.window.kit.motion import Motion

if TYPE_CHECKING:
    from companion.live import Evening


def own_screens(
    evening: "Evening", motion: Motion, sheets: Sheets
) -> Iterator[tuple[str, str, Callable[[], Screen]]]:
    """Give digit, word and maker of every screen."""

    def aim() -> Screen:
        from companion.window.aim.panel import AimPanel

        return AimPanel(evening, motion)

    def north() -> Screen:
        from companion.window.north.panel import NorthPanel

        return NorthPanel(evening, motion, sheets)

    def sky() -> Screen:
        from companion.window.sky.panel import SkyPanel

        return SkyPanel(evening, motion, sheets)

    def night() -> Screen:
        from companion.window.night.panel import NightPanel

        return NightPanel(evening, sheets)

    def mount() -> Screen:
        from companion.window.mount.panel import MountPanel

        return MountPanel(evening, sheets)

    def journal() -> Screen:
        from companion.window.journal.panel import JournalPanel

        return JournalPanel(evening, sheets)

    def place() -> Screen:
        from companion.window.place.panel import PlacePanel

        return PlacePanel(evening, sheets)

    makers = (aim, north, sky, night, mount, journal, place, *_later_screens(evening, sheets))
    for digit, make in enumerate(makers, start=1):
        yield str(digit), make.__name__, make
    yield _road_screen(evening, motion)
    yield _host_screen(evening, sheets)


def _later_screens(evening: "Evening", sheets: Sheets) -> tuple[Callable[[], Screen], ...]:
    """Give the makers of what is looked at besides the evening's own work."""

    def about() -> Screen:
        from companion.window.about.panel import AboutPanel

        return AboutPanel(evening)

    def events() -> Screen:
        from companion.window.coming.panel import ComingPanel

        return ComingPanel(evening, sheets)

    return about, events


def _road_screen(evening: "Evening", motion: Motion) -> tuple[str, str, Callable[[], Screen]]:
    """Give key, word and maker of the screen of the road; the digits are all taken."""

    def road() -> Screen:
        from companion.window.road.panel import RoadPanel

        return RoadPanel(evening, motion)

    return "F7", road.__name__, road


def _host_screen(evening: "Evening", sheets: Sheets) -> tuple[str, str, Callable[[], Screen]]:
    """Give key, word and maker of the screen of a host's evening."""

    def host() -> Screen:
        from companion.window.host.panel import HostPanel

        return HostPanel(evening, sheets)

    return "F8", host.__name__, host
