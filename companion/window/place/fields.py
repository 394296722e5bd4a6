"""The fields of a place: what each shows, and how what is typed changes the site."""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from companion.advice import AdviceError
from companion.sky import (
    Site,
    parse_latitude,
    parse_longitude,
    position_text,
    signed_text,
    zone_of,
)
from companion.window.aim.words import NOTHING, Notice
from companion.window.forms.prompts import clock_prompt, number_in, preview_prompt
from companion.window.kit.record_page import OtherRecord, Part, RecordFacts, RecordField
from companion.window.place.hand_field import fist_prompt, fist_words
from companion.window.place.sky_fields import (
    horizon_prompt,
    horizon_words,
    sky_prompt,
    sky_words,
)

if TYPE_CHECKING:
    from companion.live import Evening

_LONGEST_NAME = 60


_FIRST = Notice(
    "Where are you?", "Type the nearest town's name: its first letter opens the search."
)


def place_facts(evening: "Evening", go: Callable[[Site], None]) -> RecordFacts:
    """Give the page of the site in use and of those that are remembered; ``go`` takes a site."""
    site = evening.choices.site
    position = position_text(site.latitude_deg, site.longitude_deg)
    first = evening.needs_site
    return RecordFacts(
        "" if first else site.name,
        "" if first else f"{position} · {site.elevation_m:.0f} m",
        "Remembered sites" if evening.sites.known else "",
        () if first else _fields(evening, site, go),
        tuple(_other(known, go) for known in evening.sites.known),
        _FIRST if first else NOTHING,
    )


def _other(site: Site, go: Callable[[Site], None]) -> OtherRecord:
    position = position_text(site.latitude_deg, site.longitude_deg)
    return OtherRecord(site.name, position, partial(go, site))


def _fields(evening: "Evening", site: Site, go: Callable[[Site], None]) -> tuple[RecordField, ...]:
    """Give the parts of the site, its horizon, then the clock."""
    parts = (part.field(site, go) for part in _PARTS)
    horizon = RecordField("HORIZON", *horizon_words(site), partial(horizon_prompt, evening))
    sky = RecordField("SKY OVERHEAD", *sky_words(site), partial(sky_prompt, evening))
    fist = RecordField("YOUR FIST", *fist_words(), partial(fist_prompt, evening))
    return (*parts, sky, horizon, *_clock_fields(evening), fist)


def _clock_fields(evening: "Evening") -> tuple[RecordField, ...]:
    choices = evening.choices
    correction_s = choices.clock_correction_s
    if choices.preview_utc is None:
        shown, more = "now", "t shows another time"
    else:
        there = choices.preview_utc.astimezone(zone_of(choices.site.time_zone))
        shown, more = f"{there:%d %b %Y, %H:%M}", "shift t comes back to now"
    return (
        RecordField(
            "CLOCK CORRECTION",
            f"{signed_text(correction_s)} s" if correction_s else "none",
            "added to this machine's clock",
            partial(clock_prompt, evening),
        ),
        RecordField("TIME SHOWN", shown, more, partial(preview_prompt, evening)),
    )


def time_zone_of(latitude_deg: float, longitude_deg: float) -> str:
    """Give the time zone of a position from the map that the program carries."""
    from companion.sky import time_zone_at  # brings numpy: not before the first frame

    return time_zone_at(latitude_deg, longitude_deg)


def _renamed(site: Site, text: str) -> Site:
    name = " ".join(text.split())[:_LONGEST_NAME]
    if not name:
        raise AdviceError(
            "A site needs a name.", "Type one, or press esc.", "The name before is kept."
        )
    return replace(site, name=name)


def _moved(site: Site, latitude_deg: float, longitude_deg: float) -> Site:
    zone = time_zone_of(latitude_deg, longitude_deg)
    return replace(
        site, latitude_deg=latitude_deg, longitude_deg=longitude_deg, time_zone=zone, horizon=()
    )


def _optional(text: str, what: str, low: float, high: float, unit: str) -> float | None:
    return number_in(text, what, low, high, unit) if text.strip() else None


_PARTS: tuple[Part[Site], ...] = (
    Part(
        "NAME",
        "What you call this site. Under another name it is kept beside the old one.",
        lambda site: (site.name, ""),
        lambda site: site.name,
        _renamed,
    ),
    Part(
        "LATITUDE",
        "North or south in any notation: 45.2, 45.2N, 45°12′N or -32.4. It should be right to "
        "about 0.01°: a kilometre. The time zone follows; the horizon has to be entered anew.",
        lambda site: (_degrees(site.latitude_deg, "N", "S"), ""),
        lambda site: _degrees(site.latitude_deg, "N", "S"),
        lambda site, text: _moved(site, parse_latitude(text), site.longitude_deg),
    ),
    Part(
        "LONGITUDE",
        "East or west in any notation: 62.3W, -62.3 or 62°18′W. The time zone follows; the "
        "horizon has to be entered anew.",
        lambda site: (_degrees(site.longitude_deg, "E", "W"), ""),
        lambda site: _degrees(site.longitude_deg, "E", "W"),
        lambda site, text: _moved(site, site.latitude_deg, parse_longitude(text)),
    ),
    Part(
        "ELEVATION",
        "Metres above the sea. It matters to the air that bends light near the horizon.",
        lambda site: (f"{site.elevation_m:.0f} m", ""),
        lambda site: f"{site.elevation_m:g}",
        lambda site, text: replace(
            site, elevation_m=number_in(text, "elevation", -500.0, 9000.0, " m")
        ),
    ),
    Part(
        "TEMPERATURE",
        "Degrees Celsius outdoors. Empty takes the usual air of that elevation.",
        lambda site: _weather(site.temperature_c, "°C"),
        lambda site: _bare(site.temperature_c),
        lambda site, text: replace(
            site, temperature_c=_optional(text, "temperature", -90.0, 60.0, " °C")
        ),
    ),
    Part(
        "PRESSURE",
        "Hectopascal at the site itself, not reduced to the sea. Empty takes the usual air of "
        "that elevation.",
        lambda site: _weather(site.pressure_hpa, "hPa"),
        lambda site: _bare(site.pressure_hpa),
        lambda site, text: replace(
            site, pressure_hpa=_optional(text, "pressure", 250.0, 1100.0, " hPa")
        ),
    ),
    Part(
        "TIME ZONE",
        "Found from the position. Another one by its IANA name: America/Halifax, or UTC.",
        lambda site: (site.time_zone, ""),
        lambda site: site.time_zone,
        lambda site, text: replace(site, time_zone=zone_of(text.strip()).key),
    ),
)


def _degrees(value_deg: float, positive: str, negative: str) -> str:
    return f"{abs(value_deg):.4f}° {positive if value_deg >= 0.0 else negative}"


def _weather(value: float | None, unit: str) -> tuple[str, str]:
    return ("usual", "for this elevation") if value is None else (f"{value:g} {unit}", "")


def _bare(value: float | None) -> str:
    return "" if value is None else f"{value:g}"
