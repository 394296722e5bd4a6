"""A mount as a TOML file, to be read and written.

All keys but ``name`` may be left out; the fields of the records have the same names::

    name = "Wooden alt-az"
    reach_low_deg = -5.0         # altitudes that the tube can be brought to
    reach_high_deg = 88.0
    cable_limit_deg = 270.0      # total turn either way from the dial's zero; no limit if left out
    centring_sigma_deg = 0.05    # how well a star is brought to the centre
    levelled_with_care = true    # always, with a spirit level: on a pillar, not on a tripod

    [azimuth]
    clockwise = true             # readings grow from north to east
    zero_deg = 0.0               # what the dial shows at true north
    low_deg = 0.0                # first and last reading on the dial
    high_deg = 360.0
    step_deg = 1.0               # between two marks, or the last digit
    digital = false
    play_deg = 0.5               # how far one star's readings differ from either side, if measured

    [altitude]
    counted_from = "horizon"     # or "zenith"
    clockwise = true             # readings grow as the tube rises (from the zenith: sinks)
    level_on_tube = false        # true for a level that measures against gravity
    zero_deg = 0.0               # what the dial shows at the horizon (or at the zenith)
    low_deg = -10.0
    high_deg = 100.0
    step_deg = 0.1
    digital = true
"""

import json
import re
import tomllib
import typing
from collections.abc import Mapping
from dataclasses import fields
from pathlib import Path
from typing import Final

from companion.advice import AdviceError
from companion.files import write_whole
from companion.mount.mount_check import checked_mount
from companion.mount.records import CountedFrom, Dial, Mount
from companion.untrusted import Limits, read_file

_KEPT = "No mount was changed."
_LIMITS: Final = Limits(
    "a mount's file",
    64 * 1024,
    kept=_KEPT,
    do="Check that the file of a mount is there and that you may read it.",
)
_LONGEST_LINE: Final = 400  # keys of hundreds of parts cost a parser hundreds of megabytes
_MOST_DIGITS: Final = 40
_TOO_MANY_DIGITS: Final = re.compile(rf"\d[0-9A-Fa-f_]{{{_MOST_DIGITS},}}")


def read_mount(path: Path) -> Mount:
    """Read a mount's file.

    Raises
    ------
    AdviceError
        If it cannot be read, is too large, is not TOML, has an unknown key or a value that makes
        no sense.
    """
    try:
        return parse_mount(read_file(path, _LIMITS).decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        raise _no_toml("it is not UTF-8 text") from error


def parse_mount(text: str) -> Mount:
    """Read a mount from the text of its file; see ``read_mount`` for the errors."""
    _check_lines(text)
    try:
        table = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise _no_toml(str(error)[:200]) from error
    if "name" not in table:
        raise AdviceError("The mount has no name.", 'Begin the file with name = "...".', _KEPT)
    default = Mount("")
    values = _values(Mount, table, "")
    for part, dial in (("azimuth", default.azimuth), ("altitude", default.altitude)):
        if part in values:
            values[part] = _dial(values[part], part, dial)
    return checked_mount(Mount(**values))  # type: ignore[arg-type]  # checked by _values


def _check_lines(text: str) -> None:
    """Refuse what no mount needs and what a parser would choke on."""
    for number, line in enumerate(text.splitlines(), start=1):
        if len(line) > _LONGEST_LINE:
            raise _no_toml(f"line {number} has {len(line)} characters")
        if _TOO_MANY_DIGITS.search(line):
            raise _no_toml(f"line {number} holds a number of more than {_MOST_DIGITS} digits")


def mount_text(mount: Mount) -> str:
    """Write a mount as the text of its file; ``parse_mount`` gives it back."""
    lines = _lines(mount)
    for part, dial in (("azimuth", mount.azimuth), ("altitude", mount.altitude)):
        lines += ["", f"[{part}]", *_lines(dial)]
    return "\n".join(lines) + "\n"


def write_mount(path: Path, mount: Mount) -> None:
    """Write a mount's new file; one that is there already is left alone.

    Raises
    ------
    AdviceError
        If the file exists, or cannot be written.
    """
    write_whole(path, mount_text(mount).encode(), replace=False)


def _lines(record: Mount | Dial) -> list[str]:
    values = ((field.name, getattr(record, field.name)) for field in fields(record))
    return [
        f"{name} = {json.dumps(value, ensure_ascii=False)}"
        for name, value in values
        if value is not None and not isinstance(value, Dial)
    ]


def _dial(table: object, part: str, default: Dial) -> Dial:
    if not isinstance(table, Mapping):
        raise _misfit(part, table, f"a table, begun by a line [{part}]")
    values = {field.name: getattr(default, field.name) for field in fields(Dial)}
    # A scale that is described has no level on the tube unless it says so.
    values["level_on_tube"] = False
    return Dial(**(values | _values(Dial, table, f"{part}.")))


def _values(
    record: type[Mount] | type[Dial], table: Mapping[str, object], where: str
) -> dict[str, object]:
    """Check names and kinds of values against the fields of a record."""
    kinds = typing.get_type_hints(record)
    unknown = sorted(set(table) - set(kinds))
    if unknown:
        raise AdviceError(
            f"The mount's file has the unknown key {where}{unknown[0][:60]}.",
            f"Known here are: {', '.join(kinds)}.",
            _KEPT,
        )
    return {name: _value(kinds[name], value, where + name) for name, value in table.items()}


def _value(kind: object, value: object, where: str) -> object:
    if kind is Dial:
        return value
    if kind is bool or kind is str:
        wanted = "true or false" if kind is bool else "text in quotes"
        if isinstance(value, bool) != (kind is bool) or not isinstance(value, bool | str):
            raise _misfit(where, value, wanted)
        return value
    if kind is CountedFrom:
        found = next((word for word in CountedFrom if word == value), None)
        if found is None:
            raise _misfit(where, value, " or ".join(f'"{word}"' for word in CountedFrom))
        return found
    if isinstance(value, bool) or not isinstance(value, int | float) or abs(value) > 1e6:
        raise _misfit(where, value, "a number of at most a million")
    return float(value)


def _misfit(where: str, value: object, wanted: str) -> AdviceError:
    return AdviceError(f"{where} is {str(value)[:60]!r}.", f"It must be {wanted}.", _KEPT)


def _no_toml(reason: str) -> AdviceError:
    return AdviceError(
        f"The mount's file is not TOML: {reason}.",
        "Correct it, or write a new one from a mount in the program.",
        _KEPT,
    )
