"""Every licence of what stands in a bundle, copied beside it, with a page that explains them."""

import ast
import re
import shutil
import subprocess
import sys
import sysconfig
from collections.abc import Iterable
from importlib.metadata import Distribution, distribution, packages_distributions
from pathlib import Path

from environment import ROOT

from bundling.collect import NAME

# PySide6's packages bring no text at all; these stand in packaging/licences/.
_QT_TEXTS = ("LGPL-3.0.txt", "GPL-3.0.txt", "GPL-2.0.txt", "Qt-notices.txt")
_MARKS = ("licen", "copying", "notice")
_PAGE = """\
# Licences

Companion itself is under the MIT licence; the data and fonts that it carries are under licences of
their own, explained in `companion/DATA.md`: deep sky from OpenNGC (CC BY-SA 4.0), towns from
GeoNames (CC BY 4.0), fonts (SIL Open Font Licence), stars from Hipparcos (ESA 1997, van Leeuwen
2007) and from Gaia DR3 (ESA/Gaia/DPAC, CC BY-SA 3.0 IGO).

**Borders of time zones** (in tzfpy) are made from OpenStreetMap through timezone-boundary-builder,
© OpenStreetMap contributors, under the Open Database License (`ODbL-1.0.txt`).

**Qt {qt} and PySide6** are used under the GNU Lesser General Public License, version 3
(`qt/LGPL-3.0.txt`, which adds to `qt/GPL-3.0.txt`). They are not changed. They stand as shared
libraries of their own in `{libraries}`, and may be replaced there by libraries of the same names
that you built yourself; the program loads whatever stands there. You may take the program apart to
find faults in such a change. Sources of the same version: <https://download.qt.io/official_releases/>,
in `qt/` and `QtForPython/`. What Qt itself contains of others is in `qt/Qt-notices.txt`.

**PyInstaller's** starter is under the GPL, version 2 or later, with an exception that allows it in
any program (`pyinstaller/`).

| part | version | licence as its author says it |
|---|---|---|
{rows}
"""


def write_licences(work: Path, bundle: Path, to: Path) -> None:
    """Copy all texts to a folder, by part, and write the page that explains them.

    Parameters
    ----------
    work : Path
        Where PyInstaller worked.
    bundle : Path
        The folder that it made.
    to : Path
        Where ``LICENCES.md`` and the folders of texts go.
    """
    shutil.copytree(ROOT / "resources" / "licences", to / "companion")
    _copy((ROOT / "packaging" / "licences" / name for name in _QT_TEXTS), to / "qt")
    _copy([ROOT / "packaging" / "licences" / "ODbL-1.0.txt"], to)
    _copy([_text_of_python()], to / "python")
    files = sources(work)
    rows = [f"| Python | {sys.version.split()[0]} | PSF-2.0 |"]
    for part in carried(files):
        _copy(texts(part), to / part.name.lower())
        rows.append(f"| {part.name} | {part.version} | {said(part)} |")
    site = Path(sysconfig.get_path("purelib"))
    system = _copy_system([file for file in files if not file.is_relative_to(site)], to)
    rows += [f"| {package} | | `system/{package}.txt` |" for package in system]
    page = _PAGE.format(
        qt=distribution("PySide6_Essentials").version,
        libraries=folder_of_qt(bundle).relative_to(bundle.parent),
        rows="\n".join(rows),
    )
    (to / "LICENCES.md").write_text(page)


def folder_of_qt(bundle: Path) -> Path:
    """Give where Qt's shared libraries stand, under whatever name a system gives them."""
    patterns = ("libQt6Core.so*", "Qt6Core.dll", "QtCore.framework")
    found = (file for pattern in patterns for file in bundle.rglob(pattern))
    return next(file.parent for file in found if not file.is_symlink())


