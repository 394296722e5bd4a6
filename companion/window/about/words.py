"""The page of a target in words: one formatting place for its facts."""

from typing import TYPE_CHECKING

from companion.sky import (
    angle_text,
    clock_text,
    compass_point,
    magnitude_text,
    signed_text,
    zone_of,
)
from companion.window.kit.facts import Fact

if TYPE_CHECKING:
    from companion.about import (
        About,
        DoublePage,
        FieldStar,
        Figures,
        MoonEvening,
        MoonPage,
        PlanetField,
        PlanetPage,
        Terminator,
        VariablePage,
    )

_EVENTS = 4
_LINE = 36  # letters of a line of small type that stand in half a column


def facts(page: "About", time_zone: str) -> list[Fact]:
    """Give what stands at the side, the most telling first."""
    found = [] if page.moon is None else _moon(page.moon)
    found += _figures(page.figures)
    if page.planet is not None:
        found += _planet(page.planet, page, time_zone)
    if page.spectral_class is not None:
        found.append(Fact("Spectral class", page.spectral_class))
    if page.double is not None:
        found += _double(page.double)
    if page.variable is not None:
        found += _variable(page.variable, time_zone)
    return found + [_to_compare(star) for star in page.comparison_stars]


def _to_compare(star: "FieldStar") -> Fact:
    away = f"{angle_text(star.separation_deg)} {compass_point(star.position_angle_deg, 8)}"
    return Fact(f"To compare, {away}", star.name, magnitude_text(star.magnitude))


def _figures(figures: "Figures") -> list[Fact]:
    found = []
    if figures.distance_km is not None:
        found.append(Fact("Distance", f"{figures.distance_km:,.0f} km"))
    if figures.distance_au is not None:
        found.append(Fact("Distance", f"{figures.distance_au:.3f} au"))
    if figures.distance_ly is not None:
        error = figures.distance_error_ly
        more = "" if error is None else f"± {error:,.1f}" if error < 10.0 else f"± {error:,.0f}"
        found.append(Fact("Distance", f"{_number(figures.distance_ly)} light years", more))
    if figures.magnitude is not None:
        found.append(Fact("Brightness", magnitude_text(figures.magnitude)))
    if figures.diameter_arcsec is not None:
        found.append(Fact("Apparent size", angle_text(figures.diameter_arcsec / 3600.0)))
    if figures.true_size_km is not None:
        found.append(Fact("True size", f"{figures.true_size_km:,.0f} km"))
    if figures.true_size_ly is not None:
        found.append(Fact("True size", f"{_number(figures.true_size_ly)} light years"))
    if figures.illuminated_fraction is not None:
        found.append(Fact("Lit", f"{figures.illuminated_fraction:.0%}"))
    if figures.elongation_deg is not None:
        found.append(Fact("From the Sun", f"{figures.elongation_deg:.0f}°"))
    return found


def _number(value: float) -> str:
    if value >= 1e6:
        return f"{value / 1e6:,.1f} million"
    return f"{value:,.1f}" if value < 100.0 else f"{value:,.0f}"


def _moon(page: "MoonPage") -> list[Fact]:
    here = page.here
    age = [] if page.age_days is None else [Fact("Age", f"{page.age_days:.1f} days")]
    libration = (
        f"{signed_text(here.facing.longitude_deg)}° east, "
        f"{signed_text(here.facing.latitude_deg)}° north"
    )
    return [
        Fact("Colongitude", f"{here.colongitude_deg:.1f}°"),
        Fact("Libration", libration),
        Fact(
            "Craters that show",
            f"{page.ground.crater_count:,}",
            f"{page.ground.shadow_count:,} with shadows",
        ),
        *age,
        Fact(
            "Axis, bright limb",
            f"{signed_text(here.axis_position_angle_deg)}°, {here.bright_limb_angle_deg:.0f}°",
        ),
    ]


