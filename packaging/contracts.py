#!/usr/bin/env python3
"""What the import contracts in pyproject.toml cannot see, because the façades are lazy.

Other packages are read through their façades only, by names that these list; no two files import
each other, whatever lies between; the window reads plain records and words, nothing that computes
a position. ``python packaging/contracts.py`` prints each breach in a line.
"""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Iterator, Sequence
from fnmatch import fnmatchcase
from pathlib import Path

from house import ROOT_PACKAGE, House

WINDOW = f"{ROOT_PACKAGE}.window"


def breaches(root: Path) -> list[str]:
    """Give every breach of a program's house, in words; ``root`` holds pyproject.toml, too."""
    house = House(root)
    settings = tomllib.loads((root / "pyproject.toml").read_text())["tool"]["house"]
    return [
        *facade_breaches(house),
        *window_breaches(house, settings["window_reads"], settings["window_never_reads"]),
        *(f"These import each other: {', '.join(circle)}" for circle in house.circles()),
    ]


def facade_breaches(house: House) -> Iterator[str]:
    """Give deep imports, names that no façade lists, and lists that lead nowhere."""
    for one in house.imports:
        package = package_of(one.module)
        if not one.module.startswith(f"{ROOT_PACKAGE}."):
            continue
        if package == package_of(one.importer):
            if one.module in house.facades:
                yield f"{one}: a file takes nothing from its own package's façade"
        elif one.module != package:
            yield f"{one}: other packages read the façade, {package}"
        elif package in house.facades and one.name not in house.facades[package]:
            yield f"{one}: the façade doesn't list it"
    for facade, names in house.facades.items():
        for name, module in names.items():
            if module not in house.files:
                yield f"{facade} lists {name} from {module}, which is not there"


def window_breaches(house: House, readable: Sequence[str], never: Sequence[str]) -> Iterator[str]:
    """Give what the window takes from files that are not there for it to read."""
    for one in house.imports:
        target = house.target_of(one)
        if package_of(one.importer) != WINDOW or package_of(target) in {WINDOW, ROOT_PACKAGE, ""}:
            continue
        if is_below(target, never) or not is_below(target, readable):
            yield f"{one} from {target}: the window doesn't read that file ([tool.house])"


def is_below(module: str, places: Sequence[str]) -> bool:
    """Say whether a module is one of these places, or stands in one; a star stands for any text."""
    return any(fnmatchcase(module, pattern) for at in places for pattern in (at, f"{at}.*"))


def package_of(module: str) -> str:
    """Give the package that a module of the program belongs to; empty for modules of others."""
    parts = module.split(".")
    return ".".join(parts[:2]) if parts[0] == ROOT_PACKAGE else ""


def main() -> int:
    """Print all breaches; fail if there is one."""
    found = breaches(Path(__file__).resolve().parent.parent)
    for breach in found:
        print(breach)
    print(f"{len(found)} breaches of the house's contracts")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
