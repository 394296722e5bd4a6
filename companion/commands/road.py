"""``companion road``: what a beginner learns next, here and tonight."""

import argparse

from companion.commands.context import Context
from companion.commands.learned import tries_of
from companion.commands.night_given import conditions_of, instrument_of, iso, local_clock
from companion.commands.output import write, write_json
from companion.commands.place import given_site, given_time
from companion.commands.remarks import heading
from companion.road import Road, RoadRequest, Step, road, tool_of
from companion.sky import Site, zone_of


def run(context: Context, options: argparse.Namespace) -> int:
    """Print the next steps of the road; 1 if none can be done."""
    site = given_site(context, vars(options))
    instrument = instrument_of(context, options)
    request = RoadRequest(
        site=site,
        utc=given_time(context, site, options.at),
        conditions=conditions_of(site, options),
        tool=tool_of(instrument),
        tries=tries_of(context),
        overcast=options.overcast,
    )
    found = road(context.ephemeris, context.catalogue, request)
    if options.json:
        write_json(_as_json(found, request))
    else:
        _print(found, request)
    return 0 if found.doable else 1


def _as_json(found: Road, request: RoadRequest) -> dict[str, object]:
    return {
        "site": request.site.name,
        "utc": iso(request.utc),
        "for_utc": iso(found.utc),
        "tool": str(request.tool),
        "words": found.words,
        "mastered": found.mastered,
        "steps": [_step_json(step) for step in found.steps],
    }


def _step_json(step: Step) -> dict[str, object]:
    return {
        "key": step.key,
        "title": step.title,
        "subject": step.subject or None,
        "tool": str(step.tool),
        "look_azimuth_deg": step.look_azimuth_deg,
        "look_altitude_deg": step.look_altitude_deg,
        "sentences": list(step.sentences),
        "check": step.check,
        "missing": step.missing,
        "waits": step.waits,
        "waits_until": iso(step.waits_until),
        "again": step.again,
        "new_figure": step.is_figure,
    }


def _print(found: Road, request: RoadRequest) -> None:
    write(heading(request.site, request.utc))
    if found.words:
        write(found.words)
    for number, step in enumerate(found.doable, 1):
        write(f"{number}. {step.title}")
        for sentence in (*step.sentences, step.check, step.missing):
            write(f"   {sentence}")
    if not found.doable:
        write("Nothing can be done now; practise indoors: companion rehearse.")
    waiting = [step for step in found.steps if step.waits]
    for step in waiting:
        write(f"later: {step.title}. {step.sentences[0]}{_until(step, request.site)}")


def _until(step: Step, site: Site) -> str:
    if step.waits_until is None:
        return ""
    local = step.waits_until.astimezone(zone_of(site.time_zone))
    return f" It comes on {local:%Y-%m-%d} at {local_clock(step.waits_until, site)}."
