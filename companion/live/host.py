"""A host's evening as it goes on: the program, what is shown now, and what comes next."""

from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from companion.advice import AdviceError
from companion.finding import Instrument
from companion.journal import Outcome
from companion.live.clock import EveningClock
from companion.live.current_choices import CurrentChoices
from companion.live.host_memory import HostMemory
from companion.live.host_questions import HostQuestion, HostWishes, Showing, request_of
from companion.live.instruments import Instruments
from companion.live.messages import Messages, Severity
from companion.live.queue import Queue
from companion.live.threads.catalogue_thread import CatalogueThread, Library
from companion.live.threads.journal_thread import JournalThread
from companion.sky import Target

if TYPE_CHECKING:  # they bring numpy, which the first frame does not wait for
    from companion.charts import SheetSky
    from companion.road import Program, Sheet, Stop

_PROGRAM, _NOW, _OPEN = "host's evening", "host's target", "open sky"
_KEPT = "host's evening before"
_SHEET = "print"  # as the other pages: the later one counts
_STALE = timedelta(minutes=1)  # then the sky has turned by a finger's width where it turns fast
_NOTHING_OPEN = (
    "Nothing of the evening stands well in another part of the sky: wait, or show by eye what is "
    "left between the clouds."
)
_ANOTHER_TIME = (
    "Nothing was written: another time is shown. Shift T comes back to now, then tell what was "
    "found."
)
_NO_PROGRAM = "There is no evening yet: enter works one out."
_LAST = "That was the last one. Thank them, and mind the cables on the way."


