"""``companion about``: what a target is, and what an instrument shows of it, here and now."""

import argparse

from companion.about import (
    About,
    AboutQuestion,
    FieldStar,
    MoonEvening,
    MoonLook,
    MoonPage,
    PlanetMoon,
    PlanetPage,
    Terminator,
    about,
    state_text,
)
from companion.commands.context import Context
from companion.commands.night_given import (
    conditions_of,
    instrument_of,
    instruments_of,
    iso,
    local_clock,
)
from companion.commands.output import write, write_json
from companion.commands.place import given_site, given_time
from companion.commands.remarks import heading
from companion.finding import viewing_text
from companion.sky import Site, angle_text, compass_point, magnitude_text

_FIELD_STARS = 6  # of those around Uranus or Neptune, in the text


def run(context: Context, options: argparse.Namespace) -> int:
    """Tell of a target as sentences, or as JSON.

    Raises
    ------
    AdviceError
        If nothing is called so, or place, time or instrument cannot be used.
    """
    site = given_site(context, vars(options))
    meant = context.search.understand(options.target)
    question = AboutQuestion(
        target=meant.target,
        site=site,
        utc=given_time(context, site, options.at),
        instrument=instrument_of(context, options),
        conditions=conditions_of(site, options),
        others=instruments_of(context, options),
        longitude_deg=options.longitude,
    )
    answer = about(context.ephemeris, question)
    namesake = context.search.on_the_moon(options.target)
    also = namesake if namesake is not None and namesake.key != meant.target.key else None
    if options.json:
        taken = {"taken_for": meant.taken_for} if meant.taken_for else {}
        write_json(as_json(answer) | taken | ({"also": also.key} if also else {}))
    else:
        if meant.taken_for:
            write(f'"{options.target}" taken for {meant.taken_for}')
        _print(answer, question)
        if also:
            write(f"{also.name} is also a {also.note}: ask for it as {also.key}.")
    return 0


def as_json(answer: About) -> dict[str, object]:
    """Give the answer with the keys that apply; the keys are documented in the README."""
    figures = answer.figures
    found: dict[str, object] = {
        "key": answer.target.key,
        "name": answer.target.name,
        "kind": str(answer.target.kind),
        "utc": iso(answer.utc),
        "instrument": answer.instrument.name,
        "says": list(answer.says),
        "look_for": list(answer.look_for),
        "caution": answer.caution or None,
        "distance_km": figures.distance_km,
        "distance_au": figures.distance_au,
        "distance_ly": figures.distance_ly,
        "distance_error_ly": figures.distance_error_ly,
        "light_time_s": figures.light_time_s,
        "true_size_km": figures.true_size_km,
        "true_size_ly": figures.true_size_ly,
        "diameter_arcsec": figures.diameter_arcsec,
        "magnitude": figures.magnitude,
        "illuminated_fraction": figures.illuminated_fraction,
        "elongation_deg": figures.elongation_deg,
        "luminosity_suns": figures.luminosity_suns,
        "spectral_class": answer.spectral_class,
    }
    if answer.moon is not None:
        found |= _moon_json(answer.moon)
    if answer.planet is not None:
        found |= _planet_json(answer.planet)
    if answer.double is not None:
        double = answer.double
        found |= {
            "separation_arcsec": double.separation_arcsec,
            "position_angle_deg": double.position_angle_deg,
            "magnitudes": list(double.magnitudes),
            "colours": double.colours,
            "splits_with": list(double.splits_with),
            "splits_from_magnification": double.magnification,
            "spare": double.spare,
            "year": double.year,
        }
    if answer.variable is not None:
        variable = answer.variable
        found |= {
            "magnitude_now": variable.magnitude_now,
            "next_minimum_utc": iso(variable.next_minimum_utc),
            "next_maximum_utc": iso(variable.next_maximum_utc),
            "uncertain_days": variable.uncertain_days,
        }
    if answer.comparison_stars:
        found["comparison_stars"] = [_star_json(star) for star in answer.comparison_stars]
    if answer.sources:
        found["sources"] = dict(answer.sources)
    return {key: value for key, value in found.items() if value is not None}


def _star_json(star: FieldStar) -> dict[str, object]:
    return {
        "name": star.name or None,
        "magnitude": star.magnitude,
        "separation_deg": star.separation_deg,
        "position_angle_deg": star.position_angle_deg,
    }


