"""``companion mark``: tick a target off, in the same journal as the window's."""

import argparse
from contextlib import closing
from dataclasses import replace

from companion.advice import AdviceError
from companion.commands.context import Context
from companion.commands.output import write, write_error, write_json
from companion.commands.place import given_site, given_time
from companion.finding import Instrument
from companion.journal import (
    KeptJournal,
    Mark,
    Outcome,
    Settings,
    from_plain,
    night_of,
    outcome_text,
    to_plain,
)
from companion.night import find_instrument
from companion.sky import Site, TargetTable, zone_of

_BUSY_S = 5.0
_KEPT = "Nothing was written."
OUTCOMES = {
    "found": Outcome.FOUND,
    "not_seen": Outcome.NOT_SEEN,
    "skipped": Outcome.SKIPPED,
}


def run(context: Context, options: argparse.Namespace) -> int:
    """Write the outcome; say it only once it is on disk."""
    target = context.search.resolve(options.target)
    site = _site_or_none(context, options)
    utc = context.now if site is None else given_time(context, site, options.at)
    place = None
    if site is not None:
        place = context.ephemeris.moment(site, utc).horizontal(TargetTable.of([target], utc))
    mark = Mark(
        to_plain(target),
        OUTCOMES[options.outcome],
        note=options.note,
        site=None if site is None else to_plain(site),
        altitude_deg=None if place is None else float(place.altitude_deg[0]),
        azimuth_deg=None if place is None else float(place.azimuth_deg[0]),
    )
    night = night_of(utc, zone_of("UTC" if site is None else site.time_zone))
    with closing(KeptJournal(context.home, _BUSY_S, write_error)) as kept:
        journal = kept.file()
        instrument, eyepiece = _looked_through(journal.settings(), options)
        looked = replace(mark, instrument=instrument, eyepiece=eyepiece)
        before = journal.mark(night, utc, looked).before
        _say_rescuable(kept)
    stood = None if before is None or before.marked is None else before
    if options.json:
        write_json(
            {
                "target": target.name,
                "key": target.key,
                "outcome": str(mark.outcome),
                "before": None if stood is None else str(stood.outcome),
            }
        )
    else:
        was = "" if stood is None else f", before: {outcome_text(stood.outcome)}"
        write(f"{target.name}: {outcome_text(mark.outcome)}, night of {night}{was}")
    return 0


def _looked_through(settings: Settings, options: argparse.Namespace) -> tuple[str, str]:
    """Give instrument and eyepiece: those that are named, or the instrument that was used last."""
    name = options.instrument or settings.instrument
    if not name:
        if options.eyepiece:
            raise AdviceError(
                "An eyepiece alone says nothing.", "Name the instrument: --instrument.", _KEPT
            )
        return "", ""
    own = tuple(from_plain(Instrument, plain) for plain in settings.instruments)
    try:
        instrument = find_instrument(name, own)
    except AdviceError:
        if options.instrument:
            raise
        return "", ""  # what was used last is not known any more: that holds no tick up
    names = {one.name.casefold(): one.name for one in instrument.eyepieces}
    wanted = "" if options.eyepiece is None else options.eyepiece.strip()
    if wanted and wanted.casefold() not in names:
        raise AdviceError(
            f"{instrument.name} has no eyepiece called {wanted[:40]!r}.",
            f"It has: {', '.join(names.values()) or 'none'}.",
            _KEPT,
        )
    return instrument.name, names.get(wanted.casefold(), "")


def _say_rescuable(kept: KeptJournal) -> None:
    for path in kept.rescuable:
        write_error(
            f"{path.name} holds entries that are not in the journal: companion journal rescue "
            "brings them back."
        )


def _site_or_none(context: Context, options: argparse.Namespace) -> Site | None:
    """Give the site where one is known: a tick without a place is better than none."""
    try:
        return given_site(context, vars(options))
    except AdviceError:
        if options.lat is not None or options.lon is not None or options.site is not None:
            raise
        return None
