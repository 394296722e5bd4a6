"""The date by which a night is called."""

from datetime import datetime, timedelta, tzinfo

_NOON = timedelta(hours=12)


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
