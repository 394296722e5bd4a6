"""Print answers: dim red on a terminal, plain text or JSON lines elsewhere."""

import json
import math
import os
import sys
import textwrap
from collections.abc import Mapping, Sequence
from typing import TextIO

from companion.commands.streams import OutputGone

# A dark red of the 256-colour table: it saves night vision on nearly every terminal, where the
# "faint" attribute is often ignored.
_DIM_RED = "\x1b[38;5;88m"
_RESET = "\x1b[0m"
WIDTH = 79  # of what is written for a person: a terminal of old has 80 columns


def _paints(stream: TextIO) -> bool:
    """Colour only what a person sees on a terminal (https://no-color.org)."""
    return stream.isatty() and "NO_COLOR" not in os.environ and os.environ.get("TERM") != "dumb"


def write(text: str, stream: TextIO | None = None) -> None:
    """Write one line to standard output, or to another stream.

    What a terminal would obey, such as escapes out of somebody's file, is shown as a dot.
    """
    stream = sys.stdout if stream is None else stream
    text = "".join(char if char.isprintable() else "·" for char in text)
    _put(stream, f"{_DIM_RED}{text}{_RESET}\n" if _paints(stream) else f"{text}\n")


def write_raw(text: str, stream: TextIO | None = None) -> None:
    """Write text as it is, with its own line ends, to standard output or another stream."""
    _put(sys.stdout if stream is None else stream, text)


def _put(stream: TextIO, text: str) -> None:
    try:
        stream.write(text)
    except (OSError, ValueError) as error:
        if stream is sys.stderr:
            return  # nobody can be told
        raise OutputGone(error) from error


def write_json(answer: Mapping[str, object]) -> None:
    """Write one JSON object on one line (RFC 8259: no NaN, no infinity)."""
    text = json.dumps(_plain(answer), ensure_ascii=not _writes_unicode(), allow_nan=False)
    _put(sys.stdout, f"{text}\n")


def _writes_unicode() -> bool:
    """Tell whether standard output takes every character; where not, JSON has escapes."""
    return (sys.stdout.encoding or "").replace("-", "").lower() in {"utf8", "utf16", "utf32"}


def write_error(text: str) -> None:
    """Write an error in one line on standard error."""
    write("companion: " + " ".join(text.split()), sys.stderr)


def in_words(error: Exception) -> str:
    """Give an error as what was wrong and what to do; a command keeps nothing to tell of."""
    parts = (getattr(error, "wrong", str(error)), getattr(error, "do", ""))
    return " ".join(part for part in parts if part)


def write_table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    """Write columns, the first one aligned left and the others right."""
    for line in _lines(head, rows):
        write(line)


def write_remarked(
    head: Sequence[str], rows: Sequence[Sequence[str]], remarks: Sequence[str]
) -> None:
    """Write columns as ``write_table`` does, and under each row what is remarked of it.

    A remark that still fits stands behind its row; a longer one is broken into lines under it.
    """
    title, *lines = _lines(head, rows)
    write(title)
    widest = max(map(len, (title, *lines)))
    for line, remark in zip(lines, remarks, strict=True):
        if remark and widest + 2 + len(remark) <= WIDTH:
            write(f"{line:<{widest}}  {remark}")
            continue
        write(line)
        _write_indented(remark)


def _write_indented(text: str) -> None:
    """Write text in lines that begin a little to the right; nothing where there is none."""
    for part in textwrap.wrap(text, WIDTH - 4, break_long_words=False, break_on_hyphens=False):
        write(f"    {part}")


def _lines(head: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    """Set rows under their head."""
    widths = [max(len(row[i]) for row in [head, *rows]) for i in range(len(head))]
    found = []
    for row in [head, *rows]:
        first, *others = zip(row, widths, strict=True)
        cells = [first[0].ljust(first[1]), *(text.rjust(width) for text, width in others)]
        found.append("  ".join(cells).rstrip())
    return found


def _plain(value: object) -> object:
    """Make a value printable as JSON: what cannot be told is null, never NaN."""
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    if hasattr(value, "isoformat"):
        return value.isoformat()
    if hasattr(value, "item"):  # a numpy scalar
        return _plain(value.item())
    return value
