"""``companion events``: what the sky brings in the days to come."""

import argparse
from datetime import timedelta
from pathlib import Path

from companion.commands.context import Context
from companion.commands.night_given import conditions_of, instrument_of, iso
from companion.commands.output import write, write_error, write_json
from companion.commands.place import given_site, given_time
from companion.commands.remarks import heading
from companion.events import (
    ComingRequest,
    Event,
    Family,
    event_kinds_named,
    events_calendar,
    what_comes,
)
from companion.files import write_whole
from companion.sky import Site, clock_text, zone_of


def run(context: Context, options: argparse.Namespace) -> int:
    """Print what comes, an event a line, and write the calendar where one is asked for."""
    site = given_site(context, vars(options))
    utc = given_time(context, site, options.at)
    request = ComingRequest(
        site=site,
        first=utc,
        last=utc + timedelta(days=options.days),
        instrument=instrument_of(context, options),
        conditions=conditions_of(site, options),
        kinds=event_kinds_named(options.kinds or ""),
        satellites=tuple(context.elements.all(Family.SATELLITE)),
    )
    events = what_comes(context.ephemeris, context.catalogue, request)
    note = context.ephemeris.ends_before(request.last)
    if note:
        write_error(note)
    if options.calendar:
        write_whole(Path(options.calendar), events_calendar(events, site, context.now))
    if options.json:
        for event in events:
            write_json(_as_json(event))
        return 0
    write(heading(site, utc))
    for event in events:
        for line in _lines(event, site):
            write(line)
    if not events:
        write("nothing of that kind comes within that time")
    return 0


def _as_json(event: Event) -> dict[str, object]:
    """Give an event; times that do not apply are left out, numbers that do not are null."""
    times = {"start_utc": event.start_utc, "end_utc": event.end_utc}
    return {
        "kind": str(event.kind),
        "code": event.code,
        "title": event.title,
        "utc": iso(event.utc),
        **{name: iso(moment) for name, moment in times.items() if moment is not None},
        "altitude_deg": event.altitude_deg,
        "azimuth_deg": event.azimuth_deg,
        "seen_here": event.seen_here,
        "why": event.why,
        "bodies": event.bodies,
        "separation_deg": event.separation_deg,
        "magnitude": event.magnitude,
        "obscuration": event.obscuration,
        "caution": event.caution or None,
        "keys": event.keys,
        "instrument": event.instrument,
        "best_utc": iso(event.best_utc),
        "best_altitude_deg": event.best_altitude_deg,
        "best_azimuth_deg": event.best_azimuth_deg,
        "contacts": {code: iso(moment) for code, moment in event.contacts.items()},
        **event.numbers,
    }


def _lines(event: Event, site: Site) -> list[str]:
    """Say an event by the site's clocks: when, what, and how good it is from here."""
    zone = zone_of(site.time_zone)
    local = event.utc.astimezone(zone)
    seen = event.why if event.seen_here else f"not seen here: {event.why}"
    lines = [f"{local:%Y-%m-%d} {clock_text(local)}  {event.title}: {seen}"]
    if event.contacts:
        steps = sorted(event.contacts.items(), key=lambda step: step[1])
        told = (f"{_words(code)} {moment.astimezone(zone):%H:%M:%S}" for code, moment in steps)
        lines.append("    " + ", ".join(told))
    if event.caution:
        lines.append(f"    {event.caution}")
    return lines


def _words(code: str) -> str:
    return code.replace("_", " ")
