"""Who imports whom, file by file: façades are looked through, circles and deep imports found.

A lazy façade hides what stands behind it from tools that follow imports: ``from companion.sky
import separation_deg`` looks like an import of an empty ``__init__.py``. Here every such name is
led to the file that defines it, by the façade's own list (``__init__.pyi``).
"""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path

ROOT_PACKAGE = "companion"


@dataclass(frozen=True, slots=True)
class Import:
    """One name that one file takes from another module of the program, or from outside.

    ``module`` is what is written after ``from`` or ``import``, made absolute; ``name`` is empty
    where the module itself is imported.
    """

    importer: str
    line: int
    module: str
    name: str

    def __str__(self) -> str:
        """Give the place and what is imported there."""
        what = f"{self.module}.{self.name}" if self.name else self.module
        return f"{self.importer}:{self.line} imports {what}"


class House:
    """The program's files and what each takes from the others.

    Parameters
    ----------
    root : Path
        The folder that holds the package.
    """

    def __init__(self, root: Path) -> None:
        self._root = root

    @cached_property
    def files(self) -> Mapping[str, Path]:
        """Each module's dotted name and its file; a package has its ``__init__.py``'s."""
        found = sorted((self._root / ROOT_PACKAGE).rglob("*.py"))
        return {self._dotted(path): path for path in found}

    @cached_property
    def facades(self) -> Mapping[str, Mapping[str, str]]:
        """Each façade's names with the module that its list takes them from."""
        stubs = sorted((self._root / ROOT_PACKAGE).rglob("__init__.pyi"))
        return {self._dotted(stub): self._listed(stub) for stub in stubs}

    @cached_property
    def imports(self) -> tuple[Import, ...]:
        """Every import of every file, wherever in the file it stands."""
        return tuple(
            one for module, path in self.files.items() for one in self._imports(module, path)
        )

    @cached_property
    def graph(self) -> Mapping[str, frozenset[str]]:
        """The program's files and the files that each imports, façades looked through."""
        graph: dict[str, set[str]] = {module: set() for module in self.files}
        for one in self.imports:
            target = self.target_of(one)
            if target in graph and target != one.importer:
                graph[one.importer].add(target)
        return {module: frozenset(targets) for module, targets in graph.items()}

    def target_of(self, one: Import) -> str:
        """Give the module whose file an import reads in the end."""
        return self.facades.get(one.module, {}).get(one.name, one.module)

    def circles(self) -> list[tuple[str, ...]]:
        """Give the groups of files of which each imports, by some way, every other."""
        reach = {module: self.reached_from(module) for module in self.graph}
        groups = {
            tuple(sorted(other for other in reach[module] if module in reach[other]))
            for module in self.graph
            if module in reach[module]
        }
        return sorted(groups)

    def reached_from(self, module: str) -> frozenset[str]:
        """Give the files that a file imports, and those that they import, and so on."""
        seen: set[str] = set()
        waiting = [module]
        while waiting:
            new = self.graph[waiting.pop()] - seen
            seen |= new
            waiting += new
        return frozenset(seen)

    def _dotted(self, path: Path) -> str:
        parts = path.relative_to(self._root).with_suffix("").parts
        return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)

    def _listed(self, stub: Path) -> Mapping[str, str]:
        package = self._dotted(stub)
        return {
            alias.asname or alias.name: f"{package}.{node.module}"
            for node in ast.parse(stub.read_text()).body
            if isinstance(node, ast.ImportFrom)
            for alias in node.names
        }

    def _imports(self, module: str, path: Path) -> Iterator[Import]:
        package = module if path.name == "__init__.py" else module.rpartition(".")[0]
        for node in _importing(path.read_text()):
            for source, name in _taken(node, package):
                inner = f"{source}.{name}"
                listed = name in self.facades.get(source, {})
                is_module = inner in self.files and not listed
                taken = (inner, "") if is_module else (source, name)
                yield Import(module, node.lineno, *taken)


@lru_cache(maxsize=1024)
def _importing(text: str) -> tuple[ast.stmt | ast.expr, ...]:
    """Give what may import in a file; kept, since many trees differ in one file only."""
    kinds = ast.Import | ast.ImportFrom | ast.Call
    return tuple(node for node in ast.walk(ast.parse(text)) if isinstance(node, kinds))


def _taken(node: ast.AST, package: str) -> Iterator[tuple[str, str]]:
    """Give the modules that a statement imports, each with the name taken from it."""
    match node:
        case ast.Import(names):
            yield from ((alias.name, "") for alias in names)
        case ast.ImportFrom(_, names):
            yield from ((_absolute(node, package), alias.name) for alias in names)
        case ast.Call(
            ast.Name("import_module" | "__import__") | ast.Attribute(_, "import_module"),
            [ast.Constant(str(module)), *_],
        ):
            yield module, ""


def _absolute(node: ast.ImportFrom, package: str) -> str:
    """Give the module that a ``from`` names, dots resolved."""
    if not node.level:
        return node.module or ""
    parts = package.split(".")
    base = parts[: len(parts) - node.level + 1]
    return ".".join([*base, *([node.module] if node.module else [])])
