"""Kp as somebody said it, typed or from a file, and what it means here now."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from companion.live.clock import EveningClock
from companion.live.coming_questions import AuroraQuestion
from companion.live.current_choices import CurrentChoices
from companion.live.threads.question_thread import QuestionThread

if TYPE_CHECKING:  # they bring numpy, which the first frame does not wait for
    from companion.events import AuroraLook, KpRow


@dataclass(frozen=True, slots=True)
class KpSaid:
    """What was said of Kp: of which three hours, and whether it was read from a file."""

    kp: float
    start_utc: datetime
    of_file: bool


class KpNow(QObject):
    """Holds what was said; ``look`` is what it means here. What was typed is old in three hours.

    Parameters
    ----------
    choices, clock
        Of the evening.
    thread : QuestionThread
        Works out what a Kp means.
    """

    changed = Signal()

    def __init__(
        self,
        choices: CurrentChoices,
        clock: EveningClock,
        thread: QuestionThread,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._choices, self._clock, self._thread = choices, clock, thread
        self._typed: KpSaid | None = None
        self._rows: Sequence[KpRow] = ()
        self._asked: AuroraQuestion | None = None
        self.look: AuroraLook | None = None

    @property
    def held(self) -> KpSaid | None:
        """What holds now: what was typed within three hours, else what the file has."""
        if self._typed is None and not self._rows:
            return None
        from companion.events import KP_HOLDS, kp_at  # not before the first frame

        now = self._clock.now_utc
        if self._typed is not None and abs(now - self._typed.start_utc) <= KP_HOLDS:
            return self._typed
        row = kp_at(self._rows, now)
        return None if row is None else KpSaid(row.kp, row.start_utc, of_file=True)

    @property
    def outdated(self) -> bool:
        """Whether something was said once, and nothing that holds now."""
        return self.held is None and (self._typed is not None or bool(self._rows))

    def type_in(self, text: str) -> None:
        """Take the index as somebody read it just now; nothing for not known.

        Raises
        ------
        AdviceError
            If the text is none.
        """
        from companion.events import parse_kp  # not before the first frame

        kp = parse_kp(text) if text.strip() else None
        self._typed = None if kp is None else KpSaid(kp, self._clock.now_utc, of_file=False)
        self._rows = self._rows if kp is not None else ()
        self.refresh()
        self.changed.emit()

    def take_file(self, rows: "Sequence[KpRow]") -> None:
        """Take what a file says, in place of what was said before."""
        self._rows, self._typed = rows, None
        self.refresh()
        self.changed.emit()

    def refresh(self) -> None:
        """Have it worked out, unless that is known; it changes with the hours."""
        if self._choices.needs_site:
            return
        said, now = self.held, self._clock.now_utc
        day = now.replace(hour=0, minute=0, second=0, microsecond=0)  # the poles wander slowly
        wanted = AuroraQuestion(self._choices.record.site, day, None if said is None else said.kp)
        if wanted != self._asked:
            self._asked = wanted
            self._thread.put(AuroraQuestion, wanted, self._take)

    def _take(self, look: "AuroraLook") -> None:
        self.look = look
