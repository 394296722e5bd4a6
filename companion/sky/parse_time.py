"""What people type for a moment: ISO 8601, or a time of the day, by the site's own clocks."""

import re
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from companion.sky.advice import AdviceError

_DO = "Give a time as 2026-11-25T21:30, 2026-11-26T01:30:00Z or 21:30."
_KEPT = "The time before is kept."
_CLOCK = re.compile(r"(\d{1,2})[:.h](\d{2})(?::(\d{2}))?\Z")


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
            f'"{name[:60]}" is no time zone.',
            "Give an IANA name such as America/Halifax, or UTC.",
            "The time zone before is kept.",
        ) from None


def parse_time(text: str, time_zone: str, now: datetime | None = None) -> datetime:
    """Read a moment; without an offset from UTC it means the site's own time (ISO 8601).

    Parameters
    ----------
    text : str
        ISO 8601 date and time, a date (its midnight), or, if ``now`` is given, a time of the day:
        the one nearest to ``now``.
    time_zone : str
        IANA name of the site's zone.
    now : datetime, optional
        The present moment.

    Returns
    -------
    datetime
        With its time zone.

    Raises
    ------
    AdviceError
        If the text is no time, or names an hour that the site's clocks skip or show twice.
    """
    line = " ".join(text[:100].split())
    zone = zone_of(time_zone)
    clock = _CLOCK.fullmatch(line)
    if clock and now is not None:
        return _nearest(_time_of_day(clock, text), zone, now)
    try:
        moment = datetime.fromisoformat(line)
    except ValueError:
        raise AdviceError(f'"{line[:60]}" is no time.', _DO, _KEPT) from None
    if moment.tzinfo is not None:
        try:
            moment.astimezone(UTC)
        except OverflowError:
            raise AdviceError(f'"{line[:60]}" is no usable time.', _DO, _KEPT) from None
        return moment
    return localised(moment, zone)


def localised(naive: datetime, zone: ZoneInfo) -> datetime:
    """Put a wall-clock time into a zone.

    Raises
    ------
    AdviceError
        If the clocks skip that hour, or show it twice.
    """
    first, second = naive.replace(tzinfo=zone, fold=0), naive.replace(tzinfo=zone, fold=1)
    if not 1 < naive.year < 9999 or first.utcoffset() == second.utcoffset():
        return first
    back = first.astimezone(UTC).astimezone(zone).replace(tzinfo=None)
    if back != naive:
        raise AdviceError(
            f"The clocks of {zone.key} skip {naive:%Y-%m-%d %H:%M}.",
            "Give the time with its offset, as "
            f"{naive:%Y-%m-%dT%H:%M}{_offset(first)} or {naive:%Y-%m-%dT%H:%M}{_offset(second)}.",
            _KEPT,
        )
    raise AdviceError(
        f"The clocks of {zone.key} show {naive:%Y-%m-%d %H:%M} twice.",
        "Give the time with its offset, as "
        f"{naive:%Y-%m-%dT%H:%M}{_offset(first)} or {naive:%Y-%m-%dT%H:%M}{_offset(second)}.",
        _KEPT,
    )


def _offset(moment: datetime) -> str:
    text = f"{moment:%z}"
    return f"{text[:3]}:{text[3:5]}"


def _time_of_day(clock: re.Match[str], text: str) -> time:
    try:
        return time(int(clock[1]), int(clock[2]), int(clock[3] or 0))
    except ValueError:
        raise AdviceError(f'"{text[:60]}" is no time of the day.', _DO, _KEPT) from None


def _nearest(clock: time, zone: ZoneInfo, now: datetime) -> datetime:
    """Give the moment at which the clocks show that time, nearest to now."""
    today: date = now.astimezone(zone).date()
    days = [today + timedelta(days=offset) for offset in (-1, 0, 1)]
    moments = [localised(datetime.combine(day, clock), zone) for day in days]
    return min(moments, key=lambda moment: abs(moment.astimezone(UTC) - now))
