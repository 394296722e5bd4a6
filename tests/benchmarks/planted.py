"""Small faults in a file's source, one at a time: what a slip of the hand would make of it."""

from __future__ import annotations

import ast
import copy
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import takewhile
from pathlib import Path

_COMPARED: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.Gt),
    ast.LtE: (ast.Lt, ast.GtE),
    ast.Gt: (ast.GtE, ast.Lt),
    ast.GtE: (ast.Gt, ast.LtE),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
_COUNTED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Add,
    ast.Pow: ast.Mult,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
}
_NAMED = {
    "sin": "cos", "cos": "sin", "min": "max", "max": "min", "minimum": "maximum",
    "maximum": "minimum", "floor": "ceil", "ceil": "floor", "any": "all", "all": "any",
    "argmin": "argmax", "argmax": "argmin", "radians": "degrees", "degrees": "radians",
}  # fmt: skip

_AROUND = 40  # characters shown before and behind a fault


@dataclass(frozen=True, slots=True)
class Fault:
    """A file's whole text with one fault in it; ``lines`` are those of the faulty statement."""

    file: str
    lines: range
    right: str
    wrong: str
    text: str

    def __str__(self) -> str:
        """Give the place, and what was made of what, with a little of what stands around it."""
        same = _alike(self.right, self.wrong)
        left = max(0, same - _AROUND)
        tail = _alike(self.right[same:][::-1], self.wrong[same:][::-1])
        right, wrong = (
            one[left : max(len(one) - tail, same) + _AROUND] for one in (self.right, self.wrong)
        )
        return f"{self.file}:{self.lines.start}: {right}  ->  {wrong}"


def faults_of(path: Path, root: Path) -> Iterator[Callable[[], Fault]]:
    """Give every fault that can be planted in a file, each to be made when it is wanted."""
    tree = ast.parse(path.read_text())
    make = partial(_fault, path.relative_to(root), tree)
    for statement, block in _statements(tree):
        for node in _spoken(statement):
            for change in _changes(node):
                yield partial(make, statement, node, change)
        called = isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Call)
        if called and len(block) > 1:
            yield partial(make, statement, statement, lambda _node: ast.Pass())


Change = Callable[[ast.AST], ast.AST]


def _statements(tree: ast.AST) -> Iterator[tuple[ast.stmt, list[ast.stmt]]]:
    """Give all statements with the block that each stands in; what is only for types is left."""
    for node in ast.walk(tree):
        if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
            node.body, node.orelse = [ast.Pass(lineno=node.lineno)], []
        for block in ("body", "orelse", "finalbody"):
            inside = getattr(node, block, None)
            if isinstance(inside, list):
                yield from ((one, inside) for one in inside if isinstance(one, ast.stmt))


def _spoken(statement: ast.stmt) -> Iterator[ast.AST]:
    """Give the parts of one statement, without inner statements, annotations and docstrings."""
    if isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant):
        return
    waiting: list[ast.AST] = [statement]
    while waiting:
        node = waiting.pop()
        yield node
        for name, value in ast.iter_fields(node):
            if name in {"annotation", "returns", "decorator_list", "type_params", "bases", "msg"}:
                continue
            parts = value if isinstance(value, list) else [value]
            waiting += [
                one for one in parts if isinstance(one, ast.AST) and not isinstance(one, ast.stmt)
            ]


def _changes(node: ast.AST) -> Iterator[Change]:
    """Give what may be made of one part."""
    match node:
        case ast.Compare(ops=[compared]):
            for kind in _COMPARED[type(compared)]:
                yield lambda found, kind=kind: _set(found, "ops", [kind()])  # type: ignore[misc]
        case ast.BinOp(op=operator) | ast.AugAssign(op=operator) if type(operator) in _COUNTED:
            other = _COUNTED[type(operator)]()
            yield lambda found: _set(found, "op", other)
        case ast.BoolOp(op=operator):
            turned = ast.Or() if isinstance(operator, ast.And) else ast.And()
            yield lambda found: _set(found, "op", turned)
        case ast.UnaryOp(op=ast.Not() | ast.USub()):
            yield lambda found: found.operand  # type: ignore[attr-defined]
        case ast.Constant(value=value) if isinstance(value, bool | int | float):
            yield lambda found: _set(found, "value", _other_number(value))
        case ast.Attribute(attr=name) if name in _NAMED:
            yield lambda found: _set(found, "attr", _NAMED[name])
        case ast.Call(func=ast.Name(id=name), args=args) if name in _NAMED and args:
            yield lambda found: _set(found, "func", ast.Name(_NAMED[name], ast.Load()))
        case ast.IfExp():
            yield lambda found: ast.IfExp(found.test, found.orelse, found.body)  # type: ignore[attr-defined]


def _other_number(value: float) -> float | bool:
    if isinstance(value, bool):
        return not value
    return value * 2 if value else 1


def _set(node: ast.AST, name: str, value: object) -> ast.AST:
    setattr(node, name, value)
    return node


def _fault(file: Path, tree: ast.AST, statement: ast.stmt, node: ast.AST, change: Change) -> Fault:
    """Make the text with one change; the tree itself stays as it was."""
    memo: dict[int, object] = {}
    whole = copy.deepcopy(tree, memo)
    found, line = memo[id(node)], memo[id(statement)]
    assert isinstance(found, ast.AST)
    assert isinstance(line, ast.stmt)
    right = _first_line(line)
    made = change(found)
    if made is not found:
        whole = _Replace(found, made).visit(whole)
        line = made if found is line and isinstance(made, ast.stmt) else line
    text = ast.unparse(ast.fix_missing_locations(whole))
    last = statement.end_lineno or statement.lineno
    inner = getattr(statement, "body", None)
    if isinstance(inner, list) and inner:
        last = max(statement.lineno, inner[0].lineno - 1)
    lines = range(statement.lineno, last + 1)
    return Fault(str(file), lines, right, _first_line(line), text)


def _first_line(statement: ast.AST) -> str:
    return ast.unparse(statement).partition("\n")[0]


def _alike(one: str, other: str) -> int:
    """Give how many characters two texts begin with alike."""
    pairs = zip(one, other, strict=False)
    return sum(1 for _pair in takewhile(lambda pair: pair[0] == pair[1], pairs))


class _Replace(ast.NodeTransformer):
    def __init__(self, old: ast.AST, new: ast.AST) -> None:
        self._old, self._new = old, new

    def visit(self, node: ast.AST) -> ast.AST:
        """Put the new part where the old one stands."""
        if node is self._old:
            return self._new
        return super().generic_visit(node)