def coming(page: "About") -> str:
    """Say for each coming evening where the edge of the Moon's night stands, a line each."""
    if page.moon is None or not page.moon.coming:
        return ""
    lines = ["Edge of its night, coming evenings:"]
    dark: list[MoonEvening] = []
    for evening in page.moon.coming:
        if evening.terminator is None:
            dark.append(evening)
            continue
        lines += [*_without_moon(dark), _evening(evening, evening.terminator)]
        dark = []
    return "\n".join(lines + _without_moon(dark))


def _without_moon(evenings: "list[MoonEvening]") -> list[str]:
    """Say in one line of which evenings there is nothing to say."""
    if not evenings:
        return []
    days = [f"{one.day:%a} {one.day.day}" for one in evenings]
    span = days[0] if len(days) == 1 else f"{days[0]} to {days[-1]}"
    return [f"{span}: not high in the dark"]


def _evening(evening: "MoonEvening", edge: "Terminator") -> str:
    """Write an evening: "Thu 19, 35° west: Montes Carpatus"."""
    side = "east" if edge.longitude_deg > 0.0 else "west"
    line = f"{evening.day:%a} {evening.day.day}, {abs(edge.longitude_deg):.0f}° {side}"
    mark = ": "
    for name in edge.features:
        if len(line) + len(mark) + len(name) <= _LINE:
            line, mark = f"{line}{mark}{name}", ", "
    return line


def _planet(page: "PlanetPage", about: "About", time_zone: str) -> list[Fact]:
    found = []
    if page.ring is not None:
        ring = page.ring
        found.append(
            Fact(
                "Ring",
                f"{ring.major_arcsec:.1f}″ × {ring.minor_arcsec:.1f}″",
                f"open {signed_text(ring.opening_deg)}°",
            )
        )
    if page.field is not None:
        found += _field(page.field)
    turn = page.look.turn
    if turn is not None and turn.meridians_deg:
        text = ", ".join(f"{name} {value:.0f}°" for name, value in turn.meridians_deg.items())
        found.append(Fact("Central meridian", text))
    coming = [event for event in page.events if event.utc >= about.utc][:_EVENTS]
    for event in coming:
        local = event.utc.astimezone(zone_of(time_zone))
        found.append(Fact(clock_text(local), event.text))
    return found


def _field(field: "PlanetField") -> list[Fact]:
    """Say what stands beside a planet that looks like a star."""
    depth = f"in {angle_text(field.field_deg)}, to {magnitude_text(field.limit_magnitude)}"
    found = [Fact("Stars with it", f"{len(field.stars):,}", depth)]
    if field.stars:
        nearest = min(field.stars, key=lambda one: one.separation_deg)
        away = compass_point(nearest.position_angle_deg, 8)
        where = f"{angle_text(nearest.separation_deg)} {away}"
        found.append(Fact("Nearest of them", where, magnitude_text(nearest.magnitude)))
    way = compass_point(field.moves_position_angle_deg, 8)
    return [*found, Fact("By this time tomorrow", f"{angle_text(field.moves_deg)} {way}")]


def _double(page: "DoublePage") -> list[Fact]:
    bright, faint = min(page.magnitudes), max(page.magnitudes)
    return [
        Fact(
            "Pair",
            f"{page.separation_arcsec:.1f}″ at {page.position_angle_deg:.0f}°",
            f"{bright:.1f} and {faint:.1f}",
        ),
        Fact("Parted by", ", ".join(page.splits_with[:3]) or "none of yours"),
    ]


def _variable(page: "VariablePage", time_zone: str) -> list[Fact]:
    found = []
    if page.magnitude_now is not None:
        found.append(Fact("Now about", f"mag {page.magnitude_now:.1f}"))
    for what, utc in (("Minimum", page.next_minimum_utc), ("Maximum", page.next_maximum_utc)):
        if utc is not None:
            local = utc.astimezone(zone_of(time_zone))
            found.append(Fact(f"{what} to be seen", f"{local:%d %B} {clock_text(local)}"))
    return found
