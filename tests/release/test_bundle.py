"""What goes into the bundle. The bundle itself is tried by ``packaging/bundle.py --try``."""

import ast
import ctypes
import importlib
import shutil
import subprocess
import sys
import tarfile
from importlib.metadata import distribution, requires
from pathlib import Path

import bundle
import pytest
from bundling import collect, licences, no_icu_data, no_opengl
from bundling.trial import Sight, Start, start_of

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(
    ("file", "kept"),
    [
        ("PySide6/Qt/lib/libQt6Gui.so.6", True),
        ("PySide6/Qt/plugins/platforms/libqxcb.so", True),
        ("PySide6/Qt/plugins/platforms/libqwayland.so", True),
        ("PySide6/Qt/plugins/platforms/libqeglfs.so", False),
        ("PySide6/Qt/plugins/platformthemes/libqgtk3.so", False),
        ("PySide6/Qt/plugins/imageformats/libqsvg.so", False),
    ],
)
def test_of_qt_only_what_is_used_goes_in(file: str, kept: bool) -> None:
    assert collect.is_kept(file) is kept


def test_nothing_that_the_program_imports_is_left_out() -> None:
    left_out = {name for name in collect.LEFT_OUT if name not in no_opengl.NAMES}
    for path in (ROOT / "companion").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.ImportFrom) and node.module:
                named = {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
            elif isinstance(node, ast.Import):
                named = {alias.name for alias in node.names}
            else:
                continue
            assert not named & left_out, path


def test_the_window_draws_without_what_is_left_out() -> None:
    script = Path(__file__).with_name("start_thin.py")
    done = subprocess.run([sys.executable, script], cwd=ROOT, check=True, capture_output=True)
    assert done.stdout.split() == [b"drawn"]


def test_every_data_file_is_carried_where_the_program_looks(tmp_path: Path) -> None:
    said = collect.words(tmp_path, plain=False)
    added = {said[at + 1] for at, word in enumerate(said) if word == "--add-data"}
    for name in ("stars.npz", "fonts/CompanionSans-Medium.ttf", "licences/DATA.md"):
        into = Path("companion/resources", name).parent
        assert f"{ROOT / 'resources' / name}:{into}" in added
    assert not any("screenshots" in one for one in added)


@pytest.mark.skipif(
    not (sys.platform == "linux" and shutil.which("as") and shutil.which("ld")),
    reason="the library is made with Linux's assembler and linker",
)
def test_the_data_of_icu_are_an_empty_table(tmp_path: Path) -> None:
    """The header as the ICU User Guide gives it: length, 0xDA27, 20 bytes, "ToCP", no entry."""
    library = tmp_path / "lib" / "libicudata.so.73"
    library.parent.mkdir()
    library.write_bytes(b"32 MB")
    (tmp_path / library.name).symlink_to(library)
    no_icu_data.empty_icu_data(tmp_path, tmp_path)
    made = ctypes.CDLL(str(tmp_path / library.name))
    table = bytes((ctypes.c_ubyte * 40).in_dll(made, "icudt73_dat"))
    assert table[:12] == b"\x20\0\xda\x27\x14\0\0\0\0\0\2\0"
    assert table[12:16] == b"ToCP"
    assert table[32:] == bytes(8)


@pytest.mark.parametrize(
    ("platform", "word"), [("win32", "hide-early"), ("darwin", "--windowed"), ("linux", None)]
)
def test_the_other_systems_get_an_icon_and_no_console(platform: str, word: str | None) -> None:
    said = collect.system_words(platform)
    assert ("--icon" in said) == (word in said) == (word is not None)
    assert all(Path(one).is_file() for one in said if one.endswith(".png"))


@pytest.mark.parametrize("named", collect.DATA_FILES)
def test_a_table_is_taken_from_its_package(named: str) -> None:
    _imports, _binaries, ((file, into),) = collect.one_data_file(named)
    assert Path(file).is_file()
    assert into == named.rpartition("/")[0]


def test_the_hooks_call_what_is_there(tmp_path: Path) -> None:
    collect.write_hooks(tmp_path)
    hooks = list(tmp_path.glob("hook-*.py"))
    assert len(hooks) == len(collect.KEPT_QT) + len(collect.DATA_FILES)
    for hook in hooks:
        (imported,) = ast.parse(hook.read_text()).body[:1]
        assert isinstance(imported, ast.ImportFrom)
        module = importlib.import_module(str(imported.module))
        assert callable(getattr(module, imported.names[0].name))


def _closure(name: str, seen: set[str]) -> set[str]:
    for one in requires(name) or []:
        bare = one.partition(";")[0].split("[")[0].split(" ")[0]
        for mark in "<>=!~":
            bare = bare.partition(mark)[0]
        if "extra ==" not in one and bare.lower() not in seen and _is_here(bare):
            seen.add(bare.lower())
            _closure(bare, seen)
    return seen


def _is_here(name: str) -> bool:
    try:
        distribution(name)
    except ModuleNotFoundError:
        return False
    return True


def test_every_package_that_the_program_needs_has_its_licence_text() -> None:
    qt = {"pyside6-essentials", "shiboken6"}  # theirs stand in packaging/licences
    needed = _closure("companion", set())
    assert {"numpy", "skyfield", "certifi", *qt} <= needed
    without = {name for name in needed if not licences.texts(distribution(name))}
    assert without == qt
    assert all(licences.said(distribution(name)) for name in needed)


@pytest.mark.parametrize(
    "library",
    ["_internal/PySide6/Qt/lib/libQt6Core.so.6", "_internal/PySide6/Qt6Core.dll"],
)
def test_people_are_told_where_to_replace_qt(tmp_path: Path, library: str) -> None:
    (tmp_path / library).parent.mkdir(parents=True)
    (tmp_path / library).touch()
    (tmp_path / "_internal" / "libQt6Core.so.6").symlink_to(tmp_path / library)
    (tmp_path / "_internal" / "pyqtgraph" / "Qt" / "QtCore").mkdir(parents=True)
    assert licences.folder_of_qt(tmp_path) == (tmp_path / library).parent


def test_the_first_frame_and_the_numbers_are_told_apart() -> None:
    lit = [(0.1, 0), (0.3, 100), (0.4, 3000), (0.9, 3100), (1.5, 19500), (4.0, 20000)]
    assert start_of([Sight(at_s, pixels) for at_s, pixels in lit]) == Start(0.4, 1.5)


def test_the_archive_tells_nobody_whose_files_they_were(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bundle, "ROOT", tmp_path)
    (tmp_path / "made" / "bin").mkdir(parents=True)
    (tmp_path / "made" / "bin" / "companion").write_text("")
    with tarfile.open(bundle.pack(tmp_path / "made")) as archive:
        names = {member.name: (member.uname, member.uid) for member in archive.getmembers()}
    assert names["made/bin/companion"] == ("root", 0)
