"""Import the program's largest parts while all is refused that the bundle leaves out."""

import importlib
import sys
from collections.abc import Sequence
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).parents[2]


class Thin(MetaPathFinder):
    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> ModuleSpec | None:
        from bundling.collect import LEFT_OUT
        from bundling.no_opengl import StandIn

        spec = StandIn().find_spec(fullname, path, target)
        if spec is None and fullname in LEFT_OUT:
            raise ModuleNotFoundError(f"{fullname} is left out of the bundle")
        return spec


def main() -> None:
    sys.path[:0] = [str(ROOT), str(ROOT / "packaging")]
    importlib.import_module("bundling.no_opengl")
    sys.meta_path.pop()  # it put itself last, behind the real modules that are here
    importlib.import_module("bundling.collect")
    sys.meta_path.insert(0, Thin())
    importlib.import_module("companion.app")
    importlib.import_module("companion.window.night.chart")  # pyqtgraph, with whatever it asks for
    sky = importlib.import_module("companion.sky")
    sky.load_catalogue()
    sky.Ephemeris.load().close()
    sys.stdout.write("drawn\n")


if __name__ == "__main__":
    main()
