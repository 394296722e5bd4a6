#!/usr/bin/env python3
"""Make a folder, and an archive of it, that runs where there is no Python.

``python3 packaging/bundle.py`` makes ``dist/companion-VERSION-SYSTEM-MACHINE.tar.xz`` in an
environment of its own. ``--try`` makes the folder only and starts it under Xvfb, beside the
checkout; ``--plain`` first makes one with nothing left out, to compare the sizes; ``--here`` uses
the running interpreter. On Windows and macOS it makes a zip file; nobody has tried that yet.
"""

import argparse
import platform
import shutil
import sys
import tarfile
from pathlib import Path

from environment import ROOT, make_environment, provide_libraries, run, say

WORK = ROOT / "build" / "bundle"
ON_LINUX = platform.system() == "Linux"


def freeze(*, plain: bool) -> Path:
    """Let PyInstaller make its folder; give it."""
    from bundling import collect

    WORK.mkdir(parents=True, exist_ok=True)
    words = collect.words(WORK, plain=plain)
    packaging = str(ROOT / "packaging")  # the hooks import from there
    if run([sys.executable, "-m", "PyInstaller", *words], PYTHONPATH=packaging):
        sys.exit("PyInstaller could not make the bundle: see the lines above.")
    made = WORK / "dist" / collect.NAME
    application = made.with_suffix(".app")  # macOS
    return application if application.exists() else made


def size_mb(folder: Path) -> float:
    """Give the bytes of all files in a folder, those with several names once."""
    files = (path for path in folder.rglob("*") if path.is_file() and not path.is_symlink())
    return sum(path.stat().st_size for path in files) / 1e6


def name() -> str:
    """Give the name of folder and archive: version, system, machine."""
    from companion import __version__

    return f"companion-{__version__}-{platform.system().lower()}-{platform.machine().lower()}"


def lay_out(bundle: Path) -> Path:
    """Put the bundle where it belongs, with all that goes with it; give the folder."""
    prefix = ROOT / "build" / name()
    if ON_LINUX:
        from bundling import linux

        linux.lay_out(WORK, prefix)
        return prefix
    from bundling.licences import write_licences

    shutil.rmtree(prefix, ignore_errors=True)
    prefix.mkdir()
    bundle.rename(prefix / bundle.name)
    write_licences(WORK, prefix / bundle.name, prefix / "licences")
    return prefix


def pack(prefix: Path) -> Path:
    """Make the archive in ``dist/``; give it."""
    to = ROOT / "dist" / prefix.name
    to.parent.mkdir(exist_ok=True)
    if not ON_LINUX:
        return Path(shutil.make_archive(str(to), "zip", prefix.parent, prefix.name))
    file = to.with_name(f"{prefix.name}.tar.xz")
    with tarfile.open(file, "w:xz") as archive:
        archive.add(prefix, prefix.name, filter=_nobodys)
    return file


def _nobodys(member: tarfile.TarInfo) -> tarfile.TarInfo:
    """Leave out whose files they were on this machine."""
    member.uid = member.gid = 0
    member.uname = member.gname = "root"
    return member


def build(*, plain: bool, tried: bool) -> None:
    """Make the bundle; then try it, or pack it."""
    from bundling.collect import thin
    from bundling.no_icu_data import empty_icu_data

    if plain:
        say(f"with nothing left out: {size_mb(freeze(plain=True)):.0f} MB")
    bundle = freeze(plain=False)
    thin(bundle)
    if ON_LINUX:
        empty_icu_data(bundle, WORK)
    prefix = lay_out(bundle)
    say(f"{prefix.name}: {size_mb(prefix):.0f} MB, with {size_mb(prefix / 'share'):.1f} of texts")
    if not tried:
        archive = pack(prefix)
        say(f"{archive.name}: {archive.stat().st_size / 1e6:.0f} MB")
        return
    from bundling.trial import try_bundle

    provide_libraries()
    try_bundle(prefix / "bin" / "companion")


def main() -> int:
    """Go on in the environment for bundles, unless told to stay here."""
    parser = argparse.ArgumentParser(description=__doc__)
    for option in ("--try", "--plain", "--here"):
        parser.add_argument(option, action="store_true")
    options = vars(parser.parse_args())
    if not options["here"]:
        python = make_environment(ROOT / ".venv-bundle", "[bundle]")
        return run([python, __file__, "--here", *sys.argv[1:]])
    build(plain=options["plain"], tried=options["try"])
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
