"""Read many aim requests from a file: one JSON object a line."""

import json
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import TextIO

from companion.sky import AdviceError

LONGEST_LINE = 1_000_000  # characters; a request is about a hundred
_KEYS = "target, at, lat, lon, elevation, pressure, temperature"


@contextmanager
def _opened(name: str) -> Iterator[TextIO]:
    """Open a file of UTF-8 text, or standard input for ``-``."""
    if name == "-":
        yield sys.stdin
        return
    try:
        with Path(name).open(encoding="utf-8-sig", errors="replace") as stream:
            yield stream
    except OSError as error:
        raise AdviceError(
            f"{name} cannot be read ({error.strerror}).", "Name a readable file, or - for stdin."
        ) from error


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
        value = json.loads(line)
    except (ValueError, RecursionError):
        value = None
    if not isinstance(value, dict):
        return AdviceError("The line is no JSON object.", f"Give an object with keys {_KEYS}.")
    return value
