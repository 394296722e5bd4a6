"""What people type for a moment: ISO 8601, or a time of the day, by the site's own clocks."""

import re
from datetime import UTC, date, datetime, time, timedelta, timezone, tzinfo
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from companion.advice import AdviceError

_DO = "Give a time as 2026-11-25T21:30, 2026-11-26T01:30:00Z or 21:30."
_KEPT = "The time before is kept."
_CLOCK = re.compile(
    r"(\d{1,2})[:.h](\d{2})(?::(\d{2}))?(?:\s*([A-Za-z]{1,5}|[+\N{MINUS SIGN}-]\d{2}:?\d{2}))?\Z"
)
_WIDEST_OFFSET = timedelta(hours=14)  # of any zone on Earth
_DAYS_AROUND = (-1, 0, 1, 2)
_FIRST_YEAR, _LAST_YEAR = 1800, 2200  # wider than any ephemeris; no zone overflows within


def zone_of(name: str) -> ZoneInfo:
    """Give a time zone by its IANA name.

    Raises
    ------
    AdviceError
        If there is no such zone.
    """
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise AdviceError(
            f'"{name[:60]}" is not a time zone.',
            "Give an IANA name such as America/Halifax, or UTC.",
            "The time zone before is kept.",
        ) from None


def parse_time(
    text: str, time_zone: str, now: datetime | None = None, *, ahead: bool = False
) -> datetime:
    """Read a moment; without an offset from UTC it means the site's own time (ISO 8601).

    A time of the day that the clocks show twice means the nearer one; ``twice_words`` says so.

    Parameters
    ----------
    text : str
        ISO 8601 date and time, a date (its midnight), or, if ``now`` is given, a time of the day:
        the one nearest to ``now``. It may carry an offset or the name of its time: ``01:30 AST``.
    time_zone : str
        IANA name of the site's zone.
    now : datetime, optional
        The present moment.
    ahead : bool, optional
        Whether a time of the day is the next one after ``now``, not the nearest.

    Returns
    -------
    datetime
        With its time zone; ``fold`` tells which one of two.

    Raises
    ------
    AdviceError
        If the text is no time, names an hour that the site's clocks skip, or a date with one that
        they show twice.
    """
    line = " ".join(text[:100].split())
    zone = zone_of(time_zone)
    clock = _CLOCK.fullmatch(line)
    if clock and now is not None:
        return _time_near(clock, zone, now, ahead=ahead)
    try:
        moment = datetime.fromisoformat(line)
    except ValueError:
        raise AdviceError(f'"{line[:60]}" is not a time.', _DO, _KEPT) from None
    if not _FIRST_YEAR <= moment.year <= _LAST_YEAR:
        raise AdviceError(
            f'"{line[:60]}" is outside the years {_FIRST_YEAR} to {_LAST_YEAR}.', _DO, _KEPT
        )
    return moment if moment.tzinfo is not None else localised(moment, zone)


def localised(naive: datetime, zone: ZoneInfo) -> datetime:
    """Put a wall-clock time into a zone.

    Raises
    ------
    AdviceError
        If the clocks skip that hour, or show it twice.
    """
    first, second = naive.replace(tzinfo=zone, fold=0), naive.replace(tzinfo=zone, fold=1)
    if first.utcoffset() == second.utcoffset():
        return first
    if not _exists(first):
        raise _skipped(first)
    raise AdviceError(
        f"The clocks of {zone.key} show {naive:%Y-%m-%d %H:%M} twice.",
        "Give the time with its offset, as "
        f"{naive:%Y-%m-%dT%H:%M}{_offset(first)} or {naive:%Y-%m-%dT%H:%M}{_offset(second)}.",
        _KEPT,
    )


def twice_words(local: datetime) -> str:
    """Say which one was taken, and how to name the other; empty where the clocks show it once."""
    other = local.replace(fold=1 - local.fold)
    if local.utcoffset() == other.utcoffset() or not _exists(local):
        return ""
    which = "second" if local.fold else "first"
    return (
        f"The clocks show {local:%H:%M} twice that night: the {which} one, {_name(local)}, is "
        f"taken. For the other one type {local:%H:%M} {_name(other)}."
    )


def _exists(local: datetime) -> bool:
    """Tell whether the clocks of its zone ever show that time."""
    back = local.astimezone(UTC).astimezone(local.tzinfo)
    return back.replace(tzinfo=None) == local.replace(tzinfo=None, fold=0)


def _skipped(local: datetime) -> AdviceError:
    before, after = (local.replace(fold=fold) for fold in (0, 1))
    stands = f"{local:%Y-%m-%dT%H:%M}"
    return AdviceError(
        f"The clocks of {local.tzinfo} skip {local:%Y-%m-%d %H:%M}.",
        f"Give the time with its offset, as {stands}{_offset(before)} or {stands}{_offset(after)}.",
        _KEPT,
    )


def _name(local: datetime) -> str:
    """Give the name by which a time can be typed: AST, or +03:00 where it has none."""
    name = local.tzname() or ""
    return name if name.isalpha() else _offset(local)


def _offset(moment: datetime) -> str:
    text = f"{moment:%z}"
    return f"{text[:3]}:{text[3:5]}"


def _time_of_day(clock: re.Match[str]) -> time:
    try:
        return time(int(clock[1]), int(clock[2]), int(clock[3] or 0))
    except ValueError:
        raise AdviceError(f'"{clock[0][:60]}" is not a time of the day.', _DO, _KEPT) from None


def _time_near(clock: re.Match[str], zone: ZoneInfo, now: datetime, *, ahead: bool) -> datetime:
    """Give the moment at which the clocks show that time: nearest to now, or the next one."""
    shown = _time_of_day(clock)
    named, where = clock[4], _zone_named(clock[4], zone)
    today: date = now.astimezone(where).date()
    moments = [
        datetime.combine(today + timedelta(days=days), shown, where).replace(fold=fold)
        for days in _DAYS_AROUND
        for fold in (0, 1)
    ]
    if named and where is zone:
        moments = [one for one in moments if _name(one).casefold() == named.casefold()]
    far = [(abs(one.astimezone(UTC) - now), one) for one in moments]
    if ahead:
        far = [(away, one) for away, one in far if one.astimezone(UTC) > now]
    if not far:
        raise AdviceError(f'"{clock[0][:60]}" is not a time of {zone.key}.', _DO, _KEPT)
    nearest = min(far, key=lambda pair: pair[0])[1]
    if not _exists(nearest):
        raise _skipped(nearest)
    return nearest


def _zone_named(name: str | None, zone: ZoneInfo) -> tzinfo:
    """Give the zone that was typed behind a time: an offset, UTC, or a name of the site's own."""
    if name is None:
        return zone
    if name.upper() in {"Z", "UTC"}:
        return UTC
    if not name[-1].isdigit():
        return zone
    hours, minutes = int(name[1:3]), int(name[-2:])
    ahead = timedelta(hours=hours, minutes=minutes)
    if minutes > 59 or ahead > _WIDEST_OFFSET:
        raise AdviceError(f'"{name}" is not an offset from UTC.', _DO, _KEPT)
    return timezone(ahead if name[0] == "+" else -ahead)
