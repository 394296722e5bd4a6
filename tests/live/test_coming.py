"""What comes, kept in step with clock and site; the answers are fixed, the thread is real."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot
from window.coming_fakes import AURORA, events

from companion.events import KeptElements
from companion.instant import DEMO_UTC
from companion.journal import Settings
from companion.live import (
    AuroraQuestion,
    Coming,
    ComingQuestion,
    ComingView,
    Evening,
    Reach,
)
from companion.sky import DRY_PAN, LOON_BARRENS

CERES = (  # the Minor Planet Center's format, from memory
    "00001    3.34  0.15 K24AH 188.70269   73.27343   80.25221   10.58780  0.0794013  0.21424651"
    "   2.7660512  0 E2024-V47  7258 123 1801-2024 0.80 M-v 30k MPCLINUX   4000      (1) Ceres"
    "              20241101"
)


class Works:
    """Answers at once, and keeps what it was asked."""

    def __init__(self) -> None:
        self.asked: list[ComingQuestion] = []
        self.kp: list[float | None] = []

    def answer(self, question: object, progress: Callable[[float], bool]) -> object:
        assert progress(0.5)
        if isinstance(question, AuroraQuestion):
            self.kp.append(question.kp)
            return replace(AURORA, kp=question.kp)
        assert isinstance(question, ComingQuestion)
        self.asked.append(question)
        return ComingView(question, events(question.first), ())

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


def test_kp_that_was_typed_is_worked_out_and_is_old_after_three_hours(
    coming: Coming, works: Works, evening: Evening, qtbot: QtBot
) -> None:
    coming.kp.type_in("5+")
    qtbot.waitUntil(lambda: coming.kp.look is not None)
    assert works.kp == [pytest.approx(16 / 3)]
    said = coming.kp.held
    assert said is not None
    assert not said.of_file
    evening.clock.set_preview(DEMO_UTC + timedelta(hours=4))
    assert coming.kp.held is None
    assert coming.kp.outdated
    coming.refresh()
    qtbot.waitUntil(lambda: works.kp[-1] is None)


def test_a_file_of_kp_is_followed_through_the_night(
    evening: Evening, qtbot: QtBot, tmp_path: Path
) -> None:
    file = tmp_path / "kp.txt"
    day = DEMO_UTC.replace(hour=21, minute=0)
    lines = [f"{day + timedelta(hours=3 * at):%Y-%m-%dT%H:%M},{3 + at}" for at in range(3)]
    file.write_text("\n".join(lines))
    evening.coming.read_file(str(file))
    qtbot.waitUntil(lambda: evening.coming.kp.look is not None, timeout=60_000)
    said = evening.coming.kp.held
    assert said is not None
    assert (said.kp, said.of_file) == (3.0, True)
    evening.clock.set_preview(day + timedelta(hours=4))
    evening.coming.kp.refresh()
    assert evening.coming.kp.held is not None
    assert evening.coming.kp.held.kp == 4.0
    assert "Kp of" in evening.messages.current[-1].text


def test_elements_read_in_the_window_become_targets(
    evening: Evening, qtbot: QtBot, tmp_path: Path
) -> None:
    file = tmp_path / "bodies.txt"
    file.write_text(f"{CERES}\nclouds all night\n")
    evening.coming.read_file(str(file))
    qtbot.waitUntil(
        lambda: any("Elements: 1 kept" in one.text for one in evening.messages.current),
        timeout=60_000,
    )
    assert "refused" in evening.messages.current[-1].text
    assert KeptElements(tmp_path).called("Ceres")


def test_a_file_that_holds_nothing_is_refused_and_what_was_known_stays(
    evening: Evening, qtbot: QtBot, tmp_path: Path
) -> None:
    file = tmp_path / "nothing.txt"
    file.write_text("clouds all night\n")
    evening.coming.kp.type_in("4")
    evening.coming.read_file(str(file))
    qtbot.waitUntil(lambda: bool(evening.messages.current), timeout=60_000)
    assert "neither elements nor Kp" in evening.messages.current[-1].text
    assert evening.coming.kp.held is not None


@pytest.mark.slow
def test_the_real_thread_answers_a_month(evening: Evening, qtbot: QtBot) -> None:
    evening.coming.refresh()
    qtbot.waitUntil(lambda: evening.coming.view is not None, timeout=120_000)
    view = evening.coming.view
    assert view is not None
    assert len(view.events) > 20
    assert len(view.days) == 31
