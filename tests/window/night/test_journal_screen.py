"""The journal's screen: what it counts and lists, and what of a long one is read."""

from dataclasses import replace

import pytest
from window.conftest import Windows
from window.facts import QUEUE, SATURN
from window.fakes import FakeEvening
from window.hands import press
from window.night_fakes import FakeNights, tick

from companion.journal import Entry, Held, Lifetime, Night, Outcome, SeenTarget
from companion.live import FileKind
from companion.window import MainWindow
from companion.window.journal.panel import JournalPanel


def journal_of(window: MainWindow) -> JournalPanel:
    panel = window.stage.shown
    assert isinstance(panel, JournalPanel)
    return panel


def test_the_journal_counts_and_lists(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    press(window, "6")
    panel = journal_of(window)
    assert evening.nights.told[0] == ("refresh",)
    assert panel.about.text == "2 nights · 6 found · 6 different"
    first, second, *_rest = panel.nights.rows
    assert first.below == "Messier 1 of 1 · Caldwell 0 of 0"
    assert (second.name, second.right) == ("10 October 2026", "3 found · 3 not seen")
    press(window, "Down")
    assert panel.ticks.rows[0].lead == "20:14"
    assert {row.outcome for row in panel.ticks.rows} == {Outcome.FOUND, Outcome.NOT_SEEN}
    press(window, "Right", "Down", "Enter")
    assert evening.told[-1] == ("add", QUEUE[2], False)
    press(window, "Left", "Up")
    assert panel.nights.chosen == 0


@pytest.mark.parametrize(
    ("steps", "kind"), [(0, FileKind.TABLE), (1, FileKind.LINES), (2, FileKind.PAGE)]
)
def test_the_journal_is_written_as_what_is_chosen(
    make_window: Windows, steps: int, kind: FileKind
) -> None:
    evening = FakeEvening()
    press(make_window(evening), "6", "P", *["Down"] * steps, "Enter")
    assert evening.nights.told[-1] == ("write", kind)


def test_of_a_long_journal_only_what_is_in_sight_is_read(make_window: Windows) -> None:
    evening = FakeEvening()
    held = tuple(Held(number, f"own:{number}", Outcome.FOUND) for number in range(30_000))
    nights = Night("2026-10-10", len(held)), Night("2026-09-12")
    many = Lifetime(
        nights, {"2026-10-10": held, "2026-09-12": ()}, tuple(SeenTarget(one, 2) for one in held)
    )
    known: dict[Held, Entry | None] = dict.fromkeys(held)
    for one in held[::2]:
        known[one] = tick(one.number, SATURN, "2026-10-10", Outcome.FOUND, "")
    asked: list[Held] = []
    evening.nights = FakeNights(replace(many, whole=False), known)
    evening.nights.load = asked.extend  # type: ignore[method-assign, assignment]
    window = make_window(evening)
    press(window, "6")
    panel = journal_of(window)
    assert panel.about.text.startswith("one night · 30,000 found")
    assert panel.about.text.endswith("so far · older nights are being read")
    evening.nights.view = many
    evening.nights.changed.emit()
    assert "read" not in panel.about.text
    press(window, "Right", *["PageDown"] * 20)
    assert panel.ticks.chosen == 200
    assert len(set(asked)) < 500
    assert held[200] in asked
    assert held[29_000] not in asked
    assert panel.ticks.rows[200].name == SATURN.name
    assert panel.ticks.rows[201].below == "This entry cannot be read."
    press(window, "Enter")
    assert evening.told[-1] == ("add", SATURN, False)