def _moon_json(page: MoonPage) -> dict[str, object]:
    rows = range(len(page.ground.features)) if page.feature is None else [page.feature]
    return {
        "coming_terminator": None
        if page.feature is not None
        else [_terminator_json(one.terminator) for one in page.coming if one.terminator],
        "age_days": page.age_days,
        **_moon_angles(page.here),
        "geocentric": {
            **_moon_angles(page.geocentric),
            "distance_km": page.geocentric.distance_km,
            "diameter_arcsec": page.geocentric.diameter_arcsec,
            "illuminated_fraction": page.geocentric.lit,
            "elongation_deg": page.geocentric.elongation_deg,
        },
        "features": [_feature_json(page, row) for row in rows],
    }


def _terminator_json(edge: Terminator) -> dict[str, object]:
    return {
        "utc": iso(edge.utc),
        "altitude_deg": edge.altitude_deg,
        "colongitude_deg": edge.colongitude_deg,
        "terminator_longitude_deg": edge.longitude_deg,
        "terminator": "sunrise" if edge.rising else "sunset",
        "features": list(edge.features),
    }


def _moon_angles(look: MoonLook) -> dict[str, object]:
    return {
        "libration_longitude_deg": look.facing.longitude_deg,
        "libration_latitude_deg": look.facing.latitude_deg,
        "axis_position_angle_deg": look.axis_position_angle_deg,
        "bright_limb_angle_deg": look.bright_limb_angle_deg,
        "colongitude_deg": look.colongitude_deg,
        "subsolar_longitude_deg": look.subsolar.longitude_deg,
        "subsolar_latitude_deg": look.subsolar.latitude_deg,
    }


def _feature_json(page: MoonPage, row: int) -> dict[str, object]:
    ground = page.ground
    features = ground.features
    return {
        "name": features.names[row],
        "kind": features.kind_of(row),
        "latitude_deg": features.latitude_deg[row],
        "longitude_deg": features.longitude_deg[row],
        "diameter_km": features.diameter_km[row],
        "sun_altitude_deg": ground.sun_altitude_deg[row],
        "resolved": None if ground.long[row] else bool(ground.resolved[row]),
    }


def _planet_json(page: PlanetPage) -> dict[str, object]:
    look, ring = page.look, page.ring
    found: dict[str, object] = {
        "polar_diameter_arcsec": look.polar_diameter_arcsec,
        "phase_angle_deg": look.phase_angle_deg,
        "bright_limb_angle_deg": look.bright_limb_angle_deg,
        "moons": [
            {
                "name": moon.name,
                "east_arcsec": moon.east_arcsec,
                "north_arcsec": moon.north_arcsec,
                "magnitude": moon.magnitude,
                "state": str(moon.state),
                "shadow_arcsec": moon.shadow_arcsec,
            }
            for moon in page.moons
        ]
        or None,
        "season_deg": page.season_deg,
        "best_utc": iso(page.best_utc),
        "window": None
        if page.twilight is None
        else {
            "opens_utc": iso(page.twilight.begins_utc),
            "closes_utc": iso(page.twilight.ends_utc),
            "altitude_deg": page.twilight.highest_deg,
        },
    }
    if look.body == "jupiter":
        found["events"] = [
            {"kind": str(event.kind), "moon": event.moon, "utc": iso(event.utc)}
            for event in page.events
        ]
    if look.turn is not None:
        found["axis_position_angle_deg"] = look.turn.axis_position_angle_deg
        found["facing_latitude_deg"] = look.turn.facing_latitude_deg
        found["subsolar_latitude_deg"] = look.turn.subsolar_latitude_deg
        found["central_meridians_deg"] = dict(look.turn.meridians_deg) or None
    if ring is not None:
        found["ring_opening_deg"] = ring.opening_deg
        found["ring_angle_deg"] = ring.angle_deg
        found["ring_major_arcsec"] = ring.major_arcsec
        found["ring_minor_arcsec"] = ring.minor_arcsec
        found["ring_shows"] = str(page.ring_shows)
    if page.field is not None:
        found |= {
            "field_deg": page.field.field_deg,
            "field_stars": [_star_json(star) for star in page.field.stars],
            "moves_deg": page.field.moves_deg,
            "moves_position_angle_deg": page.field.moves_position_angle_deg,
        }
    if page.crossings_utc:
        found["crossings_utc"] = [iso(utc) for utc in page.crossings_utc]
    return found


