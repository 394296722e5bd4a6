"""The date by which a night is called."""

from datetime import UTC, date, datetime, time, timedelta, tzinfo

_NOON = timedelta(hours=12)
_FORENOON = time(6)


def night_of(utc: datetime, zone: tzinfo) -> str:
    """Give the date on which the night began: from noon to noon by the site's clocks.

    Parameters
    ----------
    utc : datetime
        The moment, with its time zone.
    zone : tzinfo
        The site's time zone.

    Returns
    -------
    str
        ``"2026-11-25"`` from noon of that day to noon of the next.
    """
    local = utc.astimezone(zone).replace(tzinfo=None)
    return (local - _NOON).date().isoformat()


def night_before(night: str) -> str:
    """Give the date of the night before; empty if this is no date."""
    try:
        return (date.fromisoformat(night) - timedelta(days=1)).isoformat()
    except (ValueError, OverflowError):
        return ""


def forenoon_utc(night: str, zone: tzinfo) -> datetime:
    """Give the moment from which things are prepared for the evening after a night.

    From six until noon by the site's clocks it is still the night before, and what is put into
    the queue is meant for tonight.
    """
    day = date.fromisoformat(night) + timedelta(days=1)
    return datetime.combine(day, _FORENOON, zone).astimezone(UTC)
