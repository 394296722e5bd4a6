"""The thread that answers questions from the catalogues.

A question is a function that is given the thread's library (catalogue, search, towns, each loaded
on first use) and gives a frozen answer.
"""

from collections.abc import Callable
from functools import cached_property
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject

from companion.live.threads.question_thread import QuestionThread

if TYPE_CHECKING:
    from companion.sky import Catalogue, Ephemeris, SearchIndex, TownIndex

_CRASHED = "The question could not be answered. Ask again."


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

    def answer(
        self, question: "Callable[[Library], object]", _progress: Callable[[float], bool]
    ) -> object:
        """Answer one question."""
        return question(self)

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


class CatalogueThread(QuestionThread):
    """Answers questions from the catalogues; each kind has a name."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__("catalogues", Library, _CRASHED, parent)

    def ask(
        self, kind: str, question: Callable[[Library], Any], answer: Callable[[Any], None]
    ) -> None:
        """Ask a question; ``answer`` is called unless another one of its kind is asked before."""
        self.put(kind, question, answer)
