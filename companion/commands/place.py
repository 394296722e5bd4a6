"""Turn place and time options into a site and a moment."""

import math
from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime

from companion.advice import AdviceError
from companion.commands.context import Context
from companion.commands.output import write_error
from companion.sky import (
    Site,
    parse_latitude,
    parse_longitude,
    parse_time,
    time_zone_at,
    twice_words,
)


def given_site(context: Context, values: Mapping[str, object]) -> Site:
    """Give the site that the options describe, or the remembered one.

    Parameters
    ----------
    context : Context
        The state folder and the indexes.
    values : mapping
        ``site``, ``lat``, ``lon``, ``elevation``, ``pressure``, ``temperature``; None or missing
        where not given. Text or numbers.

    Raises
    ------
    AdviceError
        If a value is out of range, half a position is given, or no place is known at all.
    """
    latitude, longitude = values.get("lat"), values.get("lon")
    if (latitude is None) != (longitude is None):
        raise AdviceError("Half a position was given.", "Give both --lat and --lon.")
    if latitude is not None and longitude is not None:
        site = _site_at(_latitude(latitude), _longitude(longitude))
    elif values.get("site") is not None:
        site = context.named_site(str(values["site"]))
    else:
        site = context.current_site()
    return _with_weather(site, values)


def given_time(context: Context, site: Site, text: object) -> datetime:
    """Give the moment of an ``--at`` option, or the present one.

    Without an offset from UTC the text means the site's own time, as ISO 8601 has it; a time of
    the day alone is the one nearest to the present.

    Raises
    ------
    AdviceError
        If the text is no time, names an hour that the site's clocks skip, or a date with one that
        they show twice.
    """
    if text is None:
        return context.now
    if not isinstance(text, str):
        raise AdviceError(f"{text!r} is not a time.", "Give a time as 2026-11-25T21:30:00Z.")
    return said_time(text, site, context.now)


def said_time(text: str, site: Site, near: datetime, *, ahead: bool = False) -> datetime:
    """Read a moment by the site's clocks, and say which one of two was taken.

    Raises
    ------
    AdviceError
        If it is no time.
    """
    local = parse_time(text, site.time_zone, near, ahead=ahead)
    said = twice_words(local)
    if said:
        write_error(said)
    return local.astimezone(UTC)


def number(what: str, value: object) -> float:
    """Read a finite number.

    Raises
    ------
    AdviceError
        If the value is no finite number.
    """
    try:
        result = float(value)  # type: ignore[arg-type]  # whatever it is, it is refused in words
    except (TypeError, ValueError, OverflowError):
        result = math.nan
    if isinstance(value, bool) or not math.isfinite(result):
        raise AdviceError(
            f"The {what} {str(value)[:40]!r} is not a number.", f"Give the {what} as a number."
        )
    return result


def _latitude(value: object) -> float:
    return parse_latitude(value) if isinstance(value, str) else number("latitude", value)


def _longitude(value: object) -> float:
    return parse_longitude(value) if isinstance(value, str) else number("longitude", value)


def _site_at(latitude_deg: float, longitude_deg: float) -> Site:
    """Make a nameless site; its time zone is found from the position."""
    site = Site("here", latitude_deg, longitude_deg)
    return replace(site, time_zone=time_zone_at(latitude_deg, longitude_deg))


def _with_weather(site: Site, values: Mapping[str, object]) -> Site:
    """Put height, pressure and temperature in where they were given."""
    given = {
        field: number(what, values[key])
        for key, field, what in (
            ("elevation", "elevation_m", "elevation"),
            ("pressure", "pressure_hpa", "pressure"),
            ("temperature", "temperature_c", "temperature"),
        )
        if values.get(key) is not None
    }
    return replace(site, **given)  # type: ignore[arg-type]  # the names are those of Site