def _text_of_python() -> Path:
    """Give Python's own licence: where it is depends on who built the interpreter."""
    version = f"python{sys.version_info.major}.{sys.version_info.minor}"
    for folder, name in (
        (sysconfig.get_path("stdlib"), "LICENSE.txt"),
        (sys.base_prefix, "LICENSE.txt"),
        (f"/usr/share/doc/{version}", "copyright"),
    ):
        if Path(folder, name).is_file():
            return Path(folder, name)
    raise FileNotFoundError(f"The licence of {version} is not beside it: the bundle must carry it.")


def sources(work: Path) -> set[Path]:
    """Give the files that PyInstaller took, from the lists that it leaves."""
    found: set[Path] = set()
    for name in ("COLLECT-00.toc", "PYZ-00.toc"):
        _flatten(ast.literal_eval((work / "work" / NAME / name).read_text()), found)
    return found


def _flatten(listed: object, found: set[Path]) -> None:
    """Find the rows of name, file and kind, however deep they stand."""
    if isinstance(listed, tuple) and len(listed) == 3 and isinstance(listed[1], str):
        found.add(Path(listed[1]))
    elif isinstance(listed, list | tuple):
        for one in listed:
            _flatten(one, found)


def carried(files: Iterable[Path]) -> list[Distribution]:
    """Give the installed packages that the files are from, and PyInstaller, whose starter it is."""
    site = Path(sysconfig.get_path("purelib"))
    tops = {file.relative_to(site).parts[0] for file in files if file.is_relative_to(site)}
    bringers = packages_distributions()
    names = {name for top in tops for name in bringers.get(top.partition(".")[0], [])}
    return [distribution(name) for name in sorted({*names, "pyinstaller"} - {NAME}, key=str.lower)]


def texts(part: Distribution) -> list[Path]:
    """Give the licence files that a package brings; MPL's where it only names it."""
    files = [Path(str(part.locate_file(file))) for file in part.files or [] if _is_text(str(file))]
    if "MPL-2.0" in said(part):
        files.append(ROOT / "packaging" / "licences" / "MPL-2.0.txt")
    return files


def said(part: Distribution) -> str:
    """Give the licence as the package names it."""
    for field in ("License-Expression", "License"):
        for named in part.metadata.get_all(field) or []:
            if named:
                return str(named.splitlines()[0][:80])
    classified = part.metadata.get_all("Classifier") or []
    return ", ".join(one.rpartition(" :: ")[2] for one in classified if one.startswith("License"))


def _is_text(file: str) -> bool:
    folder, _, name = file.rpartition("/")
    return ".dist-info" in folder and any(mark in name.lower() for mark in _MARKS)


def _copy(files: Iterable[Path], to: Path) -> None:
    """Copy files into a folder; of two with one name the second gets its folder's name too."""
    for file in files:
        to.mkdir(parents=True, exist_ok=True)
        name = file.name if not (to / file.name).exists() else f"{file.parent.name}-{file.name}"
        shutil.copyfile(file, to / name)


def _copy_system(files: Iterable[Path], to: Path) -> list[str]:
    """Copy what Debian says of the system's own libraries in the bundle; give their packages."""
    libraries = {file.resolve() for file in files if re.match(r"lib.*\.so", file.name)}
    if shutil.which("dpkg-query") is None or not libraries:
        return []
    command = ["dpkg-query", "--search", *(f"*/{file.name}" for file in libraries)]
    done = subprocess.run(command, check=False, capture_output=True, text=True)
    lines = [line.partition(": ") for line in done.stdout.splitlines()]
    packages = {
        owner.partition(":")[0] for owner, _, at in lines if Path(at).resolve() in libraries
    }
    for package in packages:
        (to / "system").mkdir(exist_ok=True)
        copyright_file = Path("/usr/share/doc", package, "copyright")
        shutil.copyfile(copyright_file, to / "system" / f"{package}.txt")
    _copy([ROOT / "packaging" / "licences" / "LGPL-2.1.txt"], to / "system")
    return sorted(packages)
