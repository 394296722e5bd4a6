"""``companion order``: put a list of targets into tonight's best order, and say what is lost."""

import argparse
import re
import sys
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path

from companion.advice import AdviceError
from companion.commands.context import Context
from companion.commands.night_given import (
    conditions_of,
    hours_of,
    instrument_of,
    iso,
    local_clock,
    night_line,
)
from companion.commands.output import write, write_error, write_json, write_table
from companion.commands.place import given_site, given_time, said_time
from companion.files import write_whole
from companion.journal import FILE_NAME
from companion.night import (
    LIST_LIMITS,
    Darkness,
    ImportedList,
    MyHours,
    NightGrid,
    NightOrder,
    PlannedStop,
    Session,
    Wish,
    darkness,
    night_grid,
    order_calendar,
    order_csv,
    order_queue,
    read_list,
)
from companion.sky import Site, altitude_text, azimuth_text, zone_of
from companion.untrusted import read_file

_WITHOUT_NIGHT = timedelta(hours=6)  # where no twilight tells when to end
_MOST_LOST = 40  # lines
_MOST_REMARKS = 100  # on a list that was read, said to a person
_DATE_ALONE = re.compile(r"\d{4}-?\d{2}-?\d{2}")
_LATE = timedelta(hours=16)  # after noon the night of a date is still under way
_LIMITS = replace(LIST_LIMITS, do="Name a readable file, or - for stdin.")


def run(context: Context, options: argparse.Namespace) -> int:
    """Read the list, order it, print it, write what was asked for; 1 if nothing finds a place."""
    site = given_site(context, vars(options))
    now = given_time(context, site, options.at)
    begin = _begin(options.start, site, now)
    utc = begin.utc
    read = read_list(_data(options.list), context.search)
    if not read.entries:
        _print_report(read)
        raise AdviceError(
            "No line of this list was understood.", "Give one name or position a line."
        )
    grid = night_grid(context.ephemeris, site, utc)
    evening = _evening(hours_of(context, options), site, utc, grid)
    begins, dawn = evening
    session = _session(options, site, begin.start or begins, dawn)
    order = order_queue(
        context.ephemeris,
        grid,
        [Wish(entry.target, _value(entry.value), entry.minutes) for entry in read.entries],
        session,
        instrument=instrument_of(context, options),
        conditions=conditions_of(site, options),
        doubles=context.catalogue.names.doubles,
    )
    if options.json:
        write_json(_as_json(order, read, site))
    else:
        _print_report(read)
        _print(order, site, darkness(grid))
    _write_files(context, options, order, site)
    return 0 if order.stops else 1


def _value(value: float | None) -> float:
    return 1.0 if value is None else value


def _data(name: str) -> bytes:
    """Read the list, or standard input for ``-``."""
    if name == "-":
        return sys.stdin.buffer.read(_LIMITS.largest_bytes + 1)
    return read_file(name, _LIMITS)


def _evening(
    hours: MyHours | None, site: Site, utc: datetime, grid: NightGrid
) -> tuple[datetime, datetime | None]:
    """Give the night from dusk, or now, until dawn, as far as it lies in the person's hours."""
    night = darkness(grid)
    start = max(utc, night.nautical.begins_utc or night.sun_down.begins_utc or utc)
    end = night.nautical.ends_utc or night.sun_down.ends_utc
    if hours is None:
        return start, end
    return hours.left_of(start, end, grid.middle_utc, zone_of(site.time_zone))


def _session(
    options: argparse.Namespace, site: Site, start: datetime, dawn: datetime | None
) -> Session:
    """Give the evening: what was asked for, else what is usual."""
    end = None if options.end is None else said_time(options.end, site, start, ahead=True)
    if end is None:
        end = dawn if dawn is not None and dawn > start else start + _WITHOUT_NIGHT
    if end <= start:
        raise AdviceError("The evening ends before it begins.", "Give a later --end.")
    return Session(start, end, target_minutes=options.minutes)


