"""``companion journal``: copy it, look through it, bring back what was damaged, write it out."""

import argparse
from collections.abc import Callable, Mapping
from contextlib import closing
from pathlib import Path

from companion.advice import AdviceError
from companion.commands.context import Context
from companion.commands.output import write, write_json
from companion.files import write_whole
from companion.journal import (
    FILE_NAME,
    Entry,
    Journal,
    JournalError,
    KeptJournal,
    csv_text,
    entries,
    flaws,
    json_lines,
    lifetime,
    night_text,
)

_BUSY_S = 5.0
_WRITERS: Mapping[str, Callable[[tuple[Entry, ...]], str]] = {
    ".csv": csv_text,
    ".jsonl": json_lines,
    ".txt": night_text,
}


def run(context: Context, options: argparse.Namespace) -> int:
    """Do one of the four."""
    return _ACTIONS[options.action](context, options)


def _copy(context: Context, options: argparse.Namespace) -> int:
    """Write all of the journal as it is now into one other file."""
    with _opened(context) as journal:
        journal.save_as(_file_of(options))
    write(f"Copied: {options.file}")
    return 0


def _check(context: Context, options: argparse.Namespace) -> int:
    """Say what the journal holds, and every entry that cannot be read; 1 if there is one."""
    with _opened(context) as journal:
        held, found = lifetime(journal).nights, flaws(journal)
    if options.json:
        for flaw in found:
            write_json({"number": flaw.number, "night": flaw.night, "why": flaw.why})
        return 1 if found else 0
    for flaw in found:
        write(str(flaw))
    outcomes = sum(night.found + night.not_seen + night.skipped for night in held)
    notes = sum(night.notes for night in held)
    said = f"{len(held)} nights, {outcomes} outcomes, {notes} notes"
    write(f"{said}; {len(found)} entries with a flaw.")
    return 1 if found else 0


def _rescue(context: Context, _options: argparse.Namespace) -> int:
    """Bring back what files hold that were set aside, or the journal itself if it is damaged."""
    kept = KeptJournal(context.home, _BUSY_S, write)
    if not (context.home / FILE_NAME).exists() and not kept.rescuable:
        raise _nothing(context)
    with closing(kept):
        kept.file()  # sets a damaged one aside
        rescued = kept.rescue()
    for one in rescued:
        write(str(one))
    if not rescued:
        write("There is nothing to bring back: the journal is whole.")
    return 0


def _write(context: Context, options: argparse.Namespace) -> int:
    """Write outcomes and notes as a table, JSON lines or a page to read, by the end of the name."""
    path = _file_of(options)
    writer = _WRITERS.get(path.suffix.lower())
    if writer is None:
        raise AdviceError(
            f"{path.name} has none of the endings {', '.join(_WRITERS)}.", "Give it one of them."
        )
    with _opened(context) as journal:
        write_whole(path, writer(entries(journal)).encode(), [context.home / FILE_NAME])
    write(f"Written: {path}")
    return 0


_ACTIONS: Mapping[str, Callable[[Context, argparse.Namespace], int]] = {
    "copy": _copy,
    "check": _check,
    "rescue": _rescue,
    "write": _write,
}


def _opened(context: Context) -> "closing[Journal]":
    """Open the journal to be read; nothing is changed.

    Raises
    ------
    JournalError
        If there is none, or it cannot be read.
    """
    path = context.home / FILE_NAME
    if not path.exists():
        raise _nothing(context)
    return closing(Journal(path, _BUSY_S, read_only=True))


def _nothing(context: Context) -> JournalError:
    return JournalError(
        f"There is no journal in {context.home} yet.", "Name another folder: --home DIR."
    )


def _file_of(options: argparse.Namespace) -> Path:
    if options.file is None:
        raise AdviceError("No file is named.", f"Name one: companion journal {options.action} FILE")
    return Path(options.file).expanduser()
