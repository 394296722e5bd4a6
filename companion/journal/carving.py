"""Rows read out of the bytes of a database that SQLite itself refuses to read.

https://www.sqlite.org/fileformat2.html, sections 1.5, 1.6 and 2.1. Pages that still look like pages
are gone through cell by cell; everywhere else a row is known by its own first bytes, wherever it
stands. So a row is found as long as its own bytes are whole, whatever happened around it.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from companion.journal.log import frames_of
from companion.journal.reading import text_of

_TABLE_LEAF, _INDEX_LEAF, _INDEX_INSIDE = 0x0D, 0x0A, 0x02
_PAGE_SIZES = {1 << power for power in range(9, 17)}
_USUAL_PAGE = 4096
_MOST_COLUMNS = 16
_WHOLE_NUMBERS = {1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8}  # serial type: bytes

Values = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class CarvedRecord:
    """A row as it was found: its row number, None in a table without, and its values."""

    number: int | None
    values: Values


class Pages:
    """The pages of a database, the newest version of each first.

    Parameters
    ----------
    data : bytes
        The file.
    log : bytes
        Its write-ahead log; empty if there is none.
    """

    def __init__(self, data: bytes, log: bytes) -> None:
        given = int.from_bytes(data[16:18], "big")
        self.size = given if given in _PAGE_SIZES else _USUAL_PAGE
        self._data = data
        frames = list(frames_of(log))
        self._stale = [(frame.page, frame.data) for frame in frames if not frame.ours]
        self._logged = [(frame.page, frame.data) for frame in frames if frame.ours]

    def __iter__(self) -> Iterator[bytes]:
        """Give every version of every page, the oldest first."""
        yield from (page for _number, page in self._stale)
        for at in range(0, len(self._data), self.size):
            yield self._data[at : at + self.size]
        yield from (page for _number, page in self._logged)

    def newest(self, number: int) -> bytes:
        """Give the newest version of a page; empty if there is none."""
        for logged, page in reversed(self._logged):
            if logged == number:
                return page
        return self._data[(number - 1) * self.size :][: self.size] if number > 0 else b""


def records(pages: Pages, starts: "re.Pattern[bytes]") -> Iterator[CarvedRecord]:
    """Give every row that can be read, those found last being the newest.

    Parameters
    ----------
    pages : Pages
        Where to look.
    starts : pattern
        What the header of a row that matters looks like, its length first.
    """
    for page in pages:
        yield from _by_pattern(pages, page, starts)
        yield from _by_structure(pages, page)


def _by_structure(pages: Pages, page: bytes) -> Iterator[CarvedRecord]:
    """Go through the cells of a page, if it looks like one that holds rows."""
    base = 100 if page.startswith(b"SQLite format 3\0") else 0
    kind = page[base] if len(page) > base + 12 else 0
    if kind not in {_TABLE_LEAF, _INDEX_LEAF, _INDEX_INSIDE}:
        return
    first = base + (12 if kind == _INDEX_INSIDE else 8)
    count = int.from_bytes(page[base + 3 : base + 5], "big")
    for at in range(first, min(first + 2 * count, len(page) - 1), 2):
        cell = int.from_bytes(page[at : at + 2], "big") + (4 if kind == _INDEX_INSIDE else 0)
        found = _cell(pages, page, cell, in_table=kind == _TABLE_LEAF)
        if found is not None:
            yield found


def _cell(pages: Pages, page: bytes, at: int, *, in_table: bool) -> CarvedRecord | None:
    try:
        length, at = _varint(page, at)
        number = None
        if in_table:
            number, at = _varint(page, at)
        return _record(pages, page, at, length, number)
    except (IndexError, ValueError):
        return None


def _by_pattern(pages: Pages, page: bytes, starts: "re.Pattern[bytes]") -> Iterator[CarvedRecord]:
    """Find rows by what they begin with, and by their length and number standing before that."""
    for match in starts.finditer(page):
        at = match.start()
        try:
            length = sum(_sizes(page, at))
        except (IndexError, ValueError):
            continue
        before = _as_varint(length)
        number = _number_before(page, at, before)
        if number is None and not page[:at].endswith(before):
            continue
        try:
            yield _record(pages, page, at, length, number)
        except (IndexError, ValueError):
            continue


def _number_before(page: bytes, at: int, before: bytes) -> int | None:
    """Read the row's number backwards; it stands between the length and the row."""
    for size in range(1, 10):
        start = at - size
        if start < len(before):
            return None
        if page[start - len(before) : start] == before:
            try:
                number, end = _varint(page, start)
            except IndexError:
                continue
            if end == at and number > 0:
                return number
    return None