class HostModel(QObject):
    """Holds the evening, whoever looks at it; ``changed`` says that something of it is new.

    Parameters
    ----------
    choices, clock, messages, queue, instruments, catalogues, journal
        Of the evening.
    """

    changed = Signal()

    def __init__(
        self,
        choices: CurrentChoices,
        clock: EveningClock,
        messages: Messages,
        *,
        queue: Queue,
        instruments: Instruments,
        catalogues: CatalogueThread,
        journal: JournalThread,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._choices, self._clock, self._messages = choices, clock, messages
        self._queue, self._instruments, self._catalogues = queue, instruments, catalogues
        self._journal = journal
        catalogues.failed.connect(self._fail)
        self.wishes = HostWishes()
        self.program: Program | None = None
        self._made_for: HostQuestion | None = None
        self.targets: tuple[Target, ...] = ()  # in the order in which they are shown
        self.at: int | None = None  # of them, what is shown now
        self._began_utc: datetime | None = None
        self._told: Stop | None = None  # as it stands now
        self._asked_utc: datetime | None = None
        self._marked = ""  # the key of what is on its way to the disk as found
        queue.changed.connect(self._take_queue)

    # What is read.

    @property
    def working(self) -> bool:
        """Whether an evening is being worked out."""
        return self._catalogues.share(_PROGRAM) is not None

    @property
    def instrument(self) -> Instrument | None:
        """What the evening is for, None for the usual one of its sort."""
        return self.question().instrument

    @property
    def axis_m(self) -> float | None:
        """How high the altitude axis is: as typed here, else as the mount in use has it."""
        return self.question().wishes.axis_m

    @property
    def moved(self) -> bool:
        """Whether the evening was worked out for another place."""
        made = self._made_for
        return made is not None and made.site != self._choices.record.site

    @property
    def showing(self) -> Showing | None:
        """What visitors look at now, None before the first target."""
        if self.at is None or self._began_utc is None:
            return None
        gone_min = (self._clock.now_utc - self._began_utc).total_seconds() / 60.0
        left = self._minutes - gone_min
        return Showing(self.targets[self.at], self.at + 1, len(self.targets), left, self._told)

    @property
    def _minutes(self) -> float:
        return self.wishes.minutes if self.program is None else self.program.minutes

    def stop(self, at: int) -> "Stop | None":
        """Give what was planned of a target; None for one that clouds brought in."""
        stops = () if self.program is None else self.program.stops
        return next((one for one in stops if one.target.key == self.targets[at].key), None)

    def found(self, key: str) -> bool:
        """Tell whether visitors have found a target, as the journal has it."""
        item = self._queue.item(key)
        return item is not None and item.outcome is Outcome.FOUND

    @property
    def _planned(self) -> tuple[str, ...]:
        """Number and name of every target in its turn."""
        stops = map(self.stop, range(len(self.targets)))
        known = zip(self.targets, stops, strict=True)
        return tuple(one.name if stop is None else stop.full_name for one, stop in known)

    def question(self) -> HostQuestion:
        """Give what is asked, as everything stands now."""
        record = self._choices.record
        used = () if record.instrument is None else (record.instrument,)
        saw = [one.target.name for one in self._queue.items if one.outcome is Outcome.FOUND]
        wishes, mount = self.wishes, record.mount
        if wishes.axis_m is None and mount is not None:
            wishes = replace(wishes, axis_m=mount.axis_height_m)
        return HostQuestion(
            wishes,
            record.site,
            self._clock.now_utc,
            (*used, *self._instruments.known),
            record.low_limit_deg,
            record.hours,
            tuple(saw),
        )

    def _now(self) -> HostQuestion:
        """Give what the evening was made for, as everything stands now."""
        now = self.question()
        made = self._made_for
        return now if made is None else replace(now, wishes=made.wishes, known=made.known)

    # What is done.

    def want(self, wishes: HostWishes) -> None:
        """Want another evening; what is there stays until the new one is worked out."""
        self.wishes = wishes
        self.changed.emit()

    def work_out(self) -> None:
        """Have the evening worked out."""
        if self._choices.needs_site:
            return
        question = self.question()

        def answer(library: Library) -> "Program":
            from companion.road import program

            return program(library.ephemeris, library.catalogue, request_of(question))

        self._catalogues.ask(_PROGRAM, answer, lambda made: self._take(made, question))
        self.changed.emit()

    def show(self, at: int) -> None:
        """Show a target now: its minutes begin."""
        if not 0 <= at < len(self.targets):
            return
        self.at, self._began_utc = at, self._clock.now_utc
        self._told = self._asked_utc = None
        self._messages.clear("host")
        if self._queue.item(self.targets[at].key) is not None:
            self._aim_at(self.targets[at])  # the dials' numbers follow
        self._tell()
        self._remember()
        self.changed.emit()

    def go_on(self) -> None:
        """Show the next target."""
        if not self.targets:
            self._messages.say(Severity.NOTE, _NO_PROGRAM, "host")
        elif self.at is not None and self.at + 1 >= len(self.targets):
            self._messages.say(Severity.NOTE, _LAST, "host")
        else:
            self.show(0 if self.at is None else self.at + 1)

    def mark_found(self) -> None:
        """Write that visitors have found what is shown, then show the next one."""
        if self.at is None:
            self.go_on()
            return
        target, unwritten = self.targets[self.at], self._clock.stands_still
        if not unwritten and not self.found(target.key):
            self._aim_at(target)
            self._queue.mark(Outcome.FOUND)
            self._marked = target.key
        self.go_on()
        if unwritten:
            self._messages.say(Severity.WARNING, _ANOTHER_TIME, "host")

    def _aim_at(self, target: Target) -> None:
        """Aim at a target, put into the queue where it is not in it yet."""
        if self._queue.item(target.key) is None:
            self._queue.add(target)
        else:
            self._queue.choose(target.key)

    def clouds(self) -> None:
        """Show what stands in another part of the sky: of what is left, else a spare."""
        if self.at is None or self._told is None:
            said = "Show a target first." if self.targets else _NO_PROGRAM
            self._messages.say(Severity.NOTE, said, "host")
            return
        left = self.targets[self.at + 1 :]
        known = {one.key for one in self.targets}
        spares = () if self.program is None else self.program.spares
        spares = tuple(one for one in spares if one.key not in known)
        question, clouded = self._now(), (self._told.azimuth_deg,)

        def answer(library: Library) -> Target | None:
            from companion.road import next_in_the_open

            ephemeris, catalogue = library.ephemeris, library.catalogue
            return next_in_the_open(
                ephemeris, catalogue, request_of(question), (*left, *spares), clouded
            )

        self._catalogues.ask(_OPEN, answer, self._take_open)

    def queue_all(self) -> None:
        """Put what is not in the queue yet at its end."""
        new = [one for one in self.targets if self._queue.item(one.key) is None]
        if new:
            self._queue.add_all(new)
        said = f"{len(new)} put at the end of the queue." if new else "All stand in the queue."
        self._messages.say(Severity.NOTE, said if self.targets else _NO_PROGRAM, "host")

    def ask_sheet(
        self,
        draw: "Callable[[Sheet, SheetSky], Path]",
        tell: Callable[[Path], None],
    ) -> None:
        """Have the visitors' sheet of now made and drawn in another thread."""
        question, planned = self._now(), self._planned

        def make(library: Library) -> Path:
            from companion.charts import sheet_sky
            from companion.road import visitors_sheet

            known, request = (library.ephemeris, library.catalogue), request_of(question)
            sheet = visitors_sheet(*known, request, planned)
            names = [point.name for point in sheet.points]
            place, conditions = (question.site, sheet.utc), request.asked.conditions
            sky = sheet_sky(*known, place, conditions, (sheet.group_key, names))
            return draw(sheet, sky)

        self._catalogues.ask(_SHEET, make, tell)

    def look_at_the_clock(self) -> None:
        """Tell anew how what is shown stands, once a minute."""
        asked = self._asked_utc
        if self.at is None or asked is None:
            return
        if abs(self._clock.now_utc - asked) >= _STALE:
            self._tell()

    # What is remembered.

    def take_up(self, kept: Mapping[str, object] | None) -> None:
        """Take the evening up where it was left, if that was tonight."""
        memory = HostMemory.of(kept)
        if memory is None or memory.night != self._clock.night or self.targets:
            return

        def answer(library: Library) -> tuple[Target, ...]:
            with suppress(AdviceError):  # something of it is known no more
                return tuple(library.catalogue.target(key) for key in memory.keys)
            return ()

        self._catalogues.ask(_KEPT, answer, lambda found: self._take_kept(memory, found))

    def _remember(self) -> None:
        if not self.targets:
            return
        keys = tuple(target.key for target in self.targets)
        memory = HostMemory(self._clock.night, keys, self.at, self._began_utc, self.wishes)
        self._journal.set_setting(self._clock.written_utc, "host", memory.record())

    def _take_kept(self, memory: HostMemory, targets: tuple[Target, ...]) -> None:
        if not targets or self.targets or self.working:
            return  # a new one is on its way, or there
        self.wishes, self.targets = memory.wishes, targets
        self.at, self._began_utc = memory.at, memory.began_utc
        self._tell()
        self.changed.emit()

    # What comes back.

    def _tell(self) -> None:
        """Ask how what is shown stands now."""
        if self.at is None:
            return
        question, targets, turn = self._now(), self.targets, self.at
        spares = () if self.program is None else self.program.spares
        planned = self.stop(self.at)
        self._asked_utc = question.utc

        def answer(library: Library) -> "Stop":
            from companion.road import stop_now

            known = library.ephemeris, library.catalogue
            stop = stop_now(*known, request_of(question), targets, turn=turn, spares=spares)
            return stop if planned is None else replace(stop, view=planned.view)

        self._catalogues.ask(_NOW, answer, self._take_told)

    def _take_queue(self) -> None:
        """Once a find is on disk the queue aims at its own next row: aim at what is shown."""
        if self._marked and self.found(self._marked):
            self._marked = ""
            if self.at is not None and self._queue.item(self.targets[self.at].key) is not None:
                self._queue.choose(self.targets[self.at].key)

    def _take(self, made: "Program", question: HostQuestion) -> None:
        self.program, self._made_for = made, question
        self.targets = tuple(stop.target for stop in made.stops)
        self.at = self._began_utc = self._told = self._asked_utc = None
        self._messages.clear("host")
        self._remember()
        if made.words:
            self._messages.say(Severity.NOTE, made.words, "host")
        self.changed.emit()

    def _take_told(self, stop: "Stop") -> None:
        if self.at is not None and self.targets[self.at].key == stop.target.key:
            self._told = stop
            self.changed.emit()

    def _take_open(self, target: Target | None) -> None:
        """Show it now; what clouds hide comes after it."""
        if target is None or self.at is None:
            self._messages.say(Severity.NOTE, _NOTHING_OPEN, "host")
            return
        hidden = self.targets[self.at]
        before = [one for one in self.targets[: self.at] if one.key != target.key]
        after = [one for one in self.targets[self.at + 1 :] if one.key != target.key]
        self.targets = (*before, target, hidden, *after)
        self.show(len(before))

    def _fail(self, kind: object, _words: str) -> None:
        if kind in {_PROGRAM, _NOW, _OPEN}:
            self.changed.emit()
