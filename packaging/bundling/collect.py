"""What PyInstaller is told: our own files, and of Qt only what the program shows itself with."""

import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from environment import ROOT

NAME = "companion"
KEPT_QT = ("QtCore", "QtGui", "QtWidgets")
# Plugins by the part of their path that tells them; PNG is read without one.
KEPT_PLUGINS = (
    "platforms/libqxcb",
    "platforms/libqwayland",
    "platforms/libqoffscreen",
    "platforms/qwindows",
    "platforms/qoffscreen",
    "platforms/libqcocoa",
    "platforminputcontexts/libcompose",  # accents and Greek letters by the compose key
    "platforminputcontexts/libibus",
    "wayland-shell-integration/libxdg-shell",
)
# Nothing of these is reached from the program, though something in a library names them.
LEFT_OUT = (
    "PySide6.QtDBus",
    "PySide6.QtNetwork",
    "PySide6.QtOpenGL",
    "PySide6.QtOpenGLWidgets",
    "PySide6.QtPrintSupport",
    "PySide6.QtSvg",
    "PySide6.QtTest",
    "_hashlib",  # hashlib has sums of its own
    "_ssl",  # nothing is ever fetched
    "astropy",  # of the tests
    "numpy.f2py",
    "numpy.random",
    "numpy.testing",
    "rapidfuzz.distance.metrics_cpp_avx2",  # its other form runs on every processor
    "rapidfuzz.fuzz_cpp",
    "rapidfuzz.fuzz_cpp_avx2",
    "pytest",
    "readline",
    "scipy",
    "setuptools",
    "ssl",
    "tkinter",
    "unittest",
)
# Of packages that carry several tables, the one that the program reads.
DATA_FILES = (
    "astropy_iers_data/data/finals2000A.all",
    "pygeomag/wmm/WMM_2025.COF",
    "skyfield_data/data/de421.bsp",
)
# Libraries that come with symbols, which only a debugger would read.
STRIPPED = (
    "libpython*",
    "python3*/lib-dynload/*.so",
    "ephem/*.so",
    "sgp4/*.so",
    "tzfpy/*.so",
)
UNREAD = ("pyqtgraph/colors", "pyqtgraph/icons/peegee")
_HOOK = "from bundling.collect import {how}\n\nhiddenimports, binaries, datas = {how}({what!r})\n"
Collected = tuple[list[str], list[tuple[str, str]], list[tuple[str, str]]]


def qt_module(name: str) -> Collected:
    """Give imports, plugins and data of a module of Qt, less what the program never uses."""
    from PyInstaller.utils.hooks.qt import add_qt6_dependencies

    imports, binaries, _translations = add_qt6_dependencies(f"hook-PySide6.{name}.py")
    kept = [one for one in imports if one.removeprefix("PySide6.") in KEPT_QT]
    return kept, [one for one in binaries if is_kept(one[0])], []


def is_kept(binary: str) -> bool:
    """Tell whether a file of Qt goes in: every library that is asked for, but few plugins."""
    path = Path(binary).as_posix()
    return "/plugins/" not in path or any(f"/plugins/{part}" in path for part in KEPT_PLUGINS)


def one_data_file(named: str) -> Collected:
    """Give the only file of a data package that the program reads: ``package/path``."""
    import importlib

    package, _, path = named.partition("/")
    file = Path(str(importlib.import_module(package).__file__)).parent / path
    return [], [], [(str(file), str(Path(package, path).parent))]


def write_hooks(folder: Path) -> None:
    """Write the hooks that stand before PyInstaller's own; each calls a function of this file."""
    folder.mkdir(parents=True, exist_ok=True)
    calls = {f"PySide6.{name}": ("qt_module", name) for name in KEPT_QT}
    calls |= {file.partition("/")[0]: ("one_data_file", file) for file in DATA_FILES}
    for module, (how, what) in calls.items():
        (folder / f"hook-{module}.py").write_text(_HOOK.format(how=how, what=what))


def words(work: Path, *, plain: bool) -> list[str]:
    """Give PyInstaller's command line; ``plain`` is without anything left out, to compare."""
    start = work / "start.py"  # not __main__.py itself: its folder would shadow other packages
    start.write_text((ROOT / NAME / "__main__.py").read_text())
    said = ["--noconfirm", "--onedir", "--name", NAME, "--log-level", "WARN"]
    said += ["--distpath", str(work / "dist"), "--workpath", str(work / "work")]
    said += ["--specpath", str(work), "--paths", str(ROOT)]
    said += ["--collect-submodules", NAME, "--collect-data", NAME]  # the facades' stubs too
    said += ["--hidden-import", "tzdata"]  # zoneinfo's, where the system has none
    for file in resources():
        into = Path(NAME) / file.parent.relative_to(ROOT)
        said += ["--add-data", f"{file}:{into}"]
    said += system_words()
    if plain:
        packages = (file.partition("/")[0] for file in DATA_FILES)
        return [*said, *(word for one in packages for word in ("--collect-data", one)), str(start)]
    write_hooks(work / "hooks")
    said += ["--additional-hooks-dir", str(work / "hooks")]
    said += ["--optimize", "2"]  # without docstrings: a sixth less to read at the start
    said += ["--runtime-hook", str(Path(__file__).with_name("no_opengl.py"))]
    said += [word for module in LEFT_OUT for word in ("--exclude-module", module)]
    return [*said, str(start)]


def thin(bundle: Path) -> None:
    """Take out data that nobody reads, and the symbols that only a debugger would."""
    for folder in UNREAD:
        for unread in list(bundle.rglob(folder)):
            shutil.rmtree(unread)
    internal = bundle / "_internal"
    if shutil.which("strip") is None:
        return
    # Not numpy's: once stripped, they can't be loaded any more.
    libraries = (library for named in STRIPPED for library in internal.glob(named))
    subprocess.run(["strip", "--strip-unneeded", *libraries], check=True)


def resources() -> Iterator[Path]:
    """Give the data files that the wheel carries too."""
    for file in sorted((ROOT / "resources").rglob("*")):
        if file.is_file() and "screenshots" not in file.parts:
            yield file


def system_words(platform: str = sys.platform) -> list[str]:
    """Give what is particular to a system. Only Linux is tried; the others are prepared."""
    icon = str(ROOT / "resources" / "icons" / "companion-256.png")
    if platform == "win32":  # text commands need the console; a window alone hides it
        return ["--icon", icon, "--hide-console", "hide-early"]
    if platform == "darwin":
        return ["--icon", icon, "--windowed"]
    return []