def _sizes(page: bytes, at: int) -> list[int]:
    """Give the size of a row's header and of each of its values."""
    header, here = _varint(page, at)
    sizes = [header]
    while here < at + header:
        kind, here = _varint(page, here)
        sizes.append(_size_of(kind))
    if here != at + header or len(sizes) > _MOST_COLUMNS:
        raise ValueError
    return sizes


def _size_of(kind: int) -> int:
    if kind >= 12:
        return (kind - 12) // 2
    if kind in {10, 11}:
        raise ValueError
    return {**_WHOLE_NUMBERS, 7: 8}.get(kind, 0)


def _record(pages: Pages, page: bytes, at: int, length: int, number: int | None) -> CarvedRecord:
    """Read a row whose header begins there; what has no room in its page stands in others."""
    sizes = _sizes(page, at)
    if sum(sizes) != length:
        raise ValueError
    local = _local(pages.size, length, in_table=number is not None)
    if local == length:
        return CarvedRecord(number, _values(page[at : at + length], length))
    beyond = int.from_bytes(page[at + local : at + local + 4], "big")
    whole = page[at : at + local] + _from_others(pages, beyond, length - local)
    return CarvedRecord(number, _values(whole, length))


def _local(size: int, length: int, *, in_table: bool) -> int:
    """Give how much of a row stands in its own page (section 1.6)."""
    most = size - 35 if in_table else (size - 12) * 64 // 255 - 23
    least = (size - 12) * 32 // 255 - 23
    if length <= most:
        return length
    local = least + (length - least) % (size - 4)
    return local if local <= most else least


def _from_others(pages: Pages, number: int, length: int) -> bytes:
    """Follow a row into its further pages."""
    parts: list[bytes] = []
    left, seen = length, set[int]()
    while left > 0:
        page = pages.newest(number)
        if number in seen or len(page) < pages.size:
            raise ValueError
        seen.add(number)
        parts.append(page[4 : 4 + left])
        left -= len(parts[-1])
        number = int.from_bytes(page[:4], "big")
    return b"".join(parts)


def _values(data: bytes, length: int) -> Values:
    """Read the values of a row out of all its bytes."""
    if len(data) < length:
        raise ValueError
    header, here = _varint(data, 0)
    body, values = header, list[object]()
    while here < header:
        kind, here = _varint(data, here)
        size = _size_of(kind)
        values.append(_value(kind, data[body : body + size]))
        body += size
    return tuple(values)


def _value(kind: int, data: bytes) -> object:
    if kind >= 12:
        return text_of(data) if kind & 1 else data
    if kind in _WHOLE_NUMBERS:
        return int.from_bytes(data, "big", signed=True)
    return {8: 0, 9: 1}.get(kind)


def _varint(data: bytes, at: int) -> tuple[int, int]:
    """Read a number of one to nine bytes; give what follows it."""
    value = 0
    for size in range(9):
        byte = data[at + size]
        if size == 8:
            return value << 8 | byte, at + 9
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + size + 1
    raise IndexError


def _as_varint(value: int) -> bytes:
    """Write a number as ``_varint`` reads it, below 2 to the 56th."""
    parts = [value & 0x7F]
    while value := value >> 7:
        parts.append(value & 0x7F | 0x80)
    return bytes(reversed(parts))
