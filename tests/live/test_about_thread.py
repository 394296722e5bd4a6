"""The thread behind a target's page: real ephemeris, asleep while nobody looks."""

from datetime import UTC, datetime

from pytestqt.qtbot import QtBot

from companion.instant import Choices
from companion.live import AboutThread
from companion.sky import LOON_BARRENS, load_catalogue

THEN = datetime(2026, 10, 18, 23, 14, tzinfo=UTC)


def test_a_page_comes_while_somebody_looks(qtbot: QtBot) -> None:
    catalogue = load_catalogue()
    vega, moon = catalogue.star(91262), catalogue.target("body:moon")
    thread = AboutThread(Choices(1, LOON_BARRENS, target=vega, preview_utc=THEN))
    try:
        with qtbot.waitSignal(thread.snapshot_ready, timeout=60_000) as told:
            thread.show(live=True)
        assert told.args[0].target.key == vega.key
        with qtbot.waitSignal(
            thread.snapshot_ready,
            timeout=60_000,
            check_params_cb=lambda page: page.target.key == moon.key,
        ):
            thread.look_at(moon)
        assert thread.target == moon
        # A new aim is what the page is about from then on.
        thread.choose(Choices(2, LOON_BARRENS, target=catalogue.star(97649), preview_utc=THEN))
        assert thread.target == catalogue.star(97649)
        thread.show(live=False)
    finally:
        thread.stop()
