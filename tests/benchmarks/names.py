#!/usr/bin/env python3
"""Count names that lead to another object: catalogue numbers 1 to 1,000, variable stars' names.

``python tests/benchmarks/names.py`` prints, for each catalogue and each kind of designation, how
many resolve rightly, are refused, and resolve wrongly. What is right is read from the packages and
tables that the data files are made of, not from the program's own index.
"""

import collections
import itertools
import sys
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from reference.named_sources import (
    FORMS,
    Place,
    Sources,
    constellations,
    outcome,
    variable_names,
    where,
)

from companion.sky import SearchIndex, load_catalogue

NUMBERS = range(1, 1001)
Count = collections.Counter[str]


def cases(sources: Sources) -> Iterator[tuple[str, str, Place | None]]:
    """Give every kind, text and where it stands, None if nobody can know."""
    for family, forms in FORMS.items():
        for number, form in itertools.product(NUMBERS, forms):
            yield family, form.format(number), sources.place(family, form, number)
    for constellation, name in itertools.product(constellations(), variable_names()):
        yield "variable", f"{name} {constellation}", sources.variable(name, constellation)


def main() -> int:
    """Print the figures; 1 if a name leads to another object."""
    search, sources = SearchIndex(load_catalogue()), Sources()
    counts: dict[str, Count] = collections.defaultdict(collections.Counter)
    examples: dict[str, list[str]] = collections.defaultdict(list)
    for kind, text, right in cases(sources):
        result = outcome(where(search, text), right)
        counts[kind][result] += 1
        if result in {"WRONG", "missing"} and len(examples[kind]) < 4:
            examples[kind].append(text)
    for kind, count in counts.items():
        figures = "  ".join(f"{name} {count[name]:6}" for name in ("right", "refused", "missing"))
        print(f"{kind:<12} {figures}  WRONG {count['WRONG']:6}  {', '.join(examples[kind])}")
    wrong = sum(count["WRONG"] for count in counts.values())
    print(f"wrong in all: {wrong} of {sum(sum(count.values()) for count in counts.values())}")
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main())
