"""Events as a calendar for other programs (RFC 5545)."""

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

from companion.events.event import Event
from companion.sky import Site

if TYPE_CHECKING:
    from icalendar import Event as Entry

_MOMENT = timedelta(minutes=15)  # how long a calendar shows what has no length


def events_calendar(events: Iterable[Event], site: Site, made_utc: datetime) -> bytes:
    """Write events as a calendar; what is written again later has the same identities.

    Parameters
    ----------
    events : iterable of Event
        What comes.
    site : Site
        Where; the same event at another site is another entry.
    made_utc : datetime
        When the calendar is made; readers keep the latest of several.
    """
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", "-//companion//what comes//EN")
    calendar.add("version", "2.0")
    for event in events:
        calendar.add_component(_entry(event, site, made_utc))
    data: bytes = calendar.to_ical()
    return data


def _entry(event: Event, site: Site, made_utc: datetime) -> "Entry":
    from icalendar import Event as Entry

    start = event.start_utc or event.utc
    end = event.end_utc or start + _MOMENT
    entry = Entry()
    entry.add("uid", f"{_identity(event, site)}@companion")
    entry.add("dtstamp", made_utc.astimezone(UTC).replace(microsecond=0))
    entry.add("dtstart", start.astimezone(UTC).replace(microsecond=0))
    entry.add("dtend", max(end, start).astimezone(UTC).replace(microsecond=0))
    entry.add("summary", event.title)
    entry.add("location", site.name)
    entry.add("geo", (site.latitude_deg, site.longitude_deg))
    entry.add("categories", [str(event.kind)])
    entry.add(
        "description", " ".join(part for part in (_sentence(event.why), event.caution) if part)
    )
    return entry


def _identity(event: Event, site: Site) -> str:
    plain = "".join(c if c.isalnum() or c in "-+." else "-" for c in event.uid)
    return f"{plain}-{site.latitude_deg:+.2f}{site.longitude_deg:+.2f}"


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}." if words else ""
