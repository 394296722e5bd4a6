#!/usr/bin/env python3
"""What nothing in the program uses: tests alone keep nothing alive.

``python packaging/unused.py`` prints a line for each. Members of enumerations are told by their
values, and Qt calls what it knows by name. What has another reason stands with it in
pyproject.toml, under ``[tool.house.unused_on_purpose]``.
"""

from __future__ import annotations

import ast
import sys
import tomllib
from collections.abc import Collection, Iterator
from pathlib import Path

from environment import ROOT
from house import ROOT_PACKAGE
from vulture import Vulture

# Called by Qt, by the enum module and by SQLite, and flags that numpy reads.
_CALLED_BY_OTHERS = [
    "*Event", "eventFilter", "focusNextPrevChild", "_missing_", "text_factory", "writeable",
]  # fmt: skip
_SURE_PERCENT = 60  # of vulture's own scale: names that stand nowhere else


def unused(root: Path, on_purpose: Collection[str]) -> Iterator[str]:
    """Give what stands in the package and is used nowhere in it, and reasons for what is used."""
    finder = Vulture(ignore_names=_CALLED_BY_OTHERS, ignore_decorators=["@*.register"])
    finder.scavenge([root / ROOT_PACKAGE])
    reasons = set(on_purpose)
    for item in finder.get_unused_code(min_confidence=_SURE_PERCENT):
        if item.name in on_purpose:
            reasons.discard(item.name)
        elif item.first_lineno not in _enumerated(Path(item.filename)):
            place = Path(item.filename).relative_to(root)
            yield f"{place}:{item.first_lineno}: {item.message}"
    yield from (f"pyproject.toml: {name} is used, or gone" for name in sorted(reasons))


def _enumerated(path: Path) -> set[int]:
    """Give the lines of a file on which members of enumerations stand."""
    return {
        member.lineno
        for node in ast.walk(ast.parse(path.read_text()))
        if isinstance(node, ast.ClassDef)
        and any(ast.unparse(base).endswith(("Enum", "Flag")) for base in node.bases)
        for member in node.body
        if isinstance(member, ast.Assign)
    }


def main() -> int:
    """Print all that is unused; fail if there is something."""
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["house"]
    found = list(unused(ROOT, settings["unused_on_purpose"]))
    print("".join(f"{line}\n" for line in found), end="")
    print(f"{len(found)} unused")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
