"""``companion program``: an evening for visitors, target by target, with what is said."""

import argparse
from pathlib import Path

from companion.advice import AdviceError
from companion.charts import sheet_sky
from companion.commands.context import Context
from companion.commands.night_given import (
    conditions_of,
    found_tonight,
    hours_of,
    instrument_of,
    iso,
    local_clock,
)
from companion.commands.output import write, write_json
from companion.commands.place import given_site, given_time
from companion.commands.remarks import heading
from companion.night import TonightRequest
from companion.road import HostRequest, Program, Stop, program
from companion.sky import Site

_KEPT = "Nothing was written."


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
    wanted = HostRequest(
        asked,
        options.targets,
        options.minutes,
        options.axis,
        found_tonight(context, site, asked.utc),
    )
    found = program(context.ephemeris, context.catalogue, wanted)
    printed = _printed(context, options, asked, found)
    if options.json:
        write_json(_as_json(found, site, visitors=options.visitors))
    else:
        write(heading(site, found.begins_utc))
        if options.visitors:
            _print_sheet(found)
        else:
            _print(found, site)
        if printed is not None:
            write(f"Printed: {printed}")
    return 0 if found.stops else 1


def _printed(
    context: Context, options: argparse.Namespace, asked: TonightRequest, found: Program
) -> Path | None:
    """Print the visitors' sheet where a file is named; what is there already stays."""
    if options.sheet is None:
        return None
    path = Path(options.sheet).expanduser()
    if path.suffix.lower() != ".pdf":
        raise AdviceError(f"{path.name} does not end in .pdf.", "Name a PDF file.")
    if path.exists():
        raise AdviceError(f"{path} is there already.", "Give the sheet another name.", _KEPT)
    sheet = found.sheet
    sky = sheet_sky(
        context.ephemeris,
        context.catalogue,
        (asked.site, sheet.utc),
        asked.conditions,
        (sheet.group_key, [point.name for point in sheet.points]),
    )
    context.print_sheet(path, sheet, sky)
    return path


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
            "looks": sheet.looks,
            "points": [point.sentence for point in sheet.points],
            "saw": list(sheet.saw),
            "planned": list(sheet.planned),
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
        "face": stop.face,
        "with": stop.view,
        "caution": stop.caution,
        "called": stop.saying.called,
        "what": stop.saying.what,
        "far": stop.saying.far,
        "before": stop.saying.before,
        "fact": stop.saying.fact,
        "ask": stop.saying.ask,
        "answer": stop.saying.answer,
        "eye": stop.eye,
        "if_clouds": stop.if_clouds or None,
        "eyepiece_height_m": stop.eyepiece_m,
        "stand": stop.stand,
    }


def _print(found: Program, site: Site) -> None:
    if found.words:
        write(found.words)
    for number, stop in enumerate(found.stops, 1):
        where = stop.where or stop.caution
        write(f"{number}. {local_clock(stop.begins_utc, site)} {stop.target.name}, {where}")
        far = f", {stop.saying.far}" if stop.saying.far else ""
        write(f"   with {stop.view}: {stop.saying.what}{far}")
        if stop.saying.before:
            write(f"   before: {stop.saying.before}")
        write(f"   say: {stop.saying.fact}")
        write(f"   ask: {stop.saying.ask}")
        if stop.saying.answer:
            write(f"   (for you: {stop.saying.answer})")
        if stop.eye:
            write(f"   by eye meanwhile: {stop.eye}")
        if stop.eyepiece_m is not None:
            write(f"   eyepiece about {stop.eyepiece_m:.1f} m up: {stop.stand}")
        if stop.if_clouds:
            write(f"   if clouds come there: {stop.if_clouds}")


def _print_sheet(found: Program) -> None:
    sheet = found.sheet
    if sheet.group:
        write(f"The sky as we stand begins at {sheet.group}. {sheet.looks}")
    for point in sheet.points:
        write(f"  {point.sentence}")
    if sheet.saw:
        write(f"What we saw: {', '.join(sheet.saw)}.")
    elif sheet.planned:
        write(f"What we look at tonight: {', '.join(sheet.planned)}.")
    write("Three things for next week, by eye:")
    for number, sentence in enumerate(sheet.next_week, 1):
        write(f"  {number}. {sentence}")
