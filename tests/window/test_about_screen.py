"""The screen of a target, over real pages: picture, words, facts, all of it red."""

from datetime import UTC, datetime

import pytest
from pytestqt.qtbot import QtBot

from companion.about import About, AboutQuestion, about
from companion.night import Conditions, find_instrument
from companion.sky import LOON_BARRENS, Ephemeris, load_search
from companion.window.about.panel import AboutPanel
from companion.window.frame.keys import ABOUT
from window.conftest import Windows
from window.fakes import FakeEvening
from window.purity import lit, stained

UTC_NOW = datetime(2026, 10, 18, 23, 14, tzinfo=UTC)


def page_of(name: str, instrument: str = "150") -> About:
    ephemeris = Ephemeris.load()
    try:
        return about(
            ephemeris,
            AboutQuestion(
                load_search().resolve(name),
                LOON_BARRENS,
                UTC_NOW,
                find_instrument(instrument),
                Conditions(),
            ),
        )
    finally:
        ephemeris.close()


@pytest.mark.parametrize(
    ("name", "fact"),
    [("moon", "Libration"), ("saturn", "Ring"), ("jupiter", "Central meridian"),
     ("albireo", "Pair"), ("algol", "Now about"),
     ("algol", "To compare, 9.3° north"), ("m 31", "True size"), ("venus", "Lit"),
     ("uranus", "Nearest of them"),
     ("vega", "Spectral class")],
)  # fmt: skip
def test_a_page_is_drawn(make_window: Windows, qtbot: QtBot, name: str, fact: str) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    page = page_of(name)
    evening.pages.target = page.target
    window.go_to(ABOUT)
    assert evening.pages.live
    evening.pages.tell(page)
    panel = window.stage.shown
    assert isinstance(panel, AboutPanel)
    assert panel.name.text == page.target.name
    assert page.says[-1] in panel.says.text
    captions = [one.caption for column in panel.facts for one in column.facts]
    assert fact in captions
    assert bool(panel.attention.notice.caution) == bool(page.caution)
    picture = window.grab()
    assert stained(picture) == 0
    assert lit(panel.drawing.grab()) > 200
    window.go_to("aim")
    assert not evening.pages.live


def test_the_coming_evenings_of_the_moon_stand_beside_its_facts(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    page = page_of("moon")
    evening.pages.target = page.target
    window.go_to(ABOUT)
    evening.pages.tell(page)
    panel = window.stage.shown
    assert isinstance(panel, AboutPanel)
    lines = panel.coming.text.split("\n")
    assert page.moon is not None
    edges = [one.terminator for one in page.moon.coming if one.terminator is not None]
    assert sum("°" in line for line in lines) == len(edges) > 0
    assert panel.coming.isVisible()
    assert panel.coming.height_for(panel.coming.width()) <= panel.coming.height()
    assert not panel.facts[1].isVisible()
    page = page_of("vega")
    evening.pages.target = page.target
    evening.pages.tell(page)
    assert not panel.coming.isVisible()
    assert panel.facts[1].isVisible()


def test_without_a_target_it_says_what_to_do(make_window: Windows) -> None:
    window = make_window(FakeEvening())
    window.go_to(ABOUT)
    panel = window.stage.shown
    assert isinstance(panel, AboutPanel)
    assert panel.attention.notice.head == "No target is chosen."


def test_a_late_page_of_another_target_is_not_shown(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    evening.pages.target = page_of("vega").target
    window.go_to(ABOUT)
    evening.pages.snapshot_ready.emit(page_of("m 31"))
    panel = window.stage.shown
    assert isinstance(panel, AboutPanel)
    assert panel.page is None
    assert panel.name.text == "Vega"


def test_a_small_window_keeps_the_words(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening, (560, 400))
    page = page_of("saturn")
    evening.pages.target = page.target
    window.go_to(ABOUT)
    evening.pages.tell(page)
    panel = window.stage.shown
    assert isinstance(panel, AboutPanel)
    assert not panel.drawing.isVisible()
    assert panel.says.isVisible()
