"""What the options about the night mean: instrument, darkness, what was seen; times as text."""

import argparse
from datetime import UTC, datetime

from companion.commands.context import Context
from companion.finding import Instrument
from companion.journal import FILE_NAME, Journal, Outcome, from_plain, night_of, seen_keys
from companion.night import (
    Conditions,
    Darkness,
    MyHours,
    Observer,
    find_instrument,
    ready_instruments,
    zenith_brightness,
)
from companion.sky import Site, clock_text, zone_of

USUAL_INSTRUMENT = "10×50"


def instrument_of(context: Context, options: argparse.Namespace) -> Instrument:
    """Give the instrument asked for, the one that was used last, or the usual binoculars."""
    settings = context.settings
    own = tuple(from_plain(Instrument, plain) for plain in settings.instruments)
    name = options.instrument or settings.instrument or USUAL_INSTRUMENT
    return find_instrument(name, own, _observer(options))


def instruments_of(context: Context, options: argparse.Namespace) -> tuple[Instrument, ...]:
    """Give the person's own instruments, or the ready ones where none is kept."""
    own = tuple(from_plain(Instrument, plain) for plain in context.settings.instruments)
    return own or ready_instruments(_observer(options))


def conditions_of(site: Site, options: argparse.Namespace) -> Conditions:
    """Give the night's conditions from whichever darkness was given.

    Raises
    ------
    AdviceError
        If a value is out of its range.
    """
    told = (options.meter, options.faintest, options.bortle)
    zenith = None
    if any(value is not None for value in told):
        zenith = zenith_brightness(
            meter=options.meter, limit_mag=options.faintest, bortle=options.bortle
        )
    return Conditions.at(site, _observer(options), zenith_mag=zenith)


def _observer(options: argparse.Namespace) -> Observer:
    return Observer() if options.age is None else Observer(age_years=options.age)


def hours_of(context: Context, options: argparse.Namespace) -> MyHours | None:
    """Give the hours asked for, those that are remembered, or None for the whole night.

    Raises
    ------
    AdviceError
        If what was given is no hours.
    """
    told: str | None = options.hours
    if told is None:
        return MyHours.of(context.settings.hours)
    if told.strip().casefold() == "all":
        return None
    return MyHours.typed(told)


def seen_before(context: Context) -> frozenset[str]:
    """Give what the journal says was found before; nothing where there is no journal yet.

    Raises
    ------
    JournalError
        If there is one that cannot be read.
    """
    path = context.home / FILE_NAME
    if not path.exists():
        return frozenset()
    journal = Journal(path)
    try:
        return seen_keys(journal)
    finally:
        journal.close()


def found_tonight(context: Context, site: Site, utc: datetime) -> tuple[str, ...]:
    """Give the names of what the journal says was found in the night of a moment.

    Raises
    ------
    JournalError
        If there is a journal that cannot be read.
    """
    path = context.home / FILE_NAME
    if not path.exists():
        return ()
    journal = Journal(path, read_only=True)
    try:
        entries = journal.evening(night_of(utc, zone_of(site.time_zone))).queue
    finally:
        journal.close()
    return tuple(str(one.target["name"]) for one in entries if one.outcome is Outcome.FOUND)


def iso(moment: datetime | None) -> str | None:
    """Write a moment as JSON has it."""
    if moment is None:
        return None
    return moment.astimezone(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")


def local_clock(moment: datetime, site: Site) -> str:
    """Write a moment by the site's own clock."""
    return clock_text(moment.astimezone(zone_of(site.time_zone)))


def night_line(night: Darkness, site: Site) -> str:
    """Say in one line when it is dark and what the Moon does."""
    parts = [night.words] if night.words else []
    if night.dark.begins_utc and night.dark.ends_utc:
        begins, ends = (local_clock(t, site) for t in (night.dark.begins_utc, night.dark.ends_utc))
        parts.append(f"dark {begins} to {ends}")
    for event, moment in (("rises", night.moonrise_utc), ("sets", night.moonset_utc)):
        if moment is not None:
            parts.append(f"Moon {event} {local_clock(moment, site)}")
    return ", ".join([*parts, f"Moon {night.moon_lit_fraction:.0%} lit"])
