"""``companion tonight``: what is worth aiming at tonight, best first, each with one line of why."""

import argparse
from dataclasses import replace

from companion.advice import AdviceError
from companion.commands.context import Context
from companion.commands.night_given import (
    conditions_of,
    hours_of,
    instrument_of,
    iso,
    local_clock,
    night_line,
    seen_before,
)
from companion.commands.output import write, write_json, write_remarked
from companion.commands.place import given_site, given_time
from companion.finding import InstrumentKind
from companion.night import (
    ROUNDS,
    Candidates,
    Darkness,
    Filters,
    Round,
    Tonight,
    TonightRequest,
    TonightRow,
    kinds_named,
    rank_tonight,
    round_tonight,
    views_of,
)
from companion.sky import CONSTELLATIONS, Site, altitude_text, azimuth_text, kind_text


def run(context: Context, options: argparse.Namespace) -> int:
    """Rank the sky for the night and print the best of it; 1 if nothing is left."""
    site = given_site(context, vars(options))
    request = TonightRequest(
        site=site,
        utc=given_time(context, site, options.at),
        instrument=instrument_of(context, options),
        conditions=conditions_of(site, options),
        filters=_filters(options),
        seen_keys=seen_before(context),
        low_limit_deg=context.settings.low_limit_deg,
        hours=hours_of(context, options),
        limit=max(options.limit, 0),
    )
    candidates = Candidates.of(context.catalogue)
    if options.round is None:
        tonight = rank_tonight(context.ephemeris, candidates, request)
    else:
        which = _round(options.round)
        tonight = round_tonight(which, context.ephemeris, candidates, context.catalogue, request)
        tonight = replace(tonight, rows=tonight.rows[: request.limit])
    if options.json:
        write_json(_as_json(tonight, request))
    else:
        _print(tonight, request)
    return 0 if tonight.rows else 1


def _filters(options: argparse.Namespace) -> Filters:
    return Filters(
        kinds=kinds_named(options.kinds or ""),
        constellations=_constellations(options.constellations or ""),
        lowest_deg=options.lowest,
        seen=False if options.unseen else None,
    )


def _constellations(text: str) -> frozenset[str]:
    """Understand abbreviations and names, separated by commas."""
    wanted = [word.strip().casefold() for word in text.split(",") if word.strip()]
    found = {
        short
        for short, (name, _genitive) in CONSTELLATIONS.items()
        if {short.casefold(), name.casefold()} & set(wanted)
    }
    if len(found) < len(set(wanted)):
        raise AdviceError(
            f"Not all of “{text[:60]}” are constellations.",
            "Give abbreviations or names, such as And,Cassiopeia.",
        )
    return frozenset(found)


def _round(key: str) -> Round:
    found = next((one for one in ROUNDS if one.key == key.casefold()), None)
    if found is None:
        raise AdviceError(
            f"There is no round “{key[:40]}”.",
            f"Choose one of: {', '.join(one.key for one in ROUNDS)}.",
        )
    return found


def _as_json(tonight: Tonight, request: TonightRequest) -> dict[str, object]:
    return {
        "site": request.site.name,
        "utc": iso(request.utc),
        "instrument": request.instrument.name,
        "held": request.instrument.held,
        "sky_mag_per_arcsec2": request.conditions.zenith_mag,
        "sky_assumed": request.conditions.assumed,
        "night": _night_json(tonight.darkness),
        "considered": tonight.considered,
        "passed": tonight.passed,
        "words": tonight.words,
        "targets": [_row_json(row) for row in tonight.rows],
    }


def _night_json(night: Darkness) -> dict[str, object]:
    return {
        "sunset_utc": iso(night.sun_down.begins_utc),
        "sunrise_utc": iso(night.sun_down.ends_utc),
        "dark_from_utc": iso(night.dark.begins_utc),
        "dark_until_utc": iso(night.dark.ends_utc),
        "moonrise_utc": iso(night.moonrise_utc),
        "moonset_utc": iso(night.moonset_utc),
        "moon_lit_fraction": night.moon_lit_fraction,
        "words": night.words,
    }


def _row_json(row: TonightRow) -> dict[str, object]:
    return {
        "key": row.target.key,
        "name": row.target.name,
        "kind": str(row.target.kind),
        "constellation": row.target.constellation,
        "magnitude": row.target.magnitude,
        "value": row.value,
        "reason": str(row.reason),
        "grade": str(row.visibility.grade),
        "margin_mag": row.visibility.margin_mag,
        "uncertainty_mag": row.visibility.uncertainty_mag,
        "magnification": row.visibility.best_magnification,
        "view": row.visibility.view,
        "best_utc": iso(row.best_utc),
        "opens_utc": iso(row.opens_utc),
        "closes_utc": iso(row.closes_utc),
        "transit_utc": iso(row.transit_utc),
        "altitude_deg": row.altitude_deg,
        "azimuth_deg": row.azimuth_deg,
        "seen": row.seen,
        "why": row.why,
    }


def _print(tonight: Tonight, request: TonightRequest) -> None:
    assumed = " (assumed)" if request.conditions.assumed else ""
    night = night_line(tonight.darkness, request.site)
    write(f"{request.site.name}, {request.instrument.name}: {night}")
    write(f"sky overhead {request.conditions.zenith_mag:.1f} mag/arcsec²{assumed}")
    for line in _glass_lines(request):
        write(line)
    if not tonight.rows:
        write(tonight.words)
        return
    write_remarked(
        ("target", "best", "altitude", "azimuth", "from", "until"),
        [_as_row(row, request.site) for row in tonight.rows],
        [_remark(row) for row in tonight.rows],
    )
    left = tonight.passed - len(tonight.rows)
    if left > 0:
        write(f"and {left} more; --limit shows them")


def _glass_lines(request: TonightRequest) -> tuple[str, ...]:
    """Say of binoculars what the eye takes in of them, and what a hand costs."""
    if request.instrument.kind is not InstrumentKind.BINOCULARS:
        return ()
    observer = request.conditions.observer
    (view,) = views_of(request.instrument, observer)
    taken = round(100.0 * (view.beam_mm / view.exit_pupil_mm) ** 2)
    wider = f": the eye takes in {taken}% of the light" if taken < 100 else ""
    pupils = (
        f"exit pupil {view.exit_pupil_mm:.1f} mm, your eye's {view.pupil_mm:.1f} mm at "
        f"{observer.age_years:.0f} years{wider}"
    )
    lost = f"held: stars lose {view.trembling_mag:.1f} magnitudes that a tripod gives back"
    return (pupils, lost) if view.held else (pupils,)


def _as_row(row: TonightRow, site: Site) -> tuple[str, ...]:
    return (
        row.target.name,
        local_clock(row.best_utc, site),
        altitude_text(row.altitude_deg, 1.0) + "°",
        azimuth_text(row.azimuth_deg, 1.0) + "°",
        local_clock(row.opens_utc, site),
        local_clock(row.closes_utc, site),
    )


def _remark(row: TonightRow) -> str:
    seen = ", seen before" if row.seen else ""
    kind = str(kind_text(row.target.kind))
    what = "" if kind == row.target.name else kind
    return f"{what}{seen}: {row.why}" if what or seen else row.why
