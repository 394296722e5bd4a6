"""``companion aurora``: whether a display can be seen from here, and which way to look."""

import argparse
from datetime import datetime

from companion.advice import AdviceError
from companion.commands.context import Context
from companion.commands.output import write, write_json
from companion.commands.place import given_site, given_time
from companion.commands.remarks import heading
from companion.events import (
    AURORA_ADVICE,
    AuroraLook,
    aurora_look,
    kp_at,
    parse_kp,
    read_kp_file,
)
from companion.sky import Site, compass_point


def run(context: Context, options: argparse.Namespace) -> int:
    """Print geomagnetic latitude, the Kp that it takes, and what the Kp that was given means."""
    site = given_site(context, vars(options))
    utc = given_time(context, site, options.at)
    look = aurora_look(site, utc, _kp(options, utc))
    if options.json:
        write_json(_as_json(look, site))
        return 0
    write(heading(site, utc))
    for line in _lines(look):
        write(line)
    return 0


def _kp(options: argparse.Namespace, utc: datetime) -> float | None:
    """Give Kp as typed, or as a file has it for the moment."""
    if options.kp_file is None:
        return None if options.kp is None else parse_kp(options.kp)
    rows = read_kp_file(options.kp_file)
    row = kp_at(rows, utc)
    if row is None:
        raise AdviceError(
            f"{options.kp_file[:200]} has no Kp for {utc:%Y-%m-%d %H:%M} UTC: it goes from "
            f"{rows[0].start_utc:%Y-%m-%d %H:%M} to {rows[-1].start_utc:%Y-%m-%d %H:%M}.",
            "Bring a newer one, or give another moment with --at.",
        )
    return row.kp


def _as_json(look: AuroraLook, site: Site) -> dict[str, object]:
    return {
        "site": site.name,
        "geomagnetic_latitude_deg": look.geomagnetic_latitude_deg,
        "kp": look.kp,
        "kp_horizon": look.kp_horizon,
        "kp_overhead": look.kp_overhead,
        "look_azimuth_deg": look.look_azimuth_deg,
        "look_altitude_deg": look.look_altitude_deg,
        "chance": look.chance if look.kp is not None else None,
        "words": look.words if look.kp is not None else None,
    }


def _lines(look: AuroraLook) -> list[str]:
    needs = (("on the poleward horizon", look.kp_horizon), ("overhead", look.kp_overhead))
    lines = [
        f"geomagnetic latitude {look.geomagnetic_latitude_deg:.1f}°",
        *(f"{where}: {_kp_words(kp)}" for where, kp in needs),
        f"look {compass_point(look.look_azimuth_deg, 8)}, azimuth {look.look_azimuth_deg:.0f}°",
    ]
    if look.kp is None:
        return [*lines, "give Kp as published now with --kp or --kp-file to know what to expect"]
    high = (
        "" if look.look_altitude_deg is None else f", lower edge {look.look_altitude_deg:.0f}° up"
    )
    lines.append(f"Kp {look.kp:.3g}: {look.words}{high}")
    return lines if look.chance == "none" else [*lines, *AURORA_ADVICE]


def _kp_words(kp: float | None) -> str:
    return (
        "not even at Kp 9" if kp is None else "in quiet nights too" if kp <= 0 else f"Kp {kp:.1f}"
    )
