"""A thread for what takes longer: nights, lists, orders, with progress and a way to cancel.

Of questions of one kind only the last one counts: a later one stops the work on an earlier one,
and what comes back too late is dropped.
"""

import logging
from collections.abc import Callable
from dataclasses import dataclass
from threading import Lock
from time import monotonic
from typing import Protocol

from PySide6.QtCore import QObject, QThread, Signal, Slot

from companion.live.night_questions import Answer, Question
from companion.sky import AdviceError

_log = logging.getLogger(__name__)
_CRASHED = "This could not be worked out. Ask again; what was shown before stands."
_BETWEEN_S = 0.05  # two words on how far it is


class Works(Protocol):
    """What the thread owns: it answers questions, and is closed in its thread."""

    def answer(self, question: Question, progress: Callable[[float], bool]) -> Answer:
        """Answer one question; ``progress`` gives False when nobody wants it any more."""
        ...

    def close(self) -> None:
        """Let go of what is held."""
        ...


def _works() -> Works:
    """Load everything; called in the thread when first something is asked."""
    from companion.live.threads.night_answers import NightWorks

    return NightWorks()


@dataclass(frozen=True, slots=True)
class _Asked:
    number: int
    question: Question


class _Desk:
    """What the two threads share: what waits, and the number of the last question of each kind."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._number = 0
        self._waiting: dict[type, _Asked] = {}
        self._last: dict[type, int] = {}

    def put(self, question: Question) -> None:
        with self._lock:
            self._number += 1
            kind = type(question)
            self._waiting.pop(kind, None)
            self._waiting[kind] = _Asked(self._number, question)
            self._last[kind] = self._number

    def take(self) -> _Asked | None:
        with self._lock:
            if not self._waiting:
                return None
            return self._waiting.pop(next(iter(self._waiting)))

    def drop(self, kind: type | None) -> None:
        with self._lock:
            for one in [kind] if kind is not None else list(self._last):
                self._waiting.pop(one, None)
                self._last.pop(one, None)

    def wants(self, asked: _Asked) -> bool:
        with self._lock:
            return self._last.get(type(asked.question)) == asked.number

    def done(self, asked: _Asked) -> bool:
        """Say whether an answer still counts; after that nothing of its kind is wanted."""
        with self._lock:
            kind = type(asked.question)
            if self._last.get(kind) != asked.number:
                return False
            self._last.pop(kind)
            return True

    def kinds(self) -> frozenset[type]:
        with self._lock:
            return frozenset(self._last)


class _Worker(QObject):
    """Lives in the planner's thread."""

    answered = Signal(object, object)  # _Asked, Answer
    failed = Signal(object, str)
    progressed = Signal(object, float)

    def __init__(self, desk: _Desk, load: Callable[[], Works]) -> None:
        super().__init__()
        self._desk = desk
        self._load = load
        self._works: Works | None = None
        self._said_s = 0.0

    @Slot()
    def work(self) -> None:
        """Answer whatever waits; several calls for one question find nothing to do."""
        while (asked := self._desk.take()) is not None:
            self._answer(asked)

    def _answer(self, asked: _Asked) -> None:
        from companion.night import Cancelled

        try:
            if self._works is None:
                self._works = self._load()
            answer = self._works.answer(asked.question, lambda share: self._go_on(asked, share))
        except Cancelled:
            return
        except AdviceError as error:
            self.failed.emit(asked, str(error))
        except Exception:  # noqa: BLE001 - the thread lives on, whatever it was
            _log.exception("A night could not be planned")
            self.failed.emit(asked, _CRASHED)
        else:
            self.answered.emit(asked, answer)

    def _go_on(self, asked: _Asked, share: float) -> bool:
        now_s = monotonic()
        if now_s - self._said_s > _BETWEEN_S:
            self._said_s = now_s
            self.progressed.emit(asked, share)
        return self._desk.wants(asked)

    @Slot()
    def close(self) -> None:
        """Let go of what is held, in the thread that holds it."""
        if self._works is not None:
            self._works.close()
            self._works = None


class PlannerThread(QObject):
    """Asks in another thread; answers come back in the thread that asked.

    Parameters
    ----------
    load : callable, optional
        Makes what answers; called in the thread when first something is asked.
    """

    answered = Signal(object)  # Answer
    failed = Signal(object, str)  # the kind of question, words
    changed = Signal()  # something was asked, goes on, or is over
    _poke = Signal()

    def __init__(
        self, load: Callable[[], Works] = _works, *, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._desk = _Desk()
        self._shares: dict[type, float] = {}
        self._thread = QThread()
        self._thread.setObjectName("planner")
        self._worker = _Worker(self._desk, load)
        self._worker.moveToThread(self._thread)
        self._poke.connect(self._worker.work)
        self._worker.answered.connect(self._deliver)
        self._worker.failed.connect(self._report)
        self._worker.progressed.connect(self._move_on)
        self._thread.finished.connect(self._worker.close)

    def ask(self, question: Question) -> None:
        """Ask; the first question starts the thread."""
        if not self._thread.isRunning():
            self._thread.start(QThread.Priority.LowPriority)
        self._desk.put(question)
        self._shares[type(question)] = 0.0
        self._poke.emit()
        self.changed.emit()

    def share(self, kind: type) -> float | None:
        """Give how far the work on a kind of question is, 0 to 1; None if there is none."""
        return self._shares.get(kind) if kind in self._desk.kinds() else None

    def cancel(self, kind: type | None = None) -> bool:
        """Stop the work on a kind of question, or on all; give whether there was any."""
        busy = self._desk.kinds()
        self._desk.drop(kind)
        if (busy and kind is None) or kind in busy:
            self.changed.emit()
            return True
        return False

    def stop(self) -> None:
        """End the thread and wait; what is being worked on is dropped."""
        self._desk.drop(None)
        self._thread.quit()
        self._thread.wait()

    @Slot(object, object)
    def _deliver(self, asked: _Asked, answer: Answer) -> None:
        if self._desk.done(asked):
            self.answered.emit(answer)
            self.changed.emit()

    @Slot(object, str)
    def _report(self, asked: _Asked, words: str) -> None:
        if self._desk.done(asked):
            self.failed.emit(type(asked.question), words)
            self.changed.emit()

    @Slot(object, float)
    def _move_on(self, asked: _Asked, share: float) -> None:
        if self._desk.wants(asked):
            self._shares[type(asked.question)] = share
            self.changed.emit()
