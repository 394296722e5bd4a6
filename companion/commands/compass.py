"""``companion compass``: true north from the compass, here and today."""

import argparse
from datetime import UTC

from companion.commands.context import Context
from companion.commands.output import write, write_json
from companion.commands.place import given_site, given_time
from companion.sky import (
    MODEL,
    MagneticZone,
    magnetic_field,
    polaris_look,
    position_text,
    signed_text,
)

_ZONE_WORDS = {
    MagneticZone.PLAIN: "",
    MagneticZone.CAUTION: "caution zone: the field is weak here, a compass may be off by degrees",
    MagneticZone.BLACKOUT: "blackout zone: no compass can be trusted here, use a star",
}


def run(context: Context, options: argparse.Namespace) -> int:
    """Print declination, its error and change, and what the compass must read."""
    site = given_site(context, vars(options))
    utc = given_time(context, site, options.at)
    field = magnetic_field(site, utc)
    polaris = polaris_look(context.ephemeris.moment(site, utc), field)
    blackout = field.zone is MagneticZone.BLACKOUT
    north = None if blackout else -field.declination_deg % 360.0
    if options.json:
        write_json(
            {
                "site": site.name,
                "lat": site.latitude_deg,
                "lon": site.longitude_deg,
                "utc": utc.astimezone(UTC).isoformat().replace("+00:00", "Z"),
                "declination_deg": field.declination_deg,  # the name of before
                "magnetic_declination_deg": field.declination_deg,
                "declination_sigma_deg": field.declination_sigma_deg,
                "yearly_change_deg": field.yearly_change_deg,
                "inclination_deg": field.inclination_deg,
                "horizontal_nt": field.horizontal_nt,
                "zone": str(field.zone),
                "expired": field.expired,
                "model": MODEL,
                "compass_for_true_north_deg": north,
                "polaris_azimuth_deg": polaris.azimuth_deg if polaris.usable else None,
                "polaris_altitude_deg": polaris.altitude_deg,
                "polaris_gain": polaris.gain,
            }
        )
        return 0
    side = "east" if field.declination_deg >= 0 else "west"
    write(f"{site.name}, {position_text(site.latitude_deg, site.longitude_deg)}")
    write(
        f"magnetic declination {abs(field.declination_deg):.1f}° {side}, one sigma "
        f"{field.declination_sigma_deg:.1f}°, {signed_text(field.yearly_change_deg, 2)}° a year"
    )
    if north is not None:
        write(f"to face true north the compass must read {north:.1f}°")
    if _ZONE_WORDS[field.zone]:
        write(_ZONE_WORDS[field.zone])
    if polaris.usable:
        write(
            f"Polaris stands {signed_text(polaris.azimuth_deg, 2)}° from true north "
            f"(east positive), altitude {polaris.altitude_deg:.1f}°"
        )
    if field.expired:
        write(f"the magnetic model has expired ({MODEL}): prefer Polaris or a sighting")
    return 0
