"""Journals that are damaged on purpose, and what must be readable in them all the same."""

import random
import shutil
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

from companion.journal import FILE_NAME, Journal, Mark, Outcome

BEGUN_UTC = datetime(2026, 10, 10, 20, 0, tzinfo=UTC)
HORIZON = [[float(azimuth), 7.5] for azimuth in range(0, 360, 3)]
SITE = {"name": "Loon Barrens", "latitude_deg": 45.2, "horizon": HORIZON}


def make_journal(home: Path, events: int, *, log: bool = True) -> Path:
    """Write an evening as a killed window leaves it: some of it in the file, some in its log."""
    path = home / FILE_NAME
    work = home / "work" / FILE_NAME
    work.parent.mkdir(parents=True)
    with closing(Journal(work)) as journal:
        journal.set(BEGUN_UTC, "sites", [SITE])
        journal.set(BEGUN_UTC, "mount", "wooden")
        for number in range(events):
            utc = BEGUN_UTC + timedelta(minutes=number)
            night = f"2026-10-{10 + number // 40}"
            target = {"key": f"hip:{number}", "name": f"star {number}"}
            note = f"note {number} " + "x" * (number % 7 * 30)
            journal.mark(night, utc, Mark(target, Outcome.FOUND, note, site=SITE))
            if number == events * 3 // 4 or not log:
                journal.checkpoint()
        for part in work.parent.iterdir():
            if not part.name.endswith("-shm"):
                shutil.copyfile(part, home / part.name)
    shutil.rmtree(work.parent)
    return path


def cells_of(path: Path) -> dict[int, bytes]:
    """Give the bytes of every event that fits into one page, built anew from its values.

    By https://www.sqlite.org/fileformat2.html, sections 1.6 and 2.1: the length of the row, its
    number, its header, its values. Written apart from the program's own reading of them.
    """
    cells = {}
    with closing(Journal(path)) as journal:
        rows = journal.connection.execute(
            "SELECT number, utc, night, kind, subject, payload, cancels FROM event"
        ).fetchall()
    for number, *texts, cancels in rows:
        values = [text.encode() for text in texts]
        kinds = [_varint(13 + 2 * len(value)) for value in values]
        assert cancels is None
        header = b"\0" + b"".join(kinds) + b"\0"
        row = bytes([len(header) + 1]) + header + b"".join(values)
        if len(row) < 4000:
            cells[number] = _varint(len(row)) + _varint(number) + row
    return cells


def _varint(value: int) -> bytes:
    low = bytes([value & 0x7F])
    return low if value < 0x80 else bytes([value >> 7 | 0x80]) + low if value < 0x4000 else b""


def whole_numbers(path: Path, cells: dict[int, bytes]) -> set[int]:
    """Give the numbers of the events whose own bytes are still whole, in the file or its log."""
    log = path.with_name(path.name + "-wal")
    data = path.read_bytes() + (log.read_bytes() if log.exists() else b"")
    return {number for number, cell in cells.items() if cell in data}


def _overwrite(data: bytearray, chance: random.Random, length: int) -> None:
    at = chance.randrange(max(1, len(data) - length))
    data[at : at + length] = chance.randbytes(min(length, len(data) - at))


def _blank_page(data: bytearray, chance: random.Random) -> None:
    at = chance.randrange(0, len(data), 4096)
    data[at : at + 4096] = bytes(min(4096, len(data) - at))


def _swap_pages(data: bytearray, chance: random.Random) -> None:
    one, other = (chance.randrange(0, len(data) - 4095, 4096) for _ in range(2))
    data[one : one + 4096], data[other : other + 4096] = (
        data[other : other + 4096],
        data[one : one + 4096],
    )


def _cut(data: bytearray, chance: random.Random) -> None:
    del data[chance.randrange(len(data) // 2, len(data)) :]


def _flip(data: bytearray, chance: random.Random) -> None:
    data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)


DAMAGES: dict[str, Callable[[bytearray, random.Random], None]] = {
    "one bit": _flip,
    "one byte": lambda data, chance: _overwrite(data, chance, 1),
    "500 bytes": lambda data, chance: _overwrite(data, chance, 500),
    "the head": lambda data, chance: data.__setitem__(slice(0, 100), chance.randbytes(100)),
    "5000 bytes": lambda data, chance: _overwrite(data, chance, 5000),
    "a blank page": _blank_page,
    "two pages swapped": _swap_pages,
    "cut short": _cut,
}


def damage(path: Path, kind: str, chance: random.Random) -> None:
    """Damage the file, or as often its log."""
    log = path.with_name(path.name + "-wal")
    part = log if log.exists() and chance.random() < 0.4 else path
    data = bytearray(part.read_bytes())
    DAMAGES[kind](data, chance)
    part.write_bytes(bytes(data))
