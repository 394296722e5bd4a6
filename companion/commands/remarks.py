"""What several commands say alike: the heading of an answer, and the caution near the Sun."""

from datetime import datetime

from companion.sky import (
    SUN_DANGER_DEG,
    SUN_UP_DEG,
    Moment,
    Site,
    horizontal_separation_deg,
    position_text,
    zone_of,
    zone_text,
)

SUN_CAUTION = (
    "so close to the Sun while it is up: never look there through any instrument or finder, "
    "a glance blinds"
)


def heading(site: Site, utc: datetime) -> str:
    """Say which place and time an answer is for."""
    local = utc.astimezone(zone_of(site.time_zone))
    place = position_text(site.latitude_deg, site.longitude_deg)
    return f"{site.name}, {place}, {local:%Y-%m-%d %H:%M:%S} {zone_text(local)}"


def sun_caution(moment: Moment, azimuth_deg: float, altitude_deg: float) -> str:
    """Give the caution where a place stands within reach of the risen Sun; empty elsewhere."""
    sun = moment.body("sun")
    if sun.altitude_airless_deg < SUN_UP_DEG:
        return ""
    distance_deg = float(
        horizontal_separation_deg(azimuth_deg, altitude_deg, sun.azimuth_deg, sun.altitude_deg)
    )
    near = distance_deg < SUN_DANGER_DEG
    return f"{distance_deg:.0f}° from the Sun, {SUN_CAUTION}" if near else ""
