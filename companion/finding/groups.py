"""Star groups that people find their way by: their stars, lines and curved rows."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from companion.advice import AdviceError
from companion.sky import resource


class Hemisphere(StrEnum):
    """Where a group stands; equatorial ones serve both halves of the Earth."""

    NORTHERN = "northern"
    EQUATORIAL = "equatorial"
    SOUTHERN = "southern"


@dataclass(frozen=True, slots=True)
class Group:
    """A group of stars, by Hipparcos numbers.

    ``lines`` join two stars each; ``rows`` are stars whose gentle curve leads on to something.
    A row may end in a star outside the group.
    """

    key: str  # "dipper"; the catalogue's target, where it has one, is "group:dipper"
    name: str
    aliases: tuple[str, ...]
    constellation: str  # IAU abbreviation of the constellation that its middle lies in
    hemisphere: Hemisphere
    stars: tuple[int, ...]
    lines: tuple[tuple[int, int], ...]
    rows: tuple[tuple[int, ...], ...]

    @property
    def called(self) -> str:
        """The name as it stands in a sentence: ``the Big Dipper``, ``Orion's Belt``."""
        bare = self.name.split()[0].endswith("'s") or self.name.startswith("Heads of")
        return self.name if bare else f"the {self.name}"


@lru_cache(maxsize=1)
def load_groups() -> tuple[Group, ...]:
    """Read ``resources/group_lines.json``."""
    rows = json.loads(resource("group_lines.json").read_text(encoding="utf-8"))
    return tuple(
        Group(
            key=row["key"],
            name=row["name"],
            aliases=tuple(row["aliases"]),
            constellation=row["constellation"],
            hemisphere=Hemisphere(row["hemisphere"]),
            stars=tuple(row["stars"]),
            lines=tuple((first, second) for first, second in row["lines"]),
            rows=tuple(tuple(stars) for stars in row["rows"]),
        )
        for row in rows
    )


def find_group(text: str, groups: Sequence[Group] | None = None) -> Group:
    """Give the group that a person means by a name, an alias or a key.

    Raises
    ------
    AdviceError
        If no group is called so, or several could be meant.
    """
    known = load_groups() if groups is None else groups
    wanted = _plain(text)
    for group in known:
        if wanted in {_plain(name) for name in (group.key, group.name, *group.aliases)}:
            return group
    found = [g for g in known if wanted and wanted in " ".join(map(_plain, (g.name, *g.aliases)))]
    if len(found) == 1:
        return found[0]
    some = ", ".join(group.name for group in (found or known)[:5])
    raise AdviceError(
        f"{'Several star groups are' if found else 'No star group is'} called {text[:40]!r}.",
        f"Name one, for instance {some}.",
    )


def _plain(text: str) -> str:
    """Leave letters and figures only, so that spelling details do not matter."""
    words = text[:80].casefold().replace("the ", "").replace("group:", "")
    return "".join(sign for sign in words if sign.isalnum())
