"""Frozen dataclasses to plain JSON values and back, checked on the way in."""

import dataclasses
import functools
import reprlib
import sys
import types
import typing
from collections.abc import Mapping
from datetime import datetime
from enum import Enum
from typing import Any, TypeVar

from companion.journal.errors import JournalError

Plain = Mapping[str, object]
"""A JSON object."""

Record = TypeVar("Record")

_LARGEST = sys.float_info.max
_SIMPLE: tuple[type, ...] = (bool, int, float, str)


def to_plain(record: object) -> dict[str, object]:
    """Give a dataclass as a JSON object; fields that have their default are left out.

    Raises
    ------
    TypeError
        If ``record`` is no instance of a dataclass, or a field holds what JSON cannot.
    """
    if not dataclasses.is_dataclass(record) or isinstance(record, type):
        raise TypeError(f"{record!r} is not a record")
    plain: dict[str, object] = {}
    for field in dataclasses.fields(record):
        value = getattr(record, field.name)
        if not _is_default(field, value):
            plain[field.name] = _value_to_plain(value)
    return plain


def _is_default(field: "dataclasses.Field[Any]", value: object) -> bool:
    if field.default is not dataclasses.MISSING:
        return bool(value == field.default)
    if field.default_factory is not dataclasses.MISSING:
        return bool(value == field.default_factory())
    return False


def _value_to_plain(value: object) -> object:
    if isinstance(value, Enum):
        return value.value
    if value is None or isinstance(value, _SIMPLE):
        return value
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, tuple | list):
        return [_value_to_plain(item) for item in value]
    if isinstance(value, Mapping):
        return {str(key): _value_to_plain(item) for key, item in value.items()}
    return to_plain(value)


def from_plain(cls: type[Record], plain: object) -> Record:
    """Make a dataclass from what ``to_plain`` gave, or from a stranger's file.

    Keys that the dataclass does not know are passed over; missing ones get their default.

    Raises
    ------
    JournalError
        If ``plain`` is no object, a field has the wrong type or a required one is missing.
        What the dataclass itself raises on a value out of range passes through.
    """
    if not isinstance(plain, Mapping):
        raise _misfit(cls.__name__, plain, "an object")
    values: dict[str, object] = {}
    for name, (kind, required) in _fields_of(typing.cast("type", cls)).items():
        if name in plain:
            values[name] = _read(kind, plain[name], f"{cls.__name__}.{name}")
        elif required:
            raise _misfit(f"{cls.__name__}.{name}", None, "a value")
    return cls(**values)


@functools.cache
def _fields_of(cls: type) -> dict[str, tuple[Any, bool]]:
    """Give the type of each field and whether it must be given."""
    hints = typing.get_type_hints(cls)
    return {
        field.name: (
            hints[field.name],
            field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING,
        )
        for field in dataclasses.fields(cls)
    }


def _read(kind: Any, value: object, where: str) -> object:  # noqa: ANN401 - a type annotation, as found
    """Read one value of the annotated type ``kind``."""
    origin = typing.get_origin(kind)
    if origin in {types.UnionType, typing.Union}:
        return _read_union(kind, value, where)
    if origin is tuple:
        return _read_tuple(typing.get_args(kind), value, where)
    if dataclasses.is_dataclass(kind):
        return from_plain(typing.cast("type[object]", kind), value)
    if isinstance(kind, type) and issubclass(kind, Enum):
        return _read_enum(kind, value, where)
    if kind is datetime:
        return read_utc(value, where)
    return _read_simple(kind, value, where)


def _read_union(kind: Any, value: object, where: str) -> object:  # noqa: ANN401 - a type annotation
    """Read a value that may be missing; our records have no other unions."""
    if value is None:
        return None
    others = [part for part in typing.get_args(kind) if part is not types.NoneType]
    return _read(others[0], value, where)


def _read_tuple(parts: tuple[Any, ...], value: object, where: str) -> tuple[object, ...]:
    if not isinstance(value, list | tuple):
        raise _misfit(where, value, "a list")
    if len(parts) == 2 and parts[1] is Ellipsis:
        return tuple(_read(parts[0], item, where) for item in value)
    if len(value) != len(parts):
        raise _misfit(where, value, f"{len(parts)} values")
    return tuple(_read(part, item, where) for part, item in zip(parts, value, strict=True))


def _read_enum(kind: type[Enum], value: object, where: str) -> Enum:
    try:
        return kind(value)
    except ValueError:
        words = ", ".join(str(member.value) for member in kind)
        raise _misfit(where, value, f"one of: {words}") from None


def read_utc(value: object, where: str) -> datetime:
    """Read an ISO 8601 moment that carries its offset from UTC.

    Raises
    ------
    JournalError
        If it is none.
    """
    try:
        moment = datetime.fromisoformat(value) if isinstance(value, str) else None
    except ValueError:
        moment = None
    if moment is None or moment.tzinfo is None:
        raise _misfit(where, value, "a moment such as 2026-11-25T21:30:00+00:00")
    return moment


def _read_simple(kind: Any, value: object, where: str) -> object:  # noqa: ANN401 - a type annotation
    if typing.get_origin(kind) is Mapping and isinstance(value, Mapping):
        return value
    if kind is float and isinstance(value, int | float) and not isinstance(value, bool):
        if not -_LARGEST <= value <= _LARGEST:  # NaN included
            raise _misfit(where, value, "a finite number")
        return float(value)
    # A Boolean is an int to Python, but nobody means one by a number.
    if (
        isinstance(kind, type)
        and isinstance(value, kind)
        and isinstance(value, bool) == (kind is bool)
    ):
        return value
    words = {float: "a number", int: "a whole number", str: "text", bool: "true or false"}
    raise _misfit(where, value, words.get(kind, "an object"))


def _misfit(where: str, value: object, wanted: str) -> JournalError:
    return JournalError(f"{where} is {reprlib.repr(value)}.", f"It must be {wanted}.")
