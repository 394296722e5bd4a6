"""Stories played by keys on the real window: real threads, real journal, nothing faked.

Each begins under the demo's sky with four targets waiting. ``keys`` are pressed one after the
other; text in quotes is typed. What the journal holds afterwards is read from the file.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from companion.instant import DEMO_UTC
from companion.journal import FILE_NAME, EveningState, Journal, Outcome, Settings, ticks
from companion.live import WOODEN, Evening, Message
from companion.sky import LOON_BARRENS, load_catalogue
from companion.window import MainWindow, RedApplication
from companion.window.aim.panel import AimPanel
from window.hands import pause, press
from window.note_stories import play_notes

QUEUE = ("hip:91262", "hip:97649", "ngc:NGC0224", "body:saturn")  # Vega, Altair, M 31, Saturn
NAMES = ("Vega", "Altair", "M 31", "Saturn")
PATIENCE_MS = 120_000
BREATH_MS = 120


@dataclass(frozen=True)
class Story:
    """Keys, what the window aims at in the end, and what became of the targets by name."""

    name: str
    keys: str
    aim: str | None = None
    outcomes: dict[str, Outcome] = field(default_factory=dict)
    order: tuple[str, ...] | None = None
    notes: dict[str, str] = field(default_factory=dict)
    screen: str | None = None  # the class of the screen that is up


FOUND, NOT_SEEN, SKIPPED = Outcome.FOUND, Outcome.NOT_SEEN, Outcome.SKIPPED
STORIES = (
    Story("found, and the next one comes", "Space", "Altair", {"Vega": FOUND}),
    Story("two found", "Space Space", "M 31", {"Vega": FOUND, "Altair": FOUND}),
    Story("looked but not seen", "n", "Altair", {"Vega": NOT_SEEN}),
    Story("skipped", "k", "Altair", {"Vega": SKIPPED}),
    Story("all four, each its own way", "Space n k Space", None,
          {"Vega": FOUND, "Altair": NOT_SEEN, "M 31": SKIPPED, "Saturn": FOUND}),
    Story("taken back", "Space z", "Vega", {}),
    Story("taken back and brought again", "Space z Z", None, {"Vega": FOUND}),
    Story("two steps back", "Space n z z", "Vega", {}),
    Story("later goes behind", "l", "Altair", {}, ("Altair", "M 31", "Saturn", "Vega")),
    Story("later twice", "l l", "M 31", {}, ("M 31", "Saturn", "Vega", "Altair")),
    Story("another row", "Down Down", "M 31"),
    Story("up from the top stays", "Up", "Vega"),
    Story("to the end", "End", "Saturn"),
    Story("found out of turn", "Down Down Space", None, {"M 31": FOUND}),
    Story("moved down", "Alt+Down", "Vega", {}, ("Altair", "Vega", "M 31", "Saturn")),
    Story("moved down and up again", "Alt+Down Alt+Up", "Vega", {}, NAMES),
    Story("taken out", "Delete", None, {}, ("Altair", "M 31", "Saturn")),
    Story("taken out and back", "Delete z", None, {}, NAMES),
    Story("a slip mended", "Space Up n", None, {"Vega": NOT_SEEN}),
    Story("around the screens", "2 3 4 5 6 7 1", "Vega", screen="AimPanel"),
    Story("north", "2", "Vega", screen="NorthPanel"),
    Story("the mount", "5", "Vega", screen="MountPanel"),
    Story("found from the sky", "3 Space", "Altair", {"Vega": FOUND}, screen="SkyPanel"),
    Story("not seen from the sky", "3 n", "Altair", {"Vega": NOT_SEEN}, screen="SkyPanel"),
    Story("help comes and goes", "? Esc Space", "Altair", {"Vega": FOUND}),
    Story("search and aim", "/ 'm 13' WAIT Enter", "M 13", {},
          ("Vega", "M 13", "Altair", "M 31", "Saturn")),
    Story("search for nothing and leave", "/ 'xyzzyq' WAIT Esc", "Vega", {}, NAMES),
    Story("search a number", "/ 'ngc 7662' WAIT Enter", "NGC 7662"),
    Story("search, add, find it", "/ 'm 13' WAIT Enter WAIT Space", None, {"M 13": FOUND}),
    Story("a lead and a find", "a '30' Enter Space", "Altair", {"Vega": FOUND}),
    Story("dimmed and brightened", "[ [ ] Space", "Altair", {"Vega": FOUND}),
    Story("sorted by time left", "O Space", None, {}),
    Story("found on a night full of keys", "2 1 3 1 Down Up Space 6 1", "Altair", {"Vega": FOUND}),
    Story("a note on what waits", "w 'flickers' Enter", "Vega", {}, notes={"Vega": "flickers"}),
    Story("a note right after the tick is about it", "Space w 'white' Enter", "Altair",
          {"Vega": FOUND}, notes={"Vega": "white"}),
    Story("a note on the one aimed at, after a tick", "Space w Down 'yellow' Enter", "Altair",
          {"Vega": FOUND}, notes={"Altair": "yellow"}),
    Story("a note before the tick stays", "w 'steady' Enter Space", "Altair", {"Vega": FOUND},
          notes={"Vega": "steady"}),
    Story("two notes", "w 'one' Enter w 'two' Enter", "Vega", {}, notes={"Vega": "one two"}),
    Story("a note taken back", "w 'slip' Enter z", "Vega", {}, notes={}),
    Story("found again keeps mark and note", "Space w 'white' Enter Up Space", "Altair",
          {"Vega": FOUND}, notes={"Vega": "white"}),
    Story("another outcome keeps the note", "Space w 'white' Enter Up n", "Altair",
          {"Vega": NOT_SEEN}, notes={"Vega": "white"}),
    Story("a line for the night", ". 'an aurora begins' Enter", "Vega", {},
          notes={"": "an aurora begins"}),
    Story("a note from the sky", "3 w 'low' Enter", "Vega", {}, notes={"Vega": "low"},
          screen="SkyPanel"),
    Story("a line for the night from the sky", "3 . 'clouds' Enter", "Vega", {},
          notes={"": "clouds"}, screen="SkyPanel"),
)  # fmt: skip


class Person:
    """Somebody at the keys of a real window."""

    def __init__(
        self, home: Path, app: RedApplication, size: tuple[int, int] = (1366, 768)
    ) -> None:
        self.home = home
        self.evening = Evening(home, Settings(), site=LOON_BARRENS, demo_utc=DEMO_UTC)
        self.window = MainWindow(self.evening, app.brightness, full_screen=False)
        self.window.painted_first.connect(self.evening.start)
        self.window.resize(*size)
        self.window.show_first()
        catalogue = load_catalogue()
        self.wait(lambda: self.evening.latest is not None)
        self.evening.queue.add_all([catalogue.target(key) for key in QUEUE])
        self.wait(lambda: len(self.evening.queue.items) == len(QUEUE))
        self.wait(lambda: self.aim == "Vega")

    @property
    def aim(self) -> str | None:
        """What the newest numbers are for."""
        latest = self.evening.latest
        return None if latest is None or latest.aim is None else latest.aim.target.name

    def wait(self, holds: Callable[[], bool]) -> None:
        """Wait as a person does, with an end to patience."""
        waited = 0
        while not holds():
            assert waited < PATIENCE_MS, "nothing came"
            pause(20)
            waited += 20
        pause(BREATH_MS)

    def play(self, keys: str) -> None:
        """Press the keys of a story."""
        for key in keys.split("'", maxsplit=1)[0].split():
            self._press(key)
        if "'" in keys:
            _before, typed, rest = keys.split("'", 2)
            press(self.window, *typed)
            pause(BREATH_MS)
            self.play(rest)

    def _press(self, key: str) -> None:
        if key == "WAIT":
            pause(2500)  # the names are read once, in another thread
            return
        press(self.window, " " if key == "Space" else key)
        pause(BREATH_MS)
        self.wait(lambda: self.evening.queue._follow is None)

    def leave(self) -> EveningState:
        """Close the window, then read what the file holds."""
        self.window.close()
        night = self.evening.clock.night
        assert not self.evening.close().words
        journal = Journal(self.home / FILE_NAME)
        state = journal.evening(night)
        journal.close()
        return state


@pytest.fixture
def person(tmp_path: Path, qapp: RedApplication, qtbot: QtBot) -> Iterator[Person]:
    qapp.brightness.move(-99)  # an earlier story may have dimmed the application
    somebody = Person(tmp_path, qapp)
    qtbot.addWidget(somebody.window)
    yield somebody
    somebody.evening.close()


def test_there_are_thirty_stories() -> None:
    assert len({story.name for story in STORIES}) >= 30


@pytest.mark.parametrize("story", STORIES, ids=lambda story: story.name)
def test_a_story_ends_as_it_should(person: Person, story: Story) -> None:
    person.play(story.keys)
    if story.aim is not None:
        person.wait(lambda: person.aim == story.aim)
    if story.screen is not None:
        assert type(person.window.stage.shown).__name__ == story.screen
    assert not [m.text for m in person.evening.messages.current if m.severity.value == "error"]
    state = person.leave()
    became = {e.name: e.outcome for e in state.queue if e.outcome is not Outcome.WAITING}
    if story.name != "sorted by time left":
        assert became == story.outcomes
    else:
        assert list(became.values()) == [FOUND]
    noted: dict[str, str] = {}
    for remark in state.remarks:
        noted[remark.name] = f"{noted.get(remark.name, '')} {remark.text}".strip()
    assert noted == story.notes
    if story.order is not None:
        assert tuple(entry.name for entry in state.queue) == story.order


def test_a_sighting_is_of_the_moment_of_its_key_however_long_the_readings_take(
    person: Person,
) -> None:
    person.evening.mounts.choose(WOODEN)
    person.play("s")
    latest = person.evening.latest
    assert latest is not None
    pause(3000)  # the fingers are cold
    person.play("'69.5' Enter '261' Enter")
    person.wait(lambda: bool(person.evening.choices.sightings))
    (sighting,) = person.evening.choices.sightings
    assert abs((sighting.utc - latest.utc).total_seconds()) < 1.5
    person.wait(lambda: any("Sighting of Vega kept" in m.text for m in messages(person)))


def test_what_was_kept_is_said(person: Person) -> None:
    person.play("Space w 'white' Enter")
    person.wait(lambda: any("Note kept with Vega, 20:14" in m.text for m in messages(person)))


def messages(person: Person) -> tuple[Message, ...]:
    return person.evening.messages.current


def test_nothing_is_written_while_another_time_is_looked_at(person: Person) -> None:
    person.evening.clock.set_preview(DEMO_UTC)
    press(person.window, " ")
    person.wait(lambda: any("another time" in m.text for m in person.evening.messages.current))
    state = person.leave()
    assert all(entry.outcome is Outcome.WAITING for entry in state.queue)


def test_a_mark_holds_where_the_tube_points_now_and_what_was_looked_through(
    person: Person,
) -> None:
    (scope, *_others) = person.evening.instruments.known
    person.evening.instruments.choose(scope)
    person.evening.clock.set_lead(600.0)
    person.wait(lambda: _lead(person) > 0.0)
    aim = person.evening.latest.aim if person.evening.latest else None
    assert aim is not None
    assert abs(aim.altitude_deg - aim.now_deg[1]) > 0.5
    press(person.window, " ")
    person.wait(lambda: person.aim == "Altair")
    person.leave()
    journal = Journal(person.home / FILE_NAME)
    (tick,) = ticks(journal)
    journal.close()
    assert tick.instrument == scope.name
    assert tick.altitude_deg is not None
    assert abs(tick.altitude_deg - aim.now_deg[1]) < 0.2


def test_a_fast_tick_after_a_sort_is_followed(person: Person) -> None:
    first = person.aim
    assert first is not None
    press(person.window, "O")
    press(person.window, " ")  # before the sorted rows are back from the disk
    person.wait(lambda: person.aim not in {None, first})
    state = person.leave()
    assert {e.name for e in state.queue if e.outcome is Outcome.FOUND} == {first}


def test_taking_the_order_aims_at_its_first(person: Person) -> None:
    person.play("4 o")
    night = person.evening.night
    person.wait(lambda: night.order is not None and bool(night.order.order.stops))
    assert night.order is not None
    first, *others = night.order.order.stops
    person.evening.queue.choose(others[-1].target.key)
    person.wait(lambda: person.aim == others[-1].target.name)
    press(person.window, "Enter")
    person.wait(lambda: night.accepted and person.aim == first.target.name)
    press(person.window, "1", " ")
    person.wait(lambda: person.aim == others[0].target.name)
    state = person.leave()
    assert [e.name for e in state.queue if e.outcome is Outcome.FOUND] == [first.target.name]


def test_the_eyepiece_that_is_in_is_written_with_what_is_found(person: Person) -> None:
    press(person.window, "e")  # without a telescope there is none to tell
    scope = next(one for one in person.evening.instruments.known if one.eyepieces)
    person.evening.instruments.choose(scope)
    first, second = (one.name for one in scope.eyepieces[:2])
    person.play("e e")
    person.wait(lambda: f"IN THE {second.upper()}" in _captions(person))
    assert any(hint.word == f"in: {second}" for hint in person.window.hints.hints)
    person.play("Space")
    person.evening.instruments.choose(None)
    person.play("Space")
    person.wait(lambda: person.aim == "M 31")
    person.leave()
    journal = Journal(person.home / FILE_NAME)
    written = [(tick.instrument, tick.eyepiece) for tick in ticks(journal)]
    journal.close()
    assert written == [(scope.name, second), ("", "")]
    assert first != second


def _captions(person: Person) -> list[str]:
    panel = person.window.stage.shown
    assert isinstance(panel, AimPanel)
    return [fact.caption for fact in panel.face.facts.facts]


def test_after_a_sighting_the_turn_begins_at_what_was_sighted(person: Person) -> None:
    person.evening.mounts.choose(WOODEN)
    person.play("Down")
    person.wait(lambda: person.aim == "Altair")
    person.play("s '45' Enter '230' Enter")
    person.wait(lambda: len(person.evening.choices.sightings) == 1)
    person.play("Down")
    person.wait(lambda: person.aim == "M 31")
    latest = person.evening.latest
    assert latest is not None
    assert latest.aim is not None
    assert latest.aim.turn is not None
    assert latest.aim.turn.from_name == "Altair"


def _lead(person: Person) -> float:
    latest = person.evening.latest
    return 0.0 if latest is None or latest.aim is None else latest.aim.lead_s


def test_brightness_screen_and_target_survive_a_restart(
    person: Person, qapp: RedApplication
) -> None:
    person.play("Down [ [ 3")
    person.window.resize(900, 640)
    person.leave()
    journal = Journal(person.home / FILE_NAME)
    left = journal.settings()
    journal.close()
    assert (left.brightness_step, left.screen, left.target) == (2.0, "sky", "hip:97649")
    assert left.window_size == (900.0, 640.0)
    qapp.brightness.move(-99)
    again = Evening(person.home, left, site=LOON_BARRENS, demo_utc=DEMO_UTC)
    window = MainWindow(again, qapp.brightness, full_screen=False)
    window.painted_first.connect(again.start)
    window.show_first()
    person.wait(lambda: again.choices.target is not None)
    assert again.choices.target is not None
    assert again.choices.target.name == "Altair"
    assert window.stage.shown.word == "sky"
    window.close()
    again.close()
    window.deleteLater()


def test_no_note_is_lost_in_random_stories(person: Person) -> None:
    typed = play_notes(person.window, 8, seed=7)
    assert len(typed) > 10
    pause(500)
    state = person.leave()
    assert sorted(remark.text for remark in state.remarks) == sorted(typed)
