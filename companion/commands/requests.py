"""Read many aim requests from a file: one JSON object a line."""

import json
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import TextIO

from companion.advice import AdviceError
from companion.untrusted import Limits, check_file, json_object

LONGEST_LINE = 1_000_000  # characters; a request is about a hundred
_LIMITS = Limits("a file of requests", 0, do="Name a readable file, or - for stdin.")
_KEYS = "target, at, lat, lon, elevation, pressure, temperature"


@contextmanager
def _opened(name: str) -> Iterator[TextIO]:
    """Open a file of UTF-8 text, or standard input for ``-``; a pipe has no other name."""
    if name == "-":
        yield sys.stdin
        return
    check_file(name, _LIMITS)
    with Path(name).open(encoding="utf-8-sig", errors="replace") as stream:
        yield stream


def read_requests(name: str) -> Iterator[tuple[int, Mapping[str, object] | AdviceError]]:
    """Give each line's number with its request, or with what is wrong with it.

    A bad line never stops the others; nothing is dropped without a word.

    Raises
    ------
    AdviceError
        If the file cannot be read.
    """
    with _opened(name) as stream:
        number = 0
        while line := stream.readline(LONGEST_LINE + 1):
            number += 1
            if len(line) > LONGEST_LINE:
                yield number, AdviceError("The line is too long.", "Give one request a line.")
                _skip_line(stream)
            elif line.strip():
                yield number, _parse(line)


def _skip_line(stream: TextIO) -> None:
    """Pass over the rest of an over-long line in bounded pieces."""
    while (piece := stream.readline(LONGEST_LINE)) and not piece.endswith("\n"):
        pass


def _parse(line: str) -> Mapping[str, object] | AdviceError:
    """Read one line as a JSON object."""
    try:
        return json_object(line)
    except ValueError as error:
        return AdviceError(
            f"The line cannot be used: {_reason(error)}.", f"Give an object with keys {_KEYS}."
        )


def _reason(error: ValueError) -> str:
    if isinstance(error, json.JSONDecodeError):
        return f"it is not JSON from character {error.pos + 1} on"
    return str(error)
