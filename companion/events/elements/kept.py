"""The elements that a person brought, kept in the home with the day they were read."""

import json
import sqlite3
from collections.abc import Iterable, Iterator, Mapping
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from companion.advice import AdviceError
from companion.events.elements.record import Elements, Family
from companion.sky import Target, fold

if TYPE_CHECKING:  # it brings numpy, which the first frame does not wait for
    from companion.sky import Mover

FILE_NAME = "elements.sqlite"
_FAMILIES = frozenset(Family)
_MAKE = """
CREATE TABLE IF NOT EXISTS elements (
  key TEXT PRIMARY KEY, plain TEXT NOT NULL, short TEXT NOT NULL, epoch_jd REAL NOT NULL,
  kept_utc TEXT NOT NULL, record TEXT NOT NULL) WITHOUT ROWID;
CREATE INDEX IF NOT EXISTS by_plain ON elements (plain);
CREATE INDEX IF NOT EXISTS by_short ON elements (short);
"""
_PUT = "INSERT OR REPLACE INTO elements VALUES (?, ?, ?, ?, ?, ?)"
_BEGINS = "plain >= ?1 AND plain < ?2 OR short >= ?1 AND short < ?2 LIMIT ?3"
_WAIT_S = 5.0
_MOST_OF_A_NAME = 4  # bodies that are called the same


class KeptElements:
    """What is kept in one home; may be asked by several threads, each question opens the file."""

    def __init__(self, home: Path) -> None:
        self._path = home / FILE_NAME
        self._mover = lru_cache(maxsize=256)(self._read_mover)
        self._names = lru_cache(maxsize=1)(self._read_names)

    def keep(self, elements: Iterable[Elements], utc: datetime) -> int:
        """Keep elements in place of older ones of the same bodies; give how many.

        Raises
        ------
        AdviceError
            If the home cannot be written into.
        """
        rows = [_row(one, utc) for one in elements]
        try:
            with closing(sqlite3.connect(self._path, timeout=_WAIT_S)) as file, file:
                file.executescript(_MAKE)
                file.executemany(_PUT, rows)
        except sqlite3.Error as error:
            raise AdviceError(
                f"The elements cannot be kept in {self._path} ({error}).",
                "Start with another folder: --home DIR.",
                "Nothing was kept.",
            ) from error
        self._mover.cache_clear()
        self._names.cache_clear()
        return len(rows)

    def mover(self, key: str) -> "Mover | None":
        """Give what moves under a key, by the elements kept now."""
        if key.partition(":")[0] not in _FAMILIES or not self._path.exists():
            return None
        return self._mover(key, self._path.stat().st_mtime_ns)

    def called(self, text: str) -> tuple[Target, ...]:
        """Give what is called exactly so; a list of thousands asks for each of its lines."""
        if not self._path.exists():
            return ()
        if fold(text[:80]) not in self._names(self._path.stat().st_mtime_ns):
            return ()
        return self._named("plain = ?1 OR short = ?1 LIMIT ?3", text, _MOST_OF_A_NAME)

    def beginning(self, text: str, limit: int) -> tuple[Target, ...]:
        """Give what is called so, or begins so."""
        return self._named(_BEGINS, text, limit)

    def _named(self, where: str, text: str, limit: int) -> tuple[Target, ...]:
        plain = fold(text[:80])
        if not plain or not self._path.exists():
            return ()
        rows = self._rows(
            f"SELECT record FROM elements WHERE {where}",  # noqa: S608 - our own words
            (plain, f"{plain}\U0010ffff", limit),
        )
        return tuple(mover_of(one).target for one in rows)

    def all(self, family: Family) -> Iterator[Elements]:
        """Give all elements of a family."""
        if self._path.exists():
            yield from self._rows(
                "SELECT record FROM elements WHERE key > ? AND key < ?",
                (f"{family}:", f"{family};"),
            )

    def _read_names(self, _changed_ns: int) -> frozenset[str]:
        """Read all that anything is called, whole and for short."""
        try:
            with self._open() as file:
                pairs = file.execute("SELECT plain, short FROM elements")
                return frozenset(str(name) for pair in pairs for name in pair)
        except sqlite3.Error:  # a damaged file holds nothing
            return frozenset()

    def _read_mover(self, key: str, _changed_ns: int) -> "Mover | None":
        rows = self._rows("SELECT record FROM elements WHERE key = ?", (key,))
        return mover_of(rows[0]) if rows else None

    def _rows(self, question: str, values: tuple[object, ...]) -> list[Elements]:
        """Read what can be read; a damaged file holds nothing, which is no reason to stop."""
        try:
            with self._open() as file:
                return [_read(text) for (text,) in file.execute(question, values)]
        except (sqlite3.Error, ValueError, KeyError, TypeError):
            return []

    @contextmanager
    def _open(self) -> Iterator[sqlite3.Connection]:
        with closing(
            sqlite3.connect(f"{self._path.as_uri()}?mode=ro", uri=True, timeout=_WAIT_S)
        ) as file:
            yield file


def mover_of(elements: Elements) -> "Mover":
    """Make what moves by these elements."""
    from companion.events.elements.bodies import OrbitMover
    from companion.events.elements.satellites import SatelliteMover, satrec_of

    if elements.family is Family.SATELLITE:
        return SatelliteMover(elements, satrec_of(elements))
    return OrbitMover(elements)


def _row(one: Elements, utc: datetime) -> tuple[object, ...]:
    kept = utc.astimezone(UTC).isoformat(timespec="seconds")
    record = json.dumps(one.as_plain(), ensure_ascii=False, separators=(",", ":"))
    return one.key, fold(one.name), fold(short_name(one)), one.epoch_jd, kept, record


def short_name(one: Elements) -> str:
    """Give what people call it for short: "Halley", "Ceres", "C/2025 A1"."""
    if one.family is Family.MINOR:
        return one.name.partition(" ")[2] or one.name
    if one.family is Family.SATELLITE:
        return f"satellite {one.designation}"
    return one.designation if "(" in one.name else one.name.rpartition("/")[2]


def _read(text: str) -> Elements:
    plain = json.loads(text)
    if not isinstance(plain, Mapping):
        raise TypeError("no object")
    return Elements.of_plain(plain)
