"""A pytest plugin: no module of Qt can be imported while it is loaded."""

import sys
from collections.abc import Sequence
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec
from types import ModuleType

FORBIDDEN = ("PySide6", "shiboken6", "pyqtgraph")


class _Refuse(MetaPathFinder):
    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> ModuleSpec | None:
        if fullname.partition(".")[0] in FORBIDDEN:
            raise ModuleNotFoundError(f"No module named {fullname!r} (kept out on purpose)")
        return None


sys.meta_path.insert(0, _Refuse())
