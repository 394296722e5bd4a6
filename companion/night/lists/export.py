"""Lists and plans for other programs: CSV (RFC 4180) and calendars (RFC 5545)."""

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from companion.files import csv_text
from companion.night.order.order import NightOrder, PlannedStop
from companion.sky import Site, compass_point, kind_text, magnitude_text

if TYPE_CHECKING:
    from icalendar import Event

_STOP_COLUMNS = (
    "number", "key", "name", "start_utc", "end_utc", "closes_utc", "azimuth_deg", "altitude_deg",
    "value",
)  # fmt: skip


def order_csv(order: NightOrder) -> str:
    """Write a planned order, one stop a line; times are UTC (ISO 8601)."""
    return csv_text(
        _STOP_COLUMNS,
        (
            (
                str(number),
                stop.target.key,
                stop.target.name,
                _iso(stop.start_utc),
                _iso(stop.end_utc),
                _iso(stop.closes_utc),
                _number(stop.azimuth_deg, 2),
                _number(stop.altitude_deg, 2),
                f"{stop.value:g}",
            )
            for number, stop in enumerate(order.stops, start=1)
        ),
    )


def order_calendar(order: NightOrder, site: Site, made_utc: datetime) -> bytes:
    """Write a planned order as a calendar, one event a stop.

    Parameters
    ----------
    order : NightOrder
        The plan.
    site : Site
        Where it takes place.
    made_utc : datetime
        When the calendar is made; readers keep the latest of several.
    """
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", "-//companion//night plan//EN")
    calendar.add("version", "2.0")
    for stop in order.stops:
        calendar.add_component(_event(stop, site, made_utc))
    data: bytes = calendar.to_ical()
    return data


def _event(stop: PlannedStop, site: Site, made_utc: datetime) -> "Event":
    from icalendar import Event

    event = Event()
    place = "".join(c if c.isalnum() or c in "-.:" else "-" for c in stop.target.key)
    event.add("uid", f"{stop.start_utc.astimezone(UTC):%Y%m%dT%H%M%SZ}-{place}@companion")
    event.add("dtstamp", made_utc.astimezone(UTC).replace(microsecond=0))
    event.add("dtstart", stop.start_utc.astimezone(UTC).replace(microsecond=0))
    event.add("dtend", stop.end_utc.astimezone(UTC).replace(microsecond=0))
    event.add("summary", stop.target.name)
    event.add("location", site.name)
    event.add("geo", (site.latitude_deg, site.longitude_deg))
    event.add(
        "description",
        f"{kind_text(stop.target.kind)}, {magnitude_text(stop.target.magnitude)}; "
        f"{stop.altitude_deg:.0f}° up in the {compass_point(stop.azimuth_deg, 8)}",
    )
    return event


def _number(value: float | None, digits: int) -> str:
    return "" if value is None else f"{value:.{digits}f}"


def _iso(moment: datetime) -> str:
    return moment.astimezone(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")