def _print(answer: About, question: AboutQuestion) -> None:
    write(heading(question.site, question.utc))
    seen_in = f"{answer.instrument.name}, {viewing_text(answer.instrument.viewing)}"
    write(f"{answer.target.name} in {seen_in}")
    if answer.caution and answer.caution not in answer.says:
        write(answer.caution)
    for sentence in answer.says:
        write(sentence)
    if answer.look_for:
        write(f"What shows, the easiest first: {'; '.join(answer.look_for)}.")
    for name, value in _lines(answer, question.site):
        write(f"{name}: {value}")
    for what, source in answer.sources.items():
        write(f"source of the {what}: {source}")


def _lines(answer: About, site: Site) -> list[tuple[str, str]]:
    """Give the numbers of the page as lines for a person."""
    found = [(label, text) for label, text in _figure_lines(answer) if text]
    if answer.moon is not None:
        here = answer.moon.here
        found += [
            (
                "libration",
                f"{here.facing.longitude_deg:+.2f}° east, {here.facing.latitude_deg:+.2f}° north",
            ),
            ("axis", f"{here.axis_position_angle_deg:+.1f}°"),
            ("bright limb", f"{here.bright_limb_angle_deg:.1f}°"),
            ("colongitude", f"{here.colongitude_deg:.2f}°"),
            *(_evening_line(one, site) for one in answer.moon.coming),
        ]
    if answer.planet is not None:
        found += _planet_lines(answer.planet, site)
    found += [(f"compare with {one.name}", _star_place(one)) for one in answer.comparison_stars]
    return found


def _evening_line(evening: MoonEvening, site: Site) -> tuple[str, str]:
    """Say what an evening has: "19 November 17:08", "sunrise at 35.0° west: Mee, Wilhelm"."""
    edge, day = evening.terminator, f"{evening.day.day} {evening.day:%B}"
    if edge is None:
        return f"evening of {day}", "the Moon is not high in a dark sky"
    side = "east" if edge.longitude_deg > 0.0 else "west"
    where = f"{'sunrise' if edge.rising else 'sunset'} at {abs(edge.longitude_deg):.1f}° {side}"
    named = f": {', '.join(edge.features)}" if edge.features else ""
    when = f"{day} {local_clock(edge.utc, site)}"
    return when, f"{where}, colongitude {edge.colongitude_deg:.1f}°{named}"


def _star_place(star: FieldStar) -> str:
    """Say where a star stands from the target: "mag 1.8, 9.3° north (16°)"."""
    angle = star.position_angle_deg
    away = f"{angle_text(star.separation_deg)} {compass_point(angle, 8)}"
    return f"{magnitude_text(star.magnitude)}, {away} ({round(angle) % 360}°)"


def _figure_lines(answer: About) -> list[tuple[str, str]]:
    figures = answer.figures
    return [
        ("diameter", _with(figures.diameter_arcsec, "{:.1f}″")),
        ("magnitude", _with(figures.magnitude, "{:.1f}")),
        ("lit", _with(figures.illuminated_fraction, "{:.0%}")),
        ("from the Sun", _with(figures.elongation_deg, "{:.1f}°")),
    ]


def _planet_lines(page: PlanetPage, site: Site) -> list[tuple[str, str]]:
    found: list[tuple[str, str]] = []
    turn, ring = page.look.turn, page.ring
    if turn is not None and turn.meridians_deg:
        meridians = ", ".join(f"{name} {value:.1f}°" for name, value in turn.meridians_deg.items())
        found.append(("central meridian", meridians))
    if ring is not None:
        found.append(
            (
                "ring",
                f"{ring.major_arcsec:.1f}″ × {ring.minor_arcsec:.1f}″, {ring.angle_deg:+.1f}°",
            )
        )
    found += [
        (
            moon.name,
            _moon_place(moon),
        )
        for moon in page.moons
    ]
    if page.field is not None:
        brightest = page.field.stars[:_FIELD_STARS]
        found += [(one.name or "a star", _star_place(one)) for one in brightest]
    found += [(local_clock(event.utc, site), event.text) for event in page.events]
    found += [("crosses the middle", local_clock(utc, site)) for utc in page.crossings_utc]
    return found


def _moon_place(moon: PlanetMoon) -> str:
    place = f"{moon.east_arcsec:+.0f}″ east, {moon.north_arcsec:+.0f}″ north"
    return f"{place}, {state_text(moon.state)}"


def _with(value: float | None, form: str) -> str:
    return "" if value is None else form.format(value)