@dataclass(frozen=True, slots=True)
class _Begin:
    """Of which night a moment is, and when to begin in it; None is dusk, or now."""

    utc: datetime
    start: datetime | None


def _begin(text: str | None, site: Site, now: datetime) -> _Begin:
    """Read when to begin: a time of the day is the coming one, a date that date, gone by or not.

    A date alone means the dusk of that date.

    Raises
    ------
    AdviceError
        If it is no time.
    """
    if text is None:
        return _Begin(now, None)
    if _DATE_ALONE.fullmatch(text.strip()):
        noon = said_time(f"{text.strip()}T12:00", site, now)
        day = timedelta(days=1)
        begin = _Begin(now if noon <= now < noon + _LATE else noon, None)
    else:
        start = said_time(text, site, now, ahead=True)
        begin, day = _Begin(start, start), timedelta(0)
    if begin.utc + day < now:
        local = begin.utc.astimezone(zone_of(site.time_zone))
        write_error(f"The night of {local:%Y-%m-%d} is past: this is how it was.")
    return begin


def _as_json(order: NightOrder, read: ImportedList, site: Site) -> dict[str, object]:
    return {
        "site": site.name,
        "value": order.value,
        "gain": order.gain,
        "turned_deg": order.turned_deg,
        "exact": order.exact,
        "order": [_stop_json(stop) for stop in order.stops],
        "lost": [
            {
                "key": lost.target.key,
                "name": lost.target.name,
                "value": lost.value,
                "code": lost.code.value,
                "why": lost.why,
            }
            for lost in order.lost
        ],
        "not_understood": list(read.report),
    }


def _stop_json(stop: PlannedStop) -> dict[str, object]:
    return {
        "key": stop.target.key,
        "name": stop.target.name,
        "value": stop.value,
        "gain": stop.gain,
        "start_utc": iso(stop.start_utc),
        "end_utc": iso(stop.end_utc),
        "closes_utc": iso(stop.closes_utc),
        "spare_s": stop.spare_s,
        "turn_deg": stop.turn_deg,
        "waits_s": stop.waits_s,
        "altitude_deg": stop.altitude_deg,
        "azimuth_deg": stop.azimuth_deg,
    }


def _print(order: NightOrder, site: Site, night: Darkness) -> None:
    write(f"{site.name}: {night_line(night, site)}")
    if order.stops:
        head = ("target", "from", "until", "altitude", "azimuth", "turn", "closes")
        write_table(head, [_as_row(stop, site) for stop in order.stops])
    for lost in order.lost[:_MOST_LOST]:
        write(f"lost: {lost.target.name}: {lost.why}")
    if len(order.lost) > _MOST_LOST:
        write(f"lost: {len(order.lost) - _MOST_LOST} more; --json tells all of them")


def _as_row(stop: PlannedStop, site: Site) -> tuple[str, ...]:
    return (
        stop.target.name,
        local_clock(stop.start_utc, site),
        local_clock(stop.end_utc, site),
        altitude_text(stop.altitude_deg, 1.0) + "°",
        azimuth_text(stop.azimuth_deg, 1.0) + "°",
        "" if stop.turn_deg is None else f"{stop.turn_deg:.0f}°",
        local_clock(stop.closes_utc, site),
    )


def _print_report(read: ImportedList) -> None:
    for line in read.report[:_MOST_REMARKS]:
        write_error(line)
    if len(read.report) > _MOST_REMARKS:
        write_error(f"{len(read.report) - _MOST_REMARKS} more lines; --json tells all of them")


def _write_files(
    context: Context, options: argparse.Namespace, order: NightOrder, site: Site
) -> None:
    """Write the calendar and the table that were asked for; neither over what was read."""
    inputs = [context.home / FILE_NAME, Path(options.list)]
    if options.calendar is not None:
        write_whole(Path(options.calendar), order_calendar(order, site, context.now), inputs)
        inputs.append(Path(options.calendar))
    if options.table is not None:
        write_whole(Path(options.table), order_csv(order).encode(), inputs)
