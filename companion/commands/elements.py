"""``companion elements``: read orbits from files, say what was refused and why, keep the rest."""

import argparse

from companion.commands.context import Context
from companion.commands.night_given import iso
from companion.commands.output import write, write_json
from companion.events import Elements, ReadElements, read_elements_file
from companion.journal import prepared_home

_MOST_SHOWN = 20  # of bodies, and of lines that were refused


def run(context: Context, options: argparse.Namespace) -> int:
    """Read each file and keep what is good in it; 1 if nothing was kept."""
    kept = 0
    prepared_home(context.home)
    for name in options.files:
        read = read_elements_file(name)
        kept += context.elements.keep(read.elements, context.now) if read.elements else 0
        if options.json:
            write_json(_as_json(context, name, read))
        else:
            _print(context, name, read)
    return 0 if kept else 1


def _as_json(context: Context, name: str, read: ReadElements) -> dict[str, object]:
    return {
        "file": name,
        "kept": len(read.elements),
        "refused_count": read.refused_count,
        "refused": [
            {"line": one.line, "text": one.text, "reason": one.reason} for one in read.refused
        ],
        "elements": [
            {
                "key": one.key,
                "name": one.name,
                "family": str(one.family),
                "epoch_utc": iso(one.epoch_utc),
                "warning": one.age_words(context.now) or None,
            }
            for one in read.elements
        ],
    }


def _print(context: Context, name: str, read: ReadElements) -> None:
    write(f"{name}: {len(read.elements)} kept, {read.refused_count} refused")
    for one in read.elements[:_MOST_SHOWN]:
        write(f"  {one.name}, {_said(one, context)}")
    if len(read.elements) > _MOST_SHOWN:
        write(f"  and {len(read.elements) - _MOST_SHOWN} more")
    for line in read.refused[:_MOST_SHOWN]:
        write(f"  line {line.line} refused, {line.reason}: {line.text}")
    if read.refused_count > _MOST_SHOWN:
        write(f"  and {read.refused_count - _MOST_SHOWN} more lines refused")


def _said(one: Elements, context: Context) -> str:
    return one.age_words(context.now) or f"elements of {one.epoch_utc:%Y-%m-%d}"
