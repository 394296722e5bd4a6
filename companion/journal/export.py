"""Outcomes as text that people and other programs read: CSV, JSON lines, plain text."""

from collections.abc import Mapping, Sequence
from dataclasses import fields
from datetime import tzinfo
from zoneinfo import ZoneInfo

from companion.files import csv_text as table_text
from companion.journal.events import encoded
from companion.journal.history import Entry, Remark, Tick
from companion.journal.outcome import Outcome, outcome_text

_COLUMNS = (
    "night",
    "utc",
    "key",
    "name",
    "outcome",
    "note",
    "instrument",
    "site",
    "latitude_deg",
    "longitude_deg",
    "altitude_deg",
    "azimuth_deg",
    "eyepiece",
)


def csv_text(entries: Sequence[Entry]) -> str:
    """Give one line an entry under a line of names (RFC 4180); what is unknown is empty.

    What was noted between outcomes has a line of its own, without an outcome, and without a key
    where it is about the night itself.
    """
    return table_text(_COLUMNS, ([_cell(one, column) for column in _COLUMNS] for one in entries))


def json_lines(entries: Sequence[Entry]) -> str:
    """Give one JSON object a line (RFC 8259) with everything but the site's horizon."""
    return "".join(f"{encoded(_plain(entry))}\n" for entry in entries)


def night_text(entries: Sequence[Entry]) -> str:
    """Give the entries as a page to read: the nights in order, the site's own clock."""
    lines: list[str] = []
    night = ""
    for entry in entries:
        if entry.night != night:
            night = entry.night
            lines += ["", f"Night of {night}"]
        lines += _lines(entry)
    return "".join(f"{line}\n" for line in lines[1:])


def _lines(entry: Entry) -> list[str]:
    clock = entry.utc.astimezone(_zone(entry.site)).strftime("%H:%M %Z")
    if isinstance(entry, Tick):
        return _tick_lines(clock, entry)
    first, *more = entry.text.splitlines() or [""]
    about = f"{_one_line(entry.name)}: " if entry.name else ""
    return [f"  {clock}  {about}{_one_line(first)}", *(f"      {_one_line(x)}" for x in more)]


def _tick_lines(clock: str, tick: Tick) -> list[str]:
    through = "".join(f", {_one_line(one)}" for one in (tick.instrument, tick.eyepiece) if one)
    head = f"  {clock}  {_one_line(tick.name)}: {outcome_text(tick.outcome)}{through}"
    return [head, *(f"      {_one_line(line)}" for line in tick.note.splitlines())]


def _zone(site: Mapping[str, object] | None) -> tzinfo:
    """Give the site's time zone, UTC where it is unknown."""
    try:
        return ZoneInfo(str((site or {}).get("time_zone", "UTC")))
    except (ValueError, OSError, LookupError):
        return ZoneInfo("UTC")


def _one_line(text: str) -> str:
    """Make characters that steer a terminal visible."""
    return "".join(char if char.isprintable() else "\N{REPLACEMENT CHARACTER}" for char in text)


def _cell(entry: Entry, column: str) -> object:
    site = entry.site or {}
    match column:
        case "utc":
            return entry.utc.isoformat()
        case "site":
            return site.get("name", "")
        case "latitude_deg" | "longitude_deg":
            return site.get(column, "")
        case "note" if isinstance(entry, Remark):
            return entry.text
        case _:
            value: object = getattr(entry, column, None)
            return "" if value is None else value


def _plain(entry: Entry) -> dict[str, object]:
    values = {field.name: getattr(entry, field.name) for field in fields(entry)}
    site = {name: value for name, value in (entry.site or {}).items() if name != "horizon"}
    said = (
        {"outcome": None, "note": values.pop("text")}
        if isinstance(entry, Remark)
        else {"outcome": str(Outcome(entry.outcome))}
    )
    return (
        values
        | said
        | {
            "utc": entry.utc.isoformat(),
            "site": None if entry.site is None else site,
        }
    )
