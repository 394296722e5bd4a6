#!/usr/bin/env python3
"""How large the house is: files, lines, functions, circles, deep imports.

``python packaging/figures.py [FOLDER]`` measures another checkout as well, say an older one.
"""

from __future__ import annotations

import ast
import sys
from collections.abc import Sequence
from pathlib import Path

from contracts import facade_breaches
from environment import ROOT
from house import ROOT_PACKAGE, House


def tail(sizes: Sequence[int]) -> str:
    """Give the median, the ninetieth percentile and the most of some sizes."""
    ordered = sorted(sizes)
    middle, late = (ordered[int(share * (len(ordered) - 1))] for share in (0.5, 0.9))
    return f"median {middle}, 90% up to {late}, longest {ordered[-1]}"


def function_lines(path: Path) -> list[int]:
    """Give the lines of each function of a file, its decorators and docstring left out."""
    functions = (
        node
        for node in ast.walk(ast.parse(path.read_text()))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
    )
    return [_body_lines(node) for node in functions]


def _body_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    words = node.body[0] if ast.get_docstring(node) is not None else None
    of_words = 0 if words is None else (words.end_lineno or 0) - words.lineno + 1
    return (node.end_lineno or 0) - node.lineno + 1 - of_words


def fullest_folder(paths: Sequence[Path], root: Path) -> str:
    """Name the folder with the most files."""
    folders = [path.parent for path in paths]
    most = max(set(folders), key=folders.count)
    return f"{most.relative_to(root)} with {folders.count(most)} files"


def main() -> int:
    """Print the figures."""
    root = Path(sys.argv[1]).resolve() if len(sys.argv) > 1 else ROOT
    house = House(root)
    paths = list(house.files.values())
    lengths = [len(path.read_text().splitlines()) for path in paths]
    functions = [lines for path in paths for lines in function_lines(path)]
    print(f"{ROOT_PACKAGE}: {len(paths)} files, {sum(lengths)} lines")
    print(f"lines of a file: {tail(lengths)}")
    print(f"{len(functions)} functions; lines of one without its docstring: {tail(functions)}")
    print(f"fullest folder: {fullest_folder(paths, root)}")
    print(f"circles between files: {len(house.circles())}")
    print(f"breaches of façades: {len(list(facade_breaches(house)))}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
