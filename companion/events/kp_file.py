"""Kp as observatories publish it, read from a file that a person brings.

Three forms are read: the columns of the index's own service (GFZ Potsdam: year, month, day, hour,
… with Kp in the eighth column), JSON as the Space Weather Prediction Center gives it (rows under a
head, or objects), and lines of a time and a value. All times are UTC; a value holds three hours.
"""

import csv
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from companion.advice import AdviceError
from companion.events.aurora import parse_kp
from companion.untrusted import Limits, check_size, read_file, text_of

KP_HOLDS = timedelta(hours=3)  # the index is one value for three hours
_LIMITS = Limits("a file of Kp", 16_000_000, "Nothing was read.", "Name a file of Kp.")
_COLUMNS, _KP_COLUMN = 8, 7
_TIME_KEYS, _KP_KEYS = ("time_tag", "time", "utc", "datetime"), ("kp", "kp_index", "estimated_kp")


@dataclass(frozen=True, slots=True)
class KpRow:
    """Kp of three hours from ``start_utc``."""

    start_utc: datetime
    kp: float


def read_kp_file(path: Path | str) -> tuple[KpRow, ...]:
    """Read a file of Kp, in order of time.

    Raises
    ------
    AdviceError
        If it cannot be read, is too large, or no line of it is a time and a Kp.
    """
    return read_kp(read_file(path, _LIMITS), str(path)[:200])


def read_kp(data: bytes | str, name: str = "The file") -> tuple[KpRow, ...]:
    """Read Kp from the contents of a file, in order of time.

    Raises
    ------
    AdviceError
        If it is too large, or holds none.
    """
    check_size(data, _LIMITS)
    rows = {row.start_utc: row for row in _rows(text_of(data))}
    if not rows:
        raise AdviceError(
            f"{name} holds no Kp: no line of it is a time and a value from 0 to 9.",
            "Bring the index as published, or lines such as 2026-10-10T21:00, 4.33.",
            _LIMITS.kept,
        )
    return tuple(rows[start] for start in sorted(rows))


def kp_at(rows: Sequence[KpRow], utc: datetime) -> KpRow | None:
    """Give what holds at a moment; None where the file says nothing about it."""
    held = [row for row in rows if row.start_utc <= utc < row.start_utc + KP_HOLDS]
    return held[-1] if held else None


def _rows(text: str) -> Iterator[KpRow]:
    found = _of_json(text) if text.lstrip()[:1] in {"[", "{"} else _of_lines(text)
    for time, kp in found:
        row = _row(time, kp)
        if row is not None:
            yield row


def _row(time: str, kp: str) -> KpRow | None:
    """Give a row; None for what is none, or says that the value is missing."""
    try:
        start = datetime.fromisoformat(time.strip())
        start = start if start.tzinfo else start.replace(tzinfo=UTC)
        return KpRow(start.astimezone(UTC), parse_kp(kp))
    except (ValueError, OverflowError, AdviceError):
        return None


def _of_lines(text: str) -> Iterator[tuple[str, str]]:
    for line in text.splitlines():
        if line.startswith("#") or len(line) > 400:
            continue
        words = line.split()
        if len(words) >= _COLUMNS and words[0].isdigit() and len(words[0]) == 4:
            yield _service_time(words), words[_KP_COLUMN]
            continue
        cells = next(csv.reader([line]), []) if "," in line else _time_and_value(words)
        if len(cells) >= 2:
            yield cells[0], cells[1]


def _service_time(words: Sequence[str]) -> str:
    """Give the time of the service's columns: year, month, day, and hour with a fraction."""
    try:
        hour = int(float(words[3]))
        return f"{words[0]}-{int(words[1]):02d}-{int(words[2]):02d}T{hour:02d}:00"
    except (ValueError, OverflowError):
        return ""


def _time_and_value(words: Sequence[str]) -> list[str]:
    """Give the time, of one or two words, and the value after it."""
    return [] if len(words) < 2 else ["T".join(words[:-1]), words[-1]]


def _of_json(text: str) -> Iterator[tuple[str, str]]:
    try:
        rows = json.loads(text)
    except (ValueError, RecursionError):
        return
    if not isinstance(rows, list) or not rows:
        return
    head = [str(cell).casefold() for cell in rows[0]] if isinstance(rows[0], list) else []
    for row in rows:
        fields = row if isinstance(row, Mapping) else _under(head, row)
        plain = {str(key).casefold(): str(value) for key, value in fields.items()}
        time = next((plain[key] for key in _TIME_KEYS if key in plain), "")
        kp = next((plain[key] for key in _KP_KEYS if key in plain), "")
        yield time, kp


def _under(head: Sequence[str], row: object) -> Mapping[str, object]:
    return dict(zip(head, row, strict=False)) if isinstance(row, list) else {}
