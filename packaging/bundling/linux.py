"""The bundle in its place among a Linux system's folders, with all that a desktop asks for."""

import shutil
import subprocess
import sys
from pathlib import Path

from environment import ROOT

from bundling.collect import NAME
from bundling.licences import write_licences
from bundling.manual import manual

_DESKTOP = ROOT / "packaging" / "linux"
_COMPLETIONS = {
    "bash": "bash-completion/completions/companion",
    "zsh": "zsh/site-functions/_companion",
    "fish": "fish/vendor_completions.d/companion.fish",
}


def lay_out(work: Path, prefix: Path) -> None:
    """Make a folder that can be laid over ``~/.local`` or ``/usr/local``, or run where it is.

    Parameters
    ----------
    work : Path
        Where PyInstaller worked; its ``dist`` holds the bundle, which is moved.
    prefix : Path
        The folder to make; what was there is removed.
    """
    shutil.rmtree(prefix, ignore_errors=True)
    library = prefix / "lib" / NAME
    library.parent.mkdir(parents=True)
    (work / "dist" / NAME).rename(library)
    (prefix / "bin").mkdir()
    (prefix / "bin" / NAME).symlink_to(Path("..", "lib", NAME, NAME))
    share = prefix / "share"
    _put(_DESKTOP / "companion.desktop", share / "applications")
    _put(_DESKTOP / "org.example.companion.metainfo.xml", share / "metainfo")
    for icon in (ROOT / "resources" / "icons").glob("*.png"):
        size = icon.stem.rpartition("-")[2]
        _put(icon, share / "icons" / "hicolor" / f"{size}x{size}" / "apps", "companion.png")
    _write(manual(), share / "man" / "man1" / "companion.1")
    for shell, path in _COMPLETIONS.items():
        _write(_completion(shell), share / path)
    documents = share / "doc" / NAME
    _put(_DESKTOP / "INSTALL.md", documents)
    write_licences(work, library, documents / "licences")


def _put(file: Path, folder: Path, name: str = "") -> None:
    folder.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(file, folder / (name or file.name))


def _write(text: str, file: Path) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text)


def _completion(shell: str) -> str:
    command = [sys.executable, "-m", "companion", "--print-completion", shell]
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout
