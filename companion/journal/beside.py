"""What could not be written into the journal, kept beside it as text until it can be."""

import json
import os
import stat
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from companion.advice import AdviceError
from companion.files import write_whole
from companion.journal.changes import Change, change_line, read_change
from companion.journal.errors import Fault, JournalError
from companion.journal.events import encoded
from companion.journal.journal import FILE_NAME, Journal

_MOST_BYTES = 64 << 20
_HEAD = "Entries that companion could not write into its journal; it reads them at its next start."


@dataclass(frozen=True, slots=True)
class ReadBack:
    """What was read out of a file that had been kept beside, and what of it was of no use."""

    path: Path
    count: int
    missed: tuple[str, ...] = ()

    def __str__(self) -> str:
        what = "One entry" if self.count == 1 else f"{self.count} entries"
        missed = f" {len(self.missed)} could not be understood." if self.missed else ""
        return f"{what} that could not be written last time: the journal has them now.{missed}"


def folders_beside(home: Path) -> tuple[Path, ...]:
    """Give the folders in which things are kept if the journal itself cannot be written."""
    return tuple(dict.fromkeys((home, Path.home(), Path(tempfile.gettempdir()))))


def _mark_of(home: Path) -> str:
    """Give what files in other folders bear in their names that belong to this home."""
    import hashlib  # brings a library with it: not before the first frame

    return hashlib.sha256(str(home.absolute()).encode(errors="replace")).hexdigest()[:12]


def saved_name(home: Path) -> str:
    """Give the name under which a whole journal is saved in another folder than its home."""
    return f"companion-{_mark_of(home)}-journal.sqlite"


def keep_beside(changes: Sequence[Change], home: Path, folders: Sequence[Path]) -> Path:
    """Write changes into a text file, in the first folder that takes it.

    Raises
    ------
    AdviceError
        If none does.
    """
    ident = os.urandom(8).hex()
    name = f"companion-{_mark_of(home)}-waiting-{ident}.jsonl"
    head = encoded({"what": _HEAD, "journal": str(home / FILE_NAME), "id": ident})
    lines = [f"{head}\n", *(f"{change_line(change)}\n" for change in changes)]
    data = "".join(lines).encode(errors="replace")
    trouble: AdviceError | None = None
    for folder in folders:
        try:
            write_whole(folder / name, data)
        except AdviceError as error:
            trouble = trouble or error
        else:
            return folder / name
    raise trouble or AdviceError("There is no folder to write into.", "Give one: --home DIR.")


def kept_beside(home: Path, folders: Sequence[Path]) -> tuple[Path, ...]:
    """Give the files of changes that wait to be read back, the oldest first.

    What somebody else put there is passed over: a folder for temporary files belongs to everybody.
    """
    found = set[Path]()
    for folder in folders:
        try:
            found |= set(folder.glob(f"companion-{_mark_of(home)}-waiting-*.jsonl"))
        except OSError:
            continue
    return tuple(sorted(filter(is_ours, found), key=_age))


def is_ours(path: Path) -> bool:
    """Tell whether this is a file of this person, no link and no device."""
    try:
        there = path.lstat()
    except OSError:
        return False
    whose = getattr(os, "geteuid", lambda: there.st_uid)()
    whole = stat.S_ISREG(there.st_mode) and there.st_size <= _MOST_BYTES
    return whole and there.st_uid == whose


def _age(path: Path) -> float:
    try:
        return path.stat().st_mtime
    except OSError:
        return 0.0


def read_back(journal: Journal, path: Path) -> ReadBack | None:
    """Write the changes of a file into the journal, all at once, and delete the file then.

    Returns
    -------
    ReadBack or None
        None if the file cannot be read just now, or was read before.

    Raises
    ------
    JournalError
        If the journal cannot be written; the file stays then.
    """
    try:
        lines = path.read_text(encoding="utf-8", errors="replace").splitlines()
        ident = str(json.loads(lines[0])["id"])
    except (OSError, ValueError, LookupError, TypeError):
        return None
    missed: list[str] = []
    changes = [one for one in (_change(line, missed) for line in lines[1:]) if one is not None]
    done = journal.do_once(ident, changes)
    path.unlink(missing_ok=True)
    if done is None:
        return None
    return ReadBack(path, len(changes) - len(done), (*missed, *done))


def _change(line: str, missed: list[str]) -> Change | None:
    try:
        return read_change(line)
    except JournalError as error:
        if error.fault is not Fault.REFUSED:
            raise
        missed.append(line[:200])
        return None
