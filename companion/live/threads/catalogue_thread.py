"""A thread that answers questions from the catalogues; stale answers are dropped.

A question is a function that is given the thread's library (catalogue, search, towns, each loaded
on first use) and gives a frozen answer. Of questions of one kind only the last one counts.
"""

import logging
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from threading import Lock
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, QThread, Signal, Slot

from companion.sky import AdviceError

if TYPE_CHECKING:
    from companion.sky import Catalogue, Ephemeris, SearchIndex, TownIndex

_log = logging.getLogger(__name__)
_FAILED = "The question could not be answered. Ask again."


class Library:
    """The catalogues, each loaded when a question first needs it."""

    @cached_property
    def catalogue(self) -> "Catalogue":
        """Stars, deep sky and bodies."""
        from companion.sky import load_catalogue

        return load_catalogue()

    @cached_property
    def ephemeris(self) -> "Ephemeris":
        """The ephemeris of this thread, for questions about where things stand."""
        from companion.sky import Ephemeris

        return Ephemeris.load()

    def close(self) -> None:
        """Close what was opened."""
        if "ephemeris" in self.__dict__:
            self.ephemeris.close()

    @cached_property
    def search(self) -> "SearchIndex":
        """The search over the catalogue; the planner's thread asks the same one."""
        from companion.sky import load_search

        return load_search()

    @cached_property
    def towns(self) -> "TownIndex":
        """Towns of the world."""
        from companion.sky import TownIndex

        return TownIndex()


@dataclass(frozen=True, slots=True)
class _Question:
    kind: str
    number: int
    ask: Callable[[Library], Any]


class _Worker(QObject):
    answered = Signal(object, object)  # _Question, answer
    failed = Signal(object, str)

    def __init__(self, waiting: dict[str, _Question], lock: Lock) -> None:
        super().__init__()
        self._waiting = waiting
        self._lock = lock
        self.library = Library()

    @Slot()
    def work(self) -> None:
        """Answer whatever waits; several calls for one question find nothing to do."""
        while True:
            with self._lock:
                if not self._waiting:
                    return
                question = self._waiting.pop(next(iter(self._waiting)))
            self._answer(question)

    def _answer(self, question: _Question) -> None:
        try:
            answer = question.ask(self.library)
        except AdviceError as error:
            self.failed.emit(question, str(error))
        except Exception:  # noqa: BLE001 - the thread lives on, whatever it was
            _log.exception("A question failed: %s", question.kind)
            self.failed.emit(question, _FAILED)
        else:
            self.answered.emit(question, answer)


class CatalogueThread(QObject):
    """Asks in another thread; answers come back in the thread that asked."""

    failed = Signal(str, str)  # kind, words
    _poke = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._lock = Lock()
        self._waiting: dict[str, _Question] = {}
        self._last: dict[str, tuple[int, Callable[[Any], None]]] = {}
        self._number = 0
        self._thread = QThread()
        self._thread.setObjectName("catalogues")
        self._worker = _Worker(self._waiting, self._lock)
        self._worker.moveToThread(self._thread)
        self._poke.connect(self._worker.work)
        self._worker.answered.connect(self._deliver)
        self._worker.failed.connect(self._report)
        self._thread.start(QThread.Priority.LowPriority)

    def ask(
        self, kind: str, question: Callable[[Library], Any], answer: Callable[[Any], None]
    ) -> None:
        """Ask a question; ``answer`` is called unless another one of its kind is asked before."""
        self._number += 1
        self._last[kind] = (self._number, answer)
        with self._lock:
            self._waiting[kind] = _Question(kind, self._number, question)
        self._poke.emit()

    def stop(self) -> None:
        """End the thread and wait; questions that still wait are dropped."""
        with self._lock:
            self._waiting.clear()
        self._last.clear()
        self._thread.quit()
        self._thread.wait()
        self._worker.library.close()

    @Slot(object, object)
    def _deliver(self, question: _Question, answer: object) -> None:
        number, receive = self._last.get(question.kind, (0, None))
        if number == question.number and receive is not None:
            receive(answer)

    @Slot(object, str)
    def _report(self, question: _Question, words: str) -> None:
        if self._last.get(question.kind, (0, None))[0] == question.number:
            self.failed.emit(question.kind, words)
