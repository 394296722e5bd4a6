"""``companion program``: an evening for visitors, target by target, with what is said."""

import argparse
from pathlib import Path
from textwrap import wrap

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
from companion.commands.output import WIDTH, write, write_json
from companion.commands.place import given_site, given_time
from companion.commands.remarks import heading
from companion.night import TonightRequest
from companion.road import HostRequest, Program, Stop, program
from companion.sky import Site

_IN, _FURTHER = 3 * " ", 6 * " "
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
        where, saying = stop.where or stop.caution, stop.saying
        write(f"{number}. {local_clock(stop.begins_utc, site)} {stop.full_name}, {where}")
        far = f", {saying.far}" if saying.far else ""
        _tell(f"with {stop.view}", f"{saying.what}{far}")
        _tell("before", saying.before)
        _tell("say", saying.fact)
        _tell("ask", saying.ask)
        _tell("for you", saying.answer)
        _tell("by eye meanwhile", stop.eye)
        if stop.eyepiece_m is not None:
            _tell(f"eyepiece about {stop.eyepiece_m:.1f} m up", stop.stand)
        _tell("if clouds come there", stop.if_clouds)


def _print_sheet(found: Program) -> None:
    sheet = found.sheet
    if sheet.group:
        _tell("the sky as we stand begins at", f"{sheet.group}. {sheet.looks}")
    for number, point in enumerate(sheet.points, 1):
        _tell(f"{number}", point.sentence)
    if sheet.saw:
        _tell("what we saw", ", ".join(sheet.saw))
    elif sheet.planned:
        _tell("what we look at tonight", ", ".join(sheet.planned))
    write("Three things for next week, by eye, at the same hour:")
    for number, sentence in enumerate(sheet.next_week, 1):
        _tell(f"{number}", sentence)


def _tell(caption: str, text: str) -> None:
    """Write a caption and what is told under it, on lines that an old terminal has room for."""
    if text:
        for line in wrap(
            f"{caption}: {text}", WIDTH, initial_indent=_IN, subsequent_indent=_FURTHER
        ):
            write(line)
