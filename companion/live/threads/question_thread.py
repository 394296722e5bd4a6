"""A thread that answers questions: of each kind only the last one counts.

A later question stops the work on an earlier one of its kind, and what comes back too late is
dropped.
"""

import logging
from collections.abc import Callable
from dataclasses import dataclass
from threading import Lock
from time import monotonic
from typing import Any, Protocol

from PySide6.QtCore import QObject, QThread, Signal, Slot

from companion.advice import AdviceError

_log = logging.getLogger(__name__)
QuestionKind = str | type  # of a question: a name, or its class
_BETWEEN_S = 0.05  # two words on how far it is


class Answerer(Protocol):
    """What such a thread owns: it answers questions, and is closed in its thread."""

    def answer(self, question: Any, progress: Callable[[float], bool]) -> object:  # noqa: ANN401 - each thread has questions of its own
        """Answer one question; ``progress`` gives False when nobody wants it any more."""
        ...

    def close(self) -> None:
        """Let go of what is held."""
        ...


@dataclass(frozen=True, slots=True)
class _Asked:
    kind: QuestionKind
    number: int
    question: object


class _Waiting:
    """What the two threads share: what waits, and which question of each kind is the last."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._number = 0
        self._waiting: dict[QuestionKind, _Asked] = {}
        self._last: dict[QuestionKind, int] = {}

    def put(self, kind: QuestionKind, question: object) -> None:
        with self._lock:
            self._number += 1
            self._waiting.pop(kind, None)
            self._waiting[kind] = _Asked(kind, self._number, question)
            self._last[kind] = self._number

    def take(self) -> _Asked | None:
        with self._lock:
            if not self._waiting:
                return None
            return self._waiting.pop(next(iter(self._waiting)))

    def drop(self, kind: QuestionKind | None) -> bool:
        """Drop a kind of question, or all; give whether there was any."""
        with self._lock:
            dropped = [one for one in self._last if kind is None or one == kind]
            for one in dropped:
                self._waiting.pop(one, None)
                self._last.pop(one)
            return bool(dropped)

    def wants(self, asked: _Asked) -> bool:
        with self._lock:
            return self._last.get(asked.kind) == asked.number

    def done(self, asked: _Asked) -> bool:
        """Say whether an answer still counts; after that nothing of its kind is wanted."""
        with self._lock:
            if self._last.get(asked.kind) != asked.number:
                return False
            self._last.pop(asked.kind)
            return True

    def holds(self, kind: QuestionKind) -> bool:
        with self._lock:
            return kind in self._last


class _Worker(QObject):
    """Lives in the thread."""

    answered = Signal(object, object)  # _Asked, answer
    failed = Signal(object, str)
    progressed = Signal(object, float)

    def __init__(self, waiting: _Waiting, load: Callable[[], Answerer], crashed: str) -> None:
        super().__init__()
        self._waiting = waiting
        self._load = load
        self._crashed = crashed
        self._answerer: Answerer | None = None
        self._said_s = 0.0

    @Slot()
    def work(self) -> None:
        """Answer whatever waits; several calls for one question find nothing to do."""
        while (asked := self._waiting.take()) is not None:
            self._answer(asked)

    def _answer(self, asked: _Asked) -> None:
        from companion.night import Cancelled

        try:
            if self._answerer is None:
                self._answerer = self._load()
            answer = self._answerer.answer(asked.question, lambda share: self._go_on(asked, share))
        except Cancelled:
            return
        except AdviceError as error:
            self.failed.emit(asked, str(error))
        except Exception:  # noqa: BLE001 - the thread lives on, whatever it was
            _log.exception("A question could not be answered: %s", asked.kind)
            self.failed.emit(asked, self._crashed)
        else:
            self.answered.emit(asked, answer)

    def _go_on(self, asked: _Asked, share: float) -> bool:
        now_s = monotonic()
        if now_s - self._said_s > _BETWEEN_S:
            self._said_s = now_s
            self.progressed.emit(asked, share)
        return self._waiting.wants(asked)

    @Slot()
    def close(self) -> None:
        """Let go of what is held, in the thread that holds it."""
        if self._answerer is not None:
            self._answerer.close()
            self._answerer = None


class QuestionThread(QObject):
    """Asks in another thread; answers come back in the thread that asked.

    Parameters
    ----------
    name : str
        Of the thread.
    load : callable
        Makes what answers; called in the thread when first something is asked.
    crashed : str
        What is said of a question whose answer fails for a reason that nobody foresaw.
    """

    failed = Signal(object, str)  # the kind of question, words
    changed = Signal()  # something was asked, goes on, or is over
    _poke = Signal()

    def __init__(
        self,
        name: str,
        load: Callable[[], Answerer],
        crashed: str,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._waiting = _Waiting()
        self._receivers: dict[QuestionKind, Callable[[Any], None]] = {}
        self._shares: dict[QuestionKind, float] = {}
        self._stopped = False
        self._thread = QThread()
        self._thread.setObjectName(name)
        self._worker = _Worker(self._waiting, load, crashed)
        self._worker.moveToThread(self._thread)
        self._poke.connect(self._worker.work)
        self._worker.answered.connect(self._deliver)
        self._worker.failed.connect(self._report)
        self._worker.progressed.connect(self._move_on)
        self._thread.finished.connect(self._worker.close)

    def put(self, kind: QuestionKind, question: object, receive: Callable[[Any], None]) -> None:
        """Ask; the first question starts the thread, the last one of a kind is received.

        After ``stop`` nothing is asked any more: a clock that still ticks would start it again.
        """
        if self._stopped:
            return
        if not self._thread.isRunning():
            self._thread.start(QThread.Priority.LowPriority)
        self._receivers[kind] = receive
        self._shares[kind] = 0.0
        self._waiting.put(kind, question)
        self._poke.emit()
        self.changed.emit()

    def share(self, kind: QuestionKind) -> float | None:
        """Give how far the work on a kind of question is, 0 to 1; None if there is none."""
        return self._shares.get(kind) if self._waiting.holds(kind) else None

    def cancel(self, kind: QuestionKind | None = None) -> bool:
        """Stop the work on a kind of question, or on all; give whether there was any."""
        busy = self._waiting.drop(kind)
        if busy:
            self.changed.emit()
        return busy

    def stop(self) -> None:
        """End the thread and wait; what waits and what is being worked on is dropped."""
        self._stopped = True
        self._waiting.drop(None)
        self._thread.quit()
        self._thread.wait()

    @Slot(object, object)
    def _deliver(self, asked: _Asked, answer: object) -> None:
        if self._waiting.done(asked):
            self._receivers.pop(asked.kind)(answer)
            self.changed.emit()

    @Slot(object, str)
    def _report(self, asked: _Asked, words: str) -> None:
        if self._waiting.done(asked):
            self.failed.emit(asked.kind, words)
            self.changed.emit()

    @Slot(object, float)
    def _move_on(self, asked: _Asked, share: float) -> None:
        if self._waiting.wants(asked):
            self._shares[asked.kind] = share
            self.changed.emit()
