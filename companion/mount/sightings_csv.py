"""Sightings as a table: ``utc,target,azimuth_reading_deg,altitude_reading_deg`` and more.

The first line names the columns, in any order; ``sigma_deg``, ``ra_deg`` and ``dec_deg`` may be
left out. A row has a target's name, or no name and an ICRS position in degrees. Either reading
may be empty. Columns are parted by commas, semicolons or tabs.
"""

import csv
import math
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final

from companion.advice import AdviceError
from companion.mount.dial import checked_reading, parse_reading
from companion.mount.records import Dial, Mount

LARGEST_CHARACTERS: Final = 2_000_000
MOST_ROWS: Final = 300  # of one night; more would only be slow
_NEEDED = ("utc", "target", "azimuth_reading_deg", "altitude_reading_deg")
_OPTIONAL = ("sigma_deg", "ra_deg", "dec_deg")
_LONGEST_NAME = 200


@dataclass(frozen=True, slots=True)
class SightingRow:
    """One good row; where the target stood is for the caller to find out.

    ``target`` is empty where ``ra_deg`` and ``dec_deg`` (ICRS) are given instead.
    """

    line: int
    utc: datetime
    target: str
    ra_deg: float | None
    dec_deg: float | None
    azimuth_reading_deg: float | None
    altitude_reading_deg: float | None
    sigma_deg: float | None


@dataclass(frozen=True, slots=True)
class SightingTable:
    """The good rows of a table, and one line of report for each bad one."""

    rows: tuple[SightingRow, ...]
    report: tuple[str, ...]


def parse_sightings(text: str, mount: Mount) -> SightingTable:
    """Read a table of sightings made with a mount.

    Raises
    ------
    AdviceError
        If the whole is no such table or too large; bad rows only add to the report.
    """
    if len(text) > LARGEST_CHARACTERS:
        raise AdviceError(
            f"The table has more than {LARGEST_CHARACTERS:,} characters.",
            f"Give at most {MOST_ROWS} sightings of one night.",
            "No sighting was taken.",
        )
    lines = text.removeprefix("\ufeff").splitlines()
    columns = _columns(lines)
    rows: list[SightingRow] = []
    report: list[str] = []
    for number, line in enumerate(lines[1:], 2):
        if not line.strip(" ,;\t"):
            continue
        if len(rows) == MOST_ROWS:
            report.append(f"line {number}: only the first {MOST_ROWS} sightings are taken")
            break
        try:
            rows.append(_row(number, _cells(line, columns), mount))
        except AdviceError as error:
            report.append(f"line {number}: {error.wrong} {error.do}")
    return SightingTable(tuple(rows), tuple(report))


@dataclass(frozen=True, slots=True)
class _Columns:
    delimiter: str
    names: tuple[str, ...]


def _columns(lines: list[str]) -> _Columns:
    """Read the line with the names of the columns."""
    head = lines[0] if lines else ""
    delimiter = max(",;\t", key=head.count)
    names = tuple(name.strip().lower() for name in _split(head, delimiter))
    missing = [name for name in _NEEDED if name not in names]
    unknown = [name for name in names if name not in (*_NEEDED, *_OPTIONAL)]
    if missing or unknown or len(set(names)) < len(names):
        named = f"lacks {', '.join(missing)}" if missing else "names a column twice"
        if unknown:
            named = f"names the unknown column {unknown[0][:60]!r}"
        raise AdviceError(
            f"The first line {named}.",
            f"Begin with {','.join(_NEEDED)} and, if wanted, {','.join(_OPTIONAL)}.",
            "No sighting was taken.",
        )
    return _Columns(delimiter, names)


def _cells(line: str, columns: _Columns) -> dict[str, str]:
    cells = _split(line, columns.delimiter)
    if len(cells) > len(columns.names):
        raise AdviceError(
            f"It has {len(cells)} columns, the first line {len(columns.names)}.",
            "Put text with a comma into quotes.",
        )
    return dict.fromkeys(columns.names, "") | dict(
        zip(columns.names, (cell.strip() for cell in cells), strict=False)
    )


def _split(line: str, delimiter: str) -> list[str]:
    try:
        return next(csv.reader([line], delimiter=delimiter, strict=True), [])
    except csv.Error as error:
        raise AdviceError(f"It is not a row of a table: {error}.", "Check its quotes.") from error


def _row(number: int, cells: dict[str, str], mount: Mount) -> SightingRow:
    ra = _optional(cells.get("ra_deg", ""), "ra_deg", -360.0, 360.0)
    dec = _optional(cells.get("dec_deg", ""), "dec_deg", -90.0, 90.0)
    target = cells["target"][:_LONGEST_NAME]
    if not target and (ra is None or dec is None):
        raise AdviceError("It names no target.", "Give a name, or both ra_deg and dec_deg.")
    azimuth = _reading(mount.azimuth, cells["azimuth_reading_deg"], "azimuth")
    altitude = _reading(mount.altitude, cells["altitude_reading_deg"], "altitude")
    if azimuth is None and altitude is None:
        raise AdviceError("It has no reading.", "Give at least one of the two readings.")
    sigma = _optional(cells.get("sigma_deg", ""), "sigma_deg", 1e-4, 180.0)
    utc = _utc(cells["utc"])
    return SightingRow(number, utc, target, ra, dec, azimuth, altitude, sigma)


def _reading(dial: Dial, text: str, what: str) -> float | None:
    if not text:
        return None
    value = _plain_number(text)
    if value is None:
        return parse_reading(dial, text, what)
    return checked_reading(dial, value, what)


def _optional(text: str, what: str, low: float, high: float) -> float | None:
    if not text:
        return None
    value = _plain_number(text)
    if value is None or not low <= value <= high:
        raise AdviceError(
            f"{what} is {text[:40]!r}.", f"Give a number from {low:g} to {high:g}, or nothing."
        )
    return value


def _plain_number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def _utc(text: str) -> datetime:
    """Read an ISO 8601 moment; without an offset it is UTC, as the column says."""
    try:
        moment = datetime.fromisoformat(text)
        return (moment if moment.tzinfo else moment.replace(tzinfo=UTC)).astimezone(UTC)
    except (ValueError, OverflowError) as error:
        raise AdviceError(
            f"{text[:40]!r} is not a moment.", "Give one such as 2026-11-25T21:30:00Z."
        ) from error
