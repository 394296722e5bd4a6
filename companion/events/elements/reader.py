"""Reads a file of elements in whatever of the published formats it is; refuses line by line."""

import csv
import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from companion.advice import AdviceError
from companion.events.elements.mpc import (
    comet_of_line,
    is_comet,
    is_minor,
    minor_of_line,
    of_object,
)
from companion.events.elements.record import Elements, NoElementsError, Refused
from companion.events.elements.satellite_lines import (
    messages_of_pairs,
    messages_of_xml,
    of_message,
    of_two_lines,
)
from companion.untrusted import Limits, check_size, json_object, read_file, text_of

MOST_LINES = 250_000
_MOST_REFUSED = 1000  # more of them say nothing new
_LIMITS = Limits("a file of elements", 64_000_000, "Nothing was read.", "Name a file of elements.")
_SHOWN = 60
_OF_ANOTHER_FORM = "its columns are those of no format that is known"

_Numbered = tuple[int, str]
_Found = Elements | Refused


@dataclass(frozen=True, slots=True)
class ReadElements:
    """What a file holds; ``refused`` are the first that were, of ``refused_count``."""

    elements: tuple[Elements, ...]
    refused: tuple[Refused, ...]
    refused_count: int


def read_elements_file(path: Path | str) -> ReadElements:
    """Read a file of elements.

    Raises
    ------
    AdviceError
        If it cannot be read, is too large, or holds no elements at all.
    """
    return read_elements(read_file(path, _LIMITS), str(path)[:200])


def read_elements(data: bytes | str, name: str = "The file") -> ReadElements:
    """Read elements from the contents of a file.

    Raises
    ------
    AdviceError
        If it is too large, or holds nothing.
    """
    check_size(data, _LIMITS)
    text = text_of(data)
    elements: dict[str, Elements] = {}
    refused: list[Refused] = []
    count = 0
    for found in _found(text, name):
        if isinstance(found, Elements):
            elements[found.key] = found
            continue
        count += 1
        if len(refused) < _MOST_REFUSED:
            refused.append(found)
    if not elements and not count:
        raise AdviceError(f"{name} holds no elements.", _LIMITS.do, _LIMITS.kept)
    return ReadElements(tuple(elements.values()), tuple(refused), count)


def _found(text: str, name: str) -> Iterator[_Found]:
    """Choose the format by how the file begins."""
    begin = text[:4000].lstrip()
    if begin[:1] in {"[", "{"}:
        return _of_json(text, name)
    if begin[:1] == "<":
        return _of_messages(messages_of_xml(text))
    if begin.startswith("CCSDS_OMM_VERS"):
        return _of_messages(messages_of_pairs(text))
    if "MEAN_MOTION" in begin.partition("\n")[0] and "," in begin.partition("\n")[0]:
        return _of_messages(iter(csv.DictReader(text.splitlines())))
    return _of_lines(_lines(text, name))


def _lines(text: str, name: str) -> Iterator[_Numbered]:
    """Give what is written on lines, without the words above a rule of dashes."""
    if text.count("\n") > MOST_LINES:  # counted before the lines are made: they cost far more
        raise _too_many(name)
    lines = text.splitlines()
    rule = next((at for at, line in enumerate(lines[:100]) if line.startswith("-----")), -1)
    for at, line in enumerate(lines[rule + 1 :], start=rule + 2):
        if line.strip() and not line.startswith("#"):
            yield at, line.rstrip()


def _of_lines(lines: Iterator[_Numbered]) -> Iterator[_Found]:
    name, waiting = "", (0, "")  # a satellite's name stands above its two lines
    for at, line in lines:
        if line.startswith("2 ") and waiting[1].startswith("1 "):
            yield _taken(waiting, lambda: of_two_lines(name, waiting[1], line))  # noqa: B023 - at once
            name, waiting = "", (0, "")
        elif line.startswith("1 ") and len(line) > 50 and not is_comet(line):
            orphan = waiting[1].startswith("1 ")
            yield from _left(waiting) if orphan else ()
            name, waiting = "" if orphan else waiting[1], (at, line)
        elif is_comet(line) or is_minor(line):
            yield from _left(waiting)
            yield _taken((at, line), lambda: _of_line(line))  # noqa: B023 - at once
            waiting = (0, "")
        else:
            yield from _left(waiting)
            waiting = (at, line)
    yield from _left(waiting)


def _of_line(line: str) -> Elements:
    return comet_of_line(line) if is_comet(line) else minor_of_line(line)


def _left(waiting: _Numbered) -> Iterator[Refused]:
    """Refuse a line to which nothing belonged."""
    at, line = waiting
    if line.startswith("1 "):
        yield Refused(at, line[:_SHOWN], "the second line of this satellite is missing")
    elif line:
        yield Refused(at, line[:_SHOWN], _OF_ANOTHER_FORM)


def _taken(line: _Numbered, read: Callable[[], Elements]) -> _Found:
    try:
        return read()
    except NoElementsError as error:
        return Refused(line[0], line[1][:_SHOWN], str(error))


def _of_messages(messages: Iterator[Mapping[str, object]]) -> Iterator[_Found]:
    for number, fields in enumerate(messages, start=1):
        shown = str(fields.get("OBJECT_NAME", ""))
        yield _taken((number, shown), lambda: of_message(fields))  # noqa: B023 - at once


def _of_json(text: str, name: str) -> Iterator[_Found]:
    """Read object after object: one that is damaged costs only itself and what follows it."""
    decoder, at, number, line, counted = json.JSONDecoder(), 0, 0, 1, 0
    while (start := text.find("{", at)) >= 0:
        number += 1
        if number > MOST_LINES:
            raise _too_many(name)
        line, counted = line + text.count("\n", counted, start), start
        try:
            _value, at = decoder.raw_decode(text, start)
        except (ValueError, RecursionError):
            yield Refused(line, text[start : start + _SHOWN], "it is not a whole JSON object")
            return
        yield _of_json_object((line, text[start:at]))


def _of_json_object(line: _Numbered) -> _Found:
    try:
        fields = json_object(line[1])
    except ValueError as error:
        return Refused(line[0], line[1][:_SHOWN], str(error))
    read = of_message if "MEAN_MOTION" in fields else of_object
    return _taken(line, lambda: read(fields))


def _too_many(name: str) -> AdviceError:
    return AdviceError(
        f"{name} holds more than {MOST_LINES} lines.",
        "Cut it down to the bodies that you want to see.",
        _LIMITS.kept,
    )
