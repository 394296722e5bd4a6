"""What comes, kept in step with clock and site; the answers are fixed, the thread is real."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot
from window.coming_fakes import AURORA, events

from companion.instant import DEMO_UTC
from companion.journal import Settings
from companion.live import Coming, ComingQuestion, ComingView, Evening, Reach
from companion.sky import DRY_PAN, LOON_BARRENS


class Works:
    """Answers at once, and keeps what it was asked."""

    def __init__(self) -> None:
        self.asked: list[ComingQuestion] = []

    def answer(self, question: ComingQuestion, progress: Callable[[float], bool]) -> ComingView:
        assert progress(0.5)
        self.asked.append(question)
        return ComingView(question, events(question.first), (), AURORA)

    def close(self) -> None:
        pass


@pytest.fixture
def evening(tmp_path: Path, qapp: object) -> Iterator[Evening]:
    evening = Evening(tmp_path, Settings(), site=LOON_BARRENS, demo_utc=DEMO_UTC)
    yield evening
    evening.close()


@pytest.fixture
def works() -> Works:
    return Works()


@pytest.fixture
def coming(evening: Evening, works: Works, tmp_path: Path) -> Iterator[Coming]:
    made = Coming(
        evening._choices, evening.clock, evening.messages, evening._catalogues, tmp_path,
        load=lambda: works,
    )  # fmt: skip
    yield made
    made.stop()


def test_it_is_asked_once_until_the_site_changes(
    coming: Coming, works: Works, evening: Evening, qtbot: QtBot
) -> None:
    coming.refresh()
    qtbot.waitUntil(lambda: coming.view is not None)
    coming.refresh()
    evening._choices.change(replace(evening.choices, site=DRY_PAN))
    coming.refresh()
    qtbot.waitUntil(lambda: len(works.asked) == 2)
    assert [one.site for one in works.asked] == [LOON_BARRENS, DRY_PAN]


def test_further_ahead_is_asked_for_when_it_is_wanted(
    coming: Coming, works: Works, qtbot: QtBot
) -> None:
    coming.refresh()
    qtbot.waitUntil(lambda: coming.view is not None)
    assert [event.title for event in coming.events()][:1] == ["Moon and Saturn, 2.4° apart"]
    assert len(coming.events()) == 2  # this night
    coming.set_reach(Reach.MONTH)
    assert len(works.asked) == 1
    assert len(coming.events()) == 4
    coming.set_reach(Reach.YEAR)
    qtbot.waitUntil(lambda: len(works.asked) == 2)
    assert works.asked[1].last - works.asked[1].first > timedelta(days=365)


def test_what_begins_within_minutes_is_told_until_it_is_put_off(
    coming: Coming, qtbot: QtBot
) -> None:
    coming.refresh()
    qtbot.waitUntil(lambda: coming.view is not None)
    assert coming.soon is not None
    assert coming.soon.title == "Moon and Saturn, 2.4° apart"
    coming.put_off()
    assert coming.soon is None


def test_kp_is_asked_with_the_rest(coming: Coming, works: Works, qtbot: QtBot) -> None:
    coming.type_kp("5+")
    qtbot.waitUntil(lambda: bool(works.asked))
    assert works.asked[0].kp == pytest.approx(16 / 3)


@pytest.mark.slow
def test_the_real_thread_answers_a_month(evening: Evening, qtbot: QtBot) -> None:
    evening.coming.refresh()
    qtbot.waitUntil(lambda: evening.coming.view is not None, timeout=120_000)
    view = evening.coming.view
    assert view is not None
    assert len(view.events) > 20
    assert len(view.days) == 31
