"""The lines of a list taken apart: which cell is a name, a position, a number of minutes."""

import csv
from collections.abc import Iterator
from dataclasses import dataclass

from companion.files import plain_cell
from companion.night.lists.text_file import sniffed_delimiter

MOST_LINES = 200_000
LONGEST_CELL = 200
_ROLES = {
    "key": ("key",),
    "name": ("name", "object", "target", "designation", "id", "title"),
    "ra": ("ra", "radeg", "rightascension", "raj2000", "rah", "rahours"),
    "dec": ("dec", "decdeg", "declination", "decj2000", "de", "dej2000"),
    "magnitude": ("magnitude", "mag", "vmag", "v"),
    "kind": ("kind", "type", "class"),
    "note": ("note", "notes", "comment", "comments", "remark", "description"),
    "minutes": ("minutes", "min", "duration"),
    "value": ("value", "priority", "worth"),
}
_ROLE_OF = {word: role for role, words in _ROLES.items() for word in words}
_HOURS = frozenset({"rah", "rahours"})


@dataclass(frozen=True, slots=True)
class ListRow:
    """One line. ``cells`` are those of a line without roles, ``values`` those under a heading."""

    number: int
    cells: tuple[str, ...]
    values: dict[str, str]

    @property
    def text(self) -> str:
        """The line as it can be quoted back."""
        return " ".join(" ".join(self.cells).split())[:60]


def rows_of(text: str) -> Iterator[ListRow]:
    """Give the lines that say something; a first line of column names gives the others roles.

    Each line is taken by itself, so that a stray quote spoils one line only.
    """
    lines = text.splitlines()
    mark = sniffed_delimiter(text)
    roles: list[str] | None = None
    begun = False
    for number, line in enumerate(lines, start=1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        cells = _cells(line, mark)
        if not any(cells):
            continue
        if not begun:
            begun, roles = True, _heading(cells)
            if roles is not None:
                continue
        yield _row(number, cells, roles)


def count_lines(text: str) -> int:
    """Count the lines of a text."""
    return len(text.splitlines())


def _cells(line: str, mark: str) -> list[str]:
    """Part a line, by another separator where it has none of the list's own."""
    here = next((one for one in (mark, "\t", ";", ",") if one in line), mark)
    try:
        found = next(csv.reader([line], delimiter=here, skipinitialspace=True), [])
    except csv.Error:
        found = line.split(here)
    return [_clean(cell) for cell in found]


def _clean(cell: str) -> str:
    """Leave quotes and what steers a terminal out of a cell, and cut it where it gets absurd."""
    text = " ".join(plain_cell(cell).replace('"', " ").split())[:LONGEST_CELL]
    return text if text.isprintable() else "".join(c for c in text if c.isprintable())


def _heading(cells: list[str]) -> list[str] | None:
    """Give the role of each column, empty where it has none; None if the line is no heading."""
    words = ["".join(c for c in cell.casefold() if c.isalnum()) for cell in cells]
    roles = ["ra hours" if word in _HOURS else _ROLE_OF.get(word, "") for word in words]
    has_place = "dec" in roles and ("ra" in roles or "ra hours" in roles)
    return roles if has_place or {"name", "key"} & set(roles) else None


def _row(number: int, cells: list[str], roles: list[str] | None) -> ListRow:
    values: dict[str, str] = {}
    if roles is not None:
        for role, cell in zip(roles, cells, strict=False):
            if role and cell and role not in values:
                values[role] = cell
    return ListRow(number, tuple(cell for cell in cells if cell), values)
