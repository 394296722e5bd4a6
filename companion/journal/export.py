"""Outcomes as text that people and other programs read: CSV, JSON lines, plain text."""

from collections.abc import Mapping, Sequence
from dataclasses import fields
from datetime import tzinfo
from zoneinfo import ZoneInfo

from companion.files import csv_text as table_text
from companion.journal.events import encoded
from companion.journal.history import Tick
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


def csv_text(ticks: Sequence[Tick]) -> str:
    """Give one line a tick under a line of names (RFC 4180); what is unknown is empty."""
    return table_text(_COLUMNS, ([_cell(tick, column) for column in _COLUMNS] for tick in ticks))


def json_lines(ticks: Sequence[Tick]) -> str:
    """Give one JSON object a line (RFC 8259) with everything but the site's horizon."""
    return "".join(f"{encoded(_plain(tick))}\n" for tick in ticks)


def night_text(ticks: Sequence[Tick]) -> str:
    """Give the ticks as a page to read: the nights in order, the site's own clock."""
    lines: list[str] = []
    night = ""
    for tick in ticks:
        if tick.night != night:
            night = tick.night
            lines += ["", f"Night of {night}"]
        lines += _lines(tick)
    return "".join(f"{line}\n" for line in lines[1:])


def _lines(tick: Tick) -> list[str]:
    clock = tick.utc.astimezone(_zone(tick.site)).strftime("%H:%M %Z")
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


def _cell(tick: Tick, column: str) -> object:
    site = tick.site or {}
    match column:
        case "utc":
            return tick.utc.isoformat()
        case "site":
            return site.get("name", "")
        case "latitude_deg" | "longitude_deg":
            return site.get(column, "")
        case _:
            value: object = getattr(tick, column)
            return "" if value is None else value


def _plain(tick: Tick) -> dict[str, object]:
    values = {field.name: getattr(tick, field.name) for field in fields(tick)}
    site = {name: value for name, value in (tick.site or {}).items() if name != "horizon"}
    return values | {
        "utc": tick.utc.isoformat(),
        "outcome": str(Outcome(tick.outcome)),
        "site": None if tick.site is None else site,
    }
