"""Files that anybody may have made: read within limits, refused in words, never waited for.

Everything that comes from outside, except the journal's own database, is read here.
"""

import codecs
import json
import os
import stat
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from companion.advice import AdviceError

_MOST_DIGITS = 60  # of one number: more than any quantity has
_MEGABYTE = 1_000_000


@dataclass(frozen=True, slots=True)
class Limits:
    """What one file may cost; ``what`` names it in refusals, ``kept`` says what stays as it was."""

    what: str  # "a list"
    largest_bytes: int
    kept: str = "Nothing was read."
    do: str = "Name a readable file."


def read_file(path: Path | str, limits: Limits) -> bytes:
    """Read a whole file, if it is one and no larger than allowed.

    A pipe, a device or a folder is refused before anything is read: none of them may ever end.

    Raises
    ------
    AdviceError
        If it cannot be read, is no file, or is too large.
    """
    with _opened(path, limits) as stream:
        data = stream.read(limits.largest_bytes + 1)
    check_size(data, limits)
    return data


def check_file(path: Path | str, limits: Limits) -> None:
    """Refuse what cannot be read, or is no file, before a caller reads it line by line.

    Raises
    ------
    AdviceError
        If it is one of those.
    """
    with _opened(path, limits):
        pass


@contextmanager
def _opened(path: Path | str, limits: Limits) -> Iterator[BinaryIO]:
    name = str(path)[:200]
    try:
        handle = os.open(Path(path).expanduser(), os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
        with os.fdopen(handle, "rb") as stream:
            if not stat.S_ISREG(os.fstat(handle).st_mode):
                raise _refusal(name, "it is not a file", limits)
            yield stream
    except (OSError, ValueError, RuntimeError) as error:
        why = getattr(error, "strerror", None) or "there is no such name"
        raise _refusal(name, why, limits) from error


def check_size(data: bytes | str, limits: Limits) -> None:
    """Refuse what is larger than allowed.

    Raises
    ------
    AdviceError
        If it is.
    """
    if len(data) > limits.largest_bytes:
        size = limits.largest_bytes
        shown = f"{size // _MEGABYTE} MB" if size >= _MEGABYTE else f"{size // 1024} kB"
        raise AdviceError(
            f"This file holds more than {shown}: it is not {limits.what}.", limits.do, limits.kept
        )


def text_of(data: bytes | str) -> str:
    """Turn the bytes of a text file into text, whatever wrote it.

    UTF-8 and UTF-16 are recognised; everything else is taken as Latin-1, with the quotes and
    dashes that Windows puts into it. Zero bytes are dropped.
    """
    text = data if isinstance(data, str) else _decoded(data)
    return text.replace("\0", "")


def _decoded(data: bytes) -> str:
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return data.decode("utf-16", errors="replace")
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    return data.decode("latin-1")


def json_object(text: str) -> Mapping[str, object]:
    """Read one JSON object (RFC 8259) of finite numbers and of text that can be written again.

    Raises
    ------
    ValueError
        If it is none, nests too deeply, or holds a number or text that nobody can use; the
        message says which.
    """
    try:
        value = json.loads(text, parse_int=_whole, parse_float=_real, parse_constant=_no_constant)
    except RecursionError:
        raise ValueError("it is nested too deeply") from None
    if not isinstance(value, dict):
        raise ValueError("it is not an object")  # noqa: TRY004 - of the text, not of a type
    try:
        text.encode()
        json.dumps(value, ensure_ascii=False).encode()
    except UnicodeEncodeError:
        raise ValueError("it holds half a character") from None
    return value


def _whole(digits: str) -> int:
    if len(digits) > _MOST_DIGITS:
        raise ValueError(f"a number in it has {len(digits)} digits")
    return int(digits)


def _real(digits: str) -> float:
    if len(digits) > _MOST_DIGITS:
        raise ValueError(f"a number in it has {len(digits)} digits")
    value = float(digits)
    if value in {float("inf"), float("-inf")}:
        raise ValueError(f"{digits} is too large a number")
    return value


def _no_constant(word: str) -> float:
    raise ValueError(f"{word} is not a number")


def _refusal(name: str, why: str, limits: Limits) -> AdviceError:
    return AdviceError(f"{name} cannot be read ({why}).", limits.do, limits.kept)
