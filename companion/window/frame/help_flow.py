"""How groups of keys flow into columns and pages, so that no row is cut and no group is dropped."""

from collections.abc import Sequence
from dataclasses import dataclass

TITLE_ROWS = 1.2  # what a title takes, and the space above it, in rows
SPACE_ROWS = 0.6
_LEAST_ROWS = 3  # of a group, at the foot of a column and at the head of the next


@dataclass(frozen=True, slots=True)
class HelpRow:
    """One key: what stands on it, what it does, and what a click does, if anything."""

    cap: str
    says: str
    action: str = ""


@dataclass(frozen=True, slots=True)
class KeyGroup:
    """Keys that hold in one place. ``needed`` ones may go on in the next column."""

    title: str
    rows: tuple[HelpRow, ...]
    needed: bool = True


@dataclass(frozen=True, slots=True)
class GroupPart:
    """What of a group stands in a column: how far down it begins, in rows, and its rows."""

    title: str
    rows: tuple[HelpRow, ...]
    column: int
    top: float


def pages_of(
    groups: Sequence[KeyGroup], columns: int, room: float
) -> tuple[tuple[GroupPart, ...], ...]:
    """Fill columns from the left, page after page.

    Parameters
    ----------
    groups : sequence of KeyGroup
        In the order in which they are read.
    columns : int
        Columns of a page.
    room : float
        Height of a column in rows; with less than two rows it overflows.

    Returns
    -------
    tuple of tuple of GroupPart
        The pages. A group that is not needed is kept whole where a column can hold it.
    """
    parts: list[GroupPart] = []
    column, top = 0, 0.0  # counted on over all pages
    for group in groups:
        rest = group.rows
        while rest:
            count = _count(rest, int(room - top - TITLE_ROWS), whole=not group.needed)
            if not count and top > 0.0:
                column, top = column + 1, 0.0
                continue
            count = count or max(1, min(len(rest), int(room - TITLE_ROWS)))
            parts.append(GroupPart(group.title, rest[:count], column, top))
            top += TITLE_ROWS + len(rest[:count]) + SPACE_ROWS
            rest = rest[count:]
    return tuple(
        tuple(part for part in parts if part.column // columns == page)
        for page in range(column // columns + 1)
    )


def _count(rest: Sequence[HelpRow], free: int, *, whole: bool) -> int:
    """Give how many rows go into what is free of a column; 0: better begin in the next one."""
    if free >= len(rest):
        return len(rest)
    count = min(free, len(rest) - _LEAST_ROWS)
    return 0 if whole or count < _LEAST_ROWS else count
