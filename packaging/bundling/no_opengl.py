"""Stands in the bundle for Qt's OpenGL modules, 10 MB that are never drawn with.

pyqtgraph imports them whatever it draws with; the program keeps OpenGL off, since nothing could
vouch for the red of its pictures. PyInstaller runs this before the program.
"""

import sys
from collections.abc import Sequence
from importlib.abc import Loader, MetaPathFinder
from importlib.machinery import ModuleSpec
from types import ModuleType

NAMES = ("PySide6.QtOpenGL", "PySide6.QtOpenGLWidgets")


class StandIn(MetaPathFinder, Loader):
    """Finds an empty module under each of the names; a widget of OpenGL is a plain one."""

    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> ModuleSpec | None:
        """Give a module only under the names that the bundle lacks."""
        del path, target
        return ModuleSpec(fullname, self) if fullname in NAMES else None

    def create_module(self, spec: ModuleSpec) -> None:
        """Leave the making to Python."""

    def exec_module(self, module: ModuleType) -> None:
        """Put the one name there that is needed when pyqtgraph is imported."""
        if module.__name__.endswith("Widgets"):
            from PySide6.QtWidgets import QWidget

            vars(module)["QOpenGLWidget"] = QWidget


sys.meta_path.append(StandIn())  # last: where the real ones are, they are taken
