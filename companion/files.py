"""Files that the program writes: whole or not at all, for their owner alone, never through a link.

Everything that is written, except the journal's own database, is written here.
"""

import csv
import io
import os
import re
import stat
import tempfile
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from pathlib import Path

from companion.advice import AdviceError

_KEPT = "Nothing was written."
# What a spreadsheet takes for the beginning of a formula (OWASP, "CSV Injection"), the wide forms
# of East Asian keyboards among them.
_FORMULA = "=+-@\t\r\n＝＋－＠"
_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?\Z")


def write_whole(
    path: Path, data: bytes, inputs: Iterable[Path] = (), *, replace: bool = True
) -> None:
    """Write a file so that at any moment the old one is there, or the new one, never half of it.

    The file is its owner's alone. It is on the disk when the call returns.

    Parameters
    ----------
    path : Path
        The file; its folder exists.
    data : bytes
        All of it.
    inputs : iterable of Path, optional
        Files that must stay: what the data was made from, and the journal.
    replace : bool, optional
        Whether a file that is there already may be replaced.

    Raises
    ------
    AdviceError
        If the path is a link, a folder, a device or one of the inputs, or the disk refuses it.
        What was there is then as it was.
    """
    make_whole(path, lambda draft: draft.write_bytes(data), inputs, replace=replace)


def make_whole(
    path: Path,
    make: Callable[[Path], object],
    inputs: Iterable[Path] = (),
    *,
    replace: bool = True,
) -> None:
    """Have a file made under another name beside its place, then put it there.

    ``make`` is given an empty file; the rest is as ``write_whole`` has it.

    Raises
    ------
    AdviceError
        As ``write_whole``; whatever else ``make`` raises passes through.
    """
    try:
        _check_place(path, inputs, replace=replace)
        _replace(path, make)
    except (OSError, ValueError) as error:
        raise _refusal(path, getattr(error, "strerror", None) or str(error)) from error


def csv_text(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Give a table (RFC 4180) in which no text is a formula to a spreadsheet.

    A text that would be one has an apostrophe before it; ``plain_cell`` takes it away again.
    """
    stream = io.StringIO(newline="")
    writer = csv.writer(stream)
    writer.writerow(head)
    writer.writerows([_harmless(cell) for cell in row] for row in rows)
    return stream.getvalue()


def plain_cell(text: str) -> str:
    """Give the text of a cell as it was before ``csv_text`` made it harmless."""
    return text[1:] if text[:1] == "'" and text[1:2] and text[1] in _FORMULA else text


def _harmless(cell: object) -> object:
    if not isinstance(cell, str) or cell[:1] not in _FORMULA or _NUMBER.match(cell) or not cell:
        return cell
    return f"'{cell}"


def _check_place(path: Path, inputs: Iterable[Path], *, replace: bool) -> None:
    try:
        there = path.lstat()
    except FileNotFoundError:
        return
    if stat.S_ISLNK(there.st_mode):
        raise _refusal(path, "it is a link to another file")
    if not stat.S_ISREG(there.st_mode):
        raise _refusal(path, "it is not a file")
    if any(_same(there, other) for other in inputs):
        raise _refusal(path, "it is what is being read")
    if not replace:
        raise _refusal(path, "it is there already")


def _same(there: os.stat_result, other: Path) -> bool:
    try:
        return os.path.samestat(there, other.stat())
    except (OSError, ValueError):
        return False


def _replace(path: Path, make: Callable[[Path], object]) -> None:
    """Write beside the file under a name that nobody can know, then put it in its place."""
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=".companion-", suffix=".part")
    os.close(handle)
    draft = Path(name)
    try:
        make(draft)
        with draft.open("rb+") as stream:
            os.fsync(stream.fileno())
        draft.replace(path)
    except BaseException:
        draft.unlink(missing_ok=True)
        raise
    sync_folder(path.parent)


def sync_folder(folder: Path) -> None:
    """Bring the names in a folder to the disk, where the system can do that."""
    with suppress(OSError):  # Windows cannot, and does it by itself
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _refusal(path: Path, why: str) -> AdviceError:
    return AdviceError(
        f"{path} cannot be written ({why}).",
        "Name a new file in a folder that you may write into.",
        _KEPT,
    )
