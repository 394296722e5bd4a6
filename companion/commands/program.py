"""``companion program``: an evening for visitors, target by target, with what is said."""

import argparse

from companion.commands.context import Context
from companion.commands.night_given import (
    conditions_of,
    hours_of,
    instrument_of,
    iso,
    local_clock,
)
from companion.commands.output import write, write_json
from companion.commands.place import given_site, given_time
from companion.commands.remarks import heading
from companion.night import TonightRequest
from companion.road import Program, Stop, program
from companion.sky import Site


def run(context: Context, options: argparse.Namespace) -> int:
    """Print the evening, or the visitors' sheet; 1 if nothing stands well.

    Raises
    ------
    AdviceError
        If place, time or numbers cannot be used.
    """
    site = given_site(context, vars(options))
    asked = TonightRequest(
        site=site,
        utc=given_time(context, site, options.at),
        instrument=instrument_of(context, options),
        conditions=conditions_of(site, options),
        hours=hours_of(context, options),
    )
    found = program(
        context.ephemeris,
        context.catalogue,
        asked,
        targets=options.targets,
        minutes=options.minutes,
        axis_m=options.axis,
    )
    if options.json:
        write_json(_as_json(found, site, visitors=options.visitors))
    else:
        write(heading(site, found.begins_utc))
        if options.visitors:
            _print_sheet(found)
        else:
            _print(found, site)
    return 0 if found.stops else 1


def _as_json(found: Program, site: Site, *, visitors: bool) -> dict[str, object]:
    answer: dict[str, object] = {
        "site": site.name,
        "begins_utc": iso(found.begins_utc),
        "minutes": found.minutes,
        "words": found.words,
        "targets": [_stop_json(stop) for stop in found.stops],
    }
    if visitors:
        sheet = found.sheet
        answer["visitors"] = {
            "group": sheet.group,
            "points": list(sheet.points),
            "saw": list(sheet.saw),
            "next_week": list(sheet.next_week),
        }
    return answer


def _stop_json(stop: Stop) -> dict[str, object]:
    return {
        "key": stop.target.key,
        "name": stop.target.name,
        "kind": str(stop.target.kind),
        "begins_utc": iso(stop.begins_utc),
        "look_azimuth_deg": stop.azimuth_deg,
        "look_altitude_deg": stop.altitude_deg,
        "where": stop.where,
        "before": stop.saying.before,
        "fact": stop.saying.fact,
        "ask": stop.saying.ask,
        "eye": stop.eye,
        "if_clouds": stop.if_clouds or None,
        "eyepiece_height_m": stop.eyepiece_m,
        "stand": stop.stand,
    }


def _print(found: Program, site: Site) -> None:
    if found.words:
        write(found.words)
    for number, stop in enumerate(found.stops, 1):
        write(f"{number}. {local_clock(stop.begins_utc, site)} {stop.target.name}, {stop.where}")
        if stop.saying.before:
            write(f"   before: {stop.saying.before}")
        write(f"   say: {stop.saying.fact}")
        write(f"   ask: {stop.saying.ask}")
        if stop.eye:
            write(f"   by eye meanwhile: {stop.eye}")
        if stop.eyepiece_m is not None:
            write(f"   eyepiece about {stop.eyepiece_m:.1f} m up: {stop.stand}")
        if stop.if_clouds:
            write(f"   if clouds come there: {stop.if_clouds}")


def _print_sheet(found: Program) -> None:
    sheet = found.sheet
    if sheet.group:
        write(f"The sky as we stand begins at {sheet.group}:")
    for sentence in sheet.points:
        write(f"  {sentence}")
    write(f"What we saw: {', '.join(sheet.saw) or 'clouds'}.")
    write("Three things for next week, by eye:")
    for number, sentence in enumerate(sheet.next_week, 1):
        write(f"  {number}. {sentence}")
