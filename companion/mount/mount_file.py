"""A mount as a TOML file, to be read and written.

All keys but ``name`` may be left out; the fields of the records have the same names::

    name = "Wooden alt-az"
    reach_low_deg = -5.0         # altitudes that the tube can be brought to
    reach_high_deg = 88.0
    cable_limit_deg = 270.0      # total turn either way from the dial's zero; no limit if left out
    centring_sigma_deg = 0.05    # how well a star is brought to the centre
    levelled_with_care = true    # with a spirit level, to about 0.3 degrees

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
import tomllib
import typing
from collections.abc import Mapping
from dataclasses import fields
from pathlib import Path
from typing import Final

from companion.files import write_whole
from companion.mount.mount_check import checked_mount
from companion.mount.records import CountedFrom, Dial, Mount
from companion.sky import AdviceError

LARGEST_BYTES: Final = 64 * 1024
_KEPT = "No mount was changed."


def read_mount(path: Path) -> Mount:
    """Read a mount's file.

    Raises
    ------
    AdviceError
        If it cannot be read, is too large, is not TOML, has an unknown key or a value that makes
        no sense.
    """
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise AdviceError(
            f"{path.name} cannot be read: {error.strerror or 'no reason given'}.",
            "Check that the file is there and that you may read it.",
            _KEPT,
        ) from error
    if len(content) > LARGEST_BYTES:
        raise AdviceError(
            f"{path.name} is larger than {LARGEST_BYTES // 1024} kB: it is no mount's file.",
            "Choose the file of a mount.",
            _KEPT,
        )
    try:
        return parse_mount(content.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        raise _no_toml("it is not UTF-8 text") from error


def parse_mount(text: str) -> Mount:
    """Read a mount from the text of its file; see ``read_mount`` for the errors."""
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
        raise _misfit(where, value, "a number")
    return float(value)


def _misfit(where: str, value: object, wanted: str) -> AdviceError:
    return AdviceError(f"{where} is {str(value)[:60]!r}.", f"It must be {wanted}.", _KEPT)


def _no_toml(reason: str) -> AdviceError:
    return AdviceError(
        f"The mount's file is no TOML: {reason}.",
        "Correct it, or write a new one from a mount in the program.",
        _KEPT,
    )
