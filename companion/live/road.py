"""The road of a beginner, kept in step with site, clock, instrument and what the journal holds."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from companion.journal import Lesson, lessons
from companion.live.clock import EveningClock
from companion.live.current_choices import CurrentChoices
from companion.live.messages import Messages, Severity
from companion.live.rehearsal import Rehearsal
from companion.live.road_questions import RehearsalQuestion, RoadQuestion, RoadView, SkyCount
from companion.live.threads.catalogue_thread import CatalogueThread, Library
from companion.live.threads.journal_thread import JournalThread
from companion.live.threads.question_thread import Answerer, QuestionThread
from companion.sky import HAND, Target, clock_text

if TYPE_CHECKING:  # it brings numpy
    from companion.road import Fist, Step

_CRASHED = "The road could not be worked out. What was shown before stands."
_ANOTHER_TIME = (
    "Nothing was written: the steps are for another time. Shift T comes back to now, then tell "
    "what you saw."
)
_STALE = timedelta(minutes=5)  # then the sky has turned by a degree and more


class RoadModel(QObject):
    """Reads what was learned, asks for the steps, writes tries; ``changed`` says what is new.

    Parameters
    ----------
    choices, clock, messages, journal, catalogues
        Of the evening.
    load : callable, optional
        Makes what answers; called in the thread when first something is asked.
    """

    changed = Signal()

    def __init__(
        self,
        choices: CurrentChoices,
        clock: EveningClock,
        messages: Messages,
        journal: JournalThread,
        catalogues: CatalogueThread,
        *,
        load: Callable[[], Answerer] | None = None,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._choices, self._clock, self._messages = choices, clock, messages
        self._journal, self._catalogues = journal, catalogues
        self._thread = QuestionThread("road", load or _works, _CRASHED, self)
        self._thread.failed.connect(self._fail)
        journal.state_changed.connect(self._read_again)
        journal.failed.connect(self._let_mark)
        self._lessons: tuple[Lesson, ...] | None = None
        self._asked: RoadQuestion | None = None
        self._marked_after: tuple[Lesson, ...] | None = None  # a try is on its way to the disk
        self.view: RoadView | None = None
        self.overcast = False
        self.rehearsal = Rehearsal(choices, clock, journal, self._thread.put, self)

    def refresh(self) -> None:
        """Work the road out, unless that is known."""
        if self._choices.needs_site:
            return
        if self._lessons is None:
            self._journal.read(lessons, self._take_lessons)
            return
        record = self._choices.record
        wanted = RoadQuestion(
            record.site, self._clock.now_utc, record.instrument, self._lessons, self.overcast
        )
        asked = self._asked
        known = asked is not None and replace(asked, utc=wanted.utc) == wanted
        if not (known and asked is not None and abs(wanted.utc - asked.utc) < _STALE):
            self._asked = wanted
            self._thread.put(RoadQuestion, wanted, self._take)

    def turn_clouds(self) -> None:
        """Take it that clouds hide the sky, or that they have gone."""
        self.overcast = not self.overcast
        self.refresh()

    def mark(self, step: "Step", *, found: bool) -> None:
        """Write a try at a step; the next one comes once it is on disk."""
        if self.view is None or self._marked_after is not None:
            return
        if self._clock.stands_still:
            self._messages.say(Severity.WARNING, _ANOTHER_TIME, "road")
            return
        until = step.waits_until
        if step.waits or (until is not None and until > self._clock.now_utc):
            self._messages.say(Severity.NOTE, self._not_yet(step), "road")
            return
        self._marked_after = self.view.question.lessons
        self._journal.learn(self._clock.written_utc, step.key, step.subject, found=found)

    def measure_fist(self, fists: float, first: str, second: str) -> None:
        """Take how many of one's own fists fit between two stars; what it means is said."""

        def measure(library: Library) -> "Fist":
            from companion.road import measured_fist

            return measured_fist(library.search, fists, first, second)

        self._catalogues.ask("fist", measure, self._take_fist)

    def _take_fist(self, measured: "Fist") -> None:
        self.set_fist(measured.fist_deg)
        between = " and ".join(measured.names)
        words = f"{between} stand {measured.apart_deg:.1f}° apart. {fist_words(HAND.fist_deg)}"
        self._messages.say(Severity.NOTE, words, "fist")

    def set_fist(self, fist_deg: float) -> None:
        """Tell all lengths by a fist of that width from now on; remembered.

        Raises
        ------
        AdviceError
            If no fist is as narrow or as wide.
        """
        HAND.use(fist_deg)
        self._journal.set_setting(self._clock.written_utc, "fist_deg", fist_deg)
        self._messages.say(Severity.NOTE, fist_words(fist_deg), "fist")
        self._asked = None
        self.changed.emit()

    def find_target(self, step: "Step", then: Callable[[Target], None]) -> None:
        """Look up what a step is about; ``then`` is called with it."""

        def find(library: Library) -> Target:
            return library.catalogue.target(step.subject)

        self._catalogues.ask("road target", find, then)

    def stop(self) -> None:
        """End the thread."""
        self._thread.stop()

    def _not_yet(self, step: "Step") -> str:
        if step.waits_until is None:
            return "Nothing was written: this step waits."
        at = step.waits_until.astimezone(self._clock.zone)
        return f"Nothing was written: this step comes on {at:%Y-%m-%d} at {clock_text(at)}."

    # What comes back.

    def _read_again(self, _state: object) -> None:
        """See what another try, or one taken back, means for the steps, if they were asked for."""
        if self._asked is not None:
            self._journal.read(lessons, self._take_lessons)

    def _take_lessons(self, read: tuple[Lesson, ...] | None) -> None:
        if read is not None:
            self._lessons = read
            self.refresh()

    def _take(self, view: RoadView) -> None:
        self.view = view
        if view.question.lessons != self._marked_after:
            self._marked_after = None
        self._messages.clear("road")
        self.changed.emit()

    def _let_mark(self, _error: object) -> None:
        self._marked_after = None

    def _fail(self, kind: object, words: str) -> None:
        if kind is RehearsalQuestion:
            self.rehearsal.fail(words)
            return
        self._asked = None
        self._messages.say(Severity.WARNING, words, "road")


def fist_words(fist_deg: float) -> str:
    """Say what a fist is taken for."""
    return f"Your fist covers {fist_deg:.1f}°, a finger {fist_deg / 10.0:.1f}°: all lengths follow."


def _works() -> Answerer:
    from companion.live.threads.road_works import RoadWorks

    return RoadWorks()


def count_stars(library: Library, figure: str, count: int) -> SkyCount:
    """Give what a count of stars inside a figure says of the sky; a question for the catalogues.

    Raises
    ------
    AdviceError
        If nobody counts in such a figure, or so many.
    """
    from companion.road import counted

    found = counted(library.catalogue, figure, count)
    return SkyCount(found.limit_mag, found.zenith_mag, found.error_mag)
