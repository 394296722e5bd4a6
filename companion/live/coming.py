"""What the sky brings, kept in step with site, clock and instrument; what begins soon is told."""

import operator
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from companion.events import Event
from companion.instant import Choices
from companion.live.clock import EveningClock
from companion.live.coming_questions import (
    ComingQuestion,
    ComingView,
    FileQuestion,
    FileRead,
    Reach,
    ReadingsQuestion,
)
from companion.live.current_choices import CurrentChoices
from companion.live.kp_now import KpNow
from companion.live.messages import Messages, Severity
from companion.live.threads.catalogue_thread import CatalogueThread, Library
from companion.live.threads.question_thread import Answerer, QuestionThread
from companion.sky import Target

_CRASHED = "What comes could not be worked out. What was shown before stands."
_MONTH, _YEAR = timedelta(days=31), timedelta(days=366)
_HOUR, _NIGHT = timedelta(hours=1), timedelta(hours=24)
_STALE = timedelta(hours=12)  # then it is looked for anew
SOON = timedelta(minutes=15)
_PUT_OFF = timedelta(minutes=10)
_FIRST_AFTER_S = 20.0  # the first numbers come first


class Coming(QObject):
    """Reads and tells what comes; ``changed`` says that something else is known.

    Parameters
    ----------
    choices, clock, messages, catalogues
        Of the evening.
    home : Path
        Where elements are kept.
    load : callable, optional
        Makes what answers; called in the thread when first something is asked.
    """

    changed = Signal()

    def __init__(
        self,
        choices: CurrentChoices,
        clock: EveningClock,
        messages: Messages,
        catalogues: CatalogueThread,
        home: Path,
        *,
        load: Callable[[], Answerer] | None = None,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._choices, self._clock, self._messages = choices, clock, messages
        self._catalogues = catalogues
        self._thread = QuestionThread("coming", load or _loader(home), _CRASHED, self)
        self._thread.changed.connect(self.changed)
        self._thread.failed.connect(self._fail)
        self._asked: ComingQuestion | None = None
        self._put_off: dict[str, datetime] = {}
        self._waits_since: datetime | None = None
        self.view: ComingView | None = None
        self.reach = Reach.NIGHT
        self.kp = KpNow(choices, clock, self._thread, self)
        self.kp.changed.connect(self.changed)
        self.readings: Mapping[str, str] = {}  # by an event's uid
        self._placed: tuple[object, ...] | None = None  # what the readings were asked for

    # What the window reads.

    @property
    def share(self) -> float | None:
        """How far the work is, 0 to 1; None if there is none."""
        return self._thread.share(ComingQuestion)

    def events(self) -> tuple[Event, ...]:
        """Give what comes within the reach, from now on, in order of time."""
        if self.view is None:
            return ()
        now = self._clock.now_utc
        last = now + {Reach.HOUR: _HOUR, Reach.NIGHT: _NIGHT, Reach.MONTH: _MONTH}.get(
            self.reach, _YEAR
        )
        return tuple(
            one
            for one in self.view.events
            if (one.end_utc or one.utc) >= now and begins(one) <= last
        )

    @property
    def soon(self) -> Event | None:
        """What is seen from here and begins within minutes, unless it was put off."""
        if self.view is None or self._clock.stands_still:
            return None
        now = self._clock.now_utc
        near = (
            one
            for one in self.view.events
            if one.seen_here
            and now <= (one.best_utc or begins(one)) <= now + SOON
            and self._put_off.get(one.uid, now) <= now
        )
        return next(near, None)

    # What it is told.

    def put_off(self) -> None:
        """Say nothing for a while of what begins soon."""
        soon = self.soon
        if soon is not None:
            self._put_off[soon.uid] = self._clock.now_utc + _PUT_OFF
            self.changed.emit()

    def set_reach(self, reach: Reach) -> None:
        """Look that far ahead."""
        self.reach = reach
        self.refresh()
        self.changed.emit()

    def read_file(self, path: str) -> None:
        """Read a file of elements, which are kept, or of Kp; what came of it is said."""
        self._thread.put(
            FileQuestion, FileQuestion(path.strip().strip("\"'"), self._clock.now_utc), self._keep
        )

    def find_target(self, event: Event, then: Callable[[Target], None]) -> None:
        """Look up what an event is about; ``then`` is called with it."""
        key = event.keys[0]

        def find(library: Library) -> Target:
            return library.catalogue.target(key)

        self._catalogues.ask("coming target", find, then)

    def refresh(self) -> None:
        """Look for what comes, unless that is known."""
        if self._choices.needs_site:
            return
        record, now = self._choices.record, self._clock.now_utc
        span = _YEAR if self.reach is Reach.YEAR or self._knows_year() else _MONTH
        wanted = ComingQuestion(record.site, now, now + span, record.instrument)
        if not self._holds(wanted):
            self._asked = wanted
            self._thread.put(ComingQuestion, wanted, self._take)
        self.kp.refresh()
        self._ask_readings()

    def look_at_the_clock(self) -> None:
        """Look again once what is known has grown old; to be called with each new snapshot."""
        now = self._clock.now_utc
        self._waits_since = self._waits_since or now
        if abs((now - self._waits_since).total_seconds()) > _FIRST_AFTER_S:
            self.refresh()

    def stop(self) -> None:
        """End the thread."""
        self._thread.stop()

    # What comes back.

    def _knows_year(self) -> bool:
        return self._asked is not None and self._asked.last - self._asked.first >= _YEAR

    def _holds(self, wanted: ComingQuestion) -> bool:
        """Tell whether what was asked last answers this as well."""
        asked = self._asked
        if asked is None or replace(asked, first=wanted.first, last=wanted.last) != wanted:
            return False
        fresh = timedelta(0) <= wanted.first - asked.first < _STALE
        return fresh and asked.last - asked.first >= wanted.last - wanted.first

    def _take(self, view: ComingView) -> None:
        self.view = view
        self._messages.clear("coming")
        self._ask_readings()

    def _ask_readings(self) -> None:
        """Ask what the dials show where each event is best looked at; nothing towards the Sun."""
        record = self._choices.record
        of = (self.view, record.site, record.mount, record.sightings, record.examination)
        if self._placed is not None and all(map(operator.is_, of, self._placed)):
            return  # asked before: this is looked at with every snapshot
        self._placed = of
        if self.view is None or record.mount is None:
            self.readings = {}
            return
        places = tuple(
            (one.uid, one.best_azimuth_deg, one.best_altitude_deg)
            for one in self.view.events
            if one.seen_here
            and not one.caution
            and one.best_azimuth_deg is not None
            and one.best_altitude_deg is not None
        )
        aligned = Choices(
            0,
            record.site,
            mount=record.mount,
            sightings=record.sightings,
            examination=record.examination,
        )
        question = ReadingsQuestion(aligned, places)
        self._thread.put(ReadingsQuestion, question, self._take_readings)

    def _take_readings(self, readings: Mapping[str, str]) -> None:
        self.readings = readings

    def _keep(self, read: FileRead) -> None:
        self._messages.say(Severity.NOTE, read.words, "coming")
        if read.kp:
            self.kp.take_file(read.kp)
        else:
            self._asked = None  # satellites may pass that were not known
            self.refresh()

    def _fail(self, kind: object, words: str) -> None:
        if kind is ComingQuestion:
            self._asked = None
        self._messages.say(Severity.WARNING, words, "coming")


def begins(event: Event) -> datetime:
    """Give when it begins."""
    return event.start_utc or event.utc


def _loader(home: Path) -> Callable[[], Answerer]:
    def load() -> Answerer:
        from companion.live.threads.coming_works import ComingWorks

        return ComingWorks(home)

    return load
