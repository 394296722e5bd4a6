"""Steps about the sky as a whole: its turning, its lights, how dark it is."""

from datetime import timedelta
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.finding import azimuth_altitude_deg, face_words, stand_words
from companion.road.evening import Evening
from companion.road.telling import TOO_SOON, TURNED, Telling, Waiting
from companion.sky import (
    SUN_UP_DEG,
    clock_text,
    compass_point,
    equator_axes,
    fists_text,
    turned_west,
    zone_of,
)

_ORANGE: Final = 1.1
_WHITE: Final = 0.15
_ON_THE_PATH: Final = (49669, 65474, 80763, 21421, 37826)  # Regulus to Pollux
_HALF_AN_HOUR_S: Final = 1800.0
_MILKY_WAY: Final = (
    ("hip:60718", "at the Cross"), ("ngc:NGC6603", "above the Teapot's spout"),
    ("hip:100453", "along the Swan"), ("hip:4427", "at the W"), ("hip:24608", "beside Capella"),
)  # fmt: skip
_TOO_BRIGHT: Final = "The sky is too bright for it now"


def sunset(evening: Evening) -> Telling | Waiting:
    """Mark where the Sun sets; done by day."""
    sun = evening.moment.body("sun")
    until = evening.season.when_sunset()
    soon = until is not None and until - evening.moment.utc < timedelta(hours=2)
    if sun.altitude_airless_deg < SUN_UP_DEG or not soon:
        return Waiting("It is done in the hours before the Sun sets.", until)
    return Telling(
        sun.azimuth_deg,
        max(sun.altitude_deg, 0.0),
        (
            "Look at the ground below the Sun, never into it, and least of all through glass.",
            f"It goes down in the {compass_point(sun.azimuth_deg, 8)} or a little beyond.",
            "Choose what on your horizon marks the place: in a week it has moved.",
        ),
        "In a week, say beforehand where it will set.",
    )


def adapt(evening: Evening) -> Telling | Waiting:
    """Give the eyes their half hour."""
    if not evening.is_dark:
        return too_bright(evening)
    return Telling(
        None,
        None,
        (
            "Stay out for twenty minutes without any white lamp, this screen dimmed.",
            "Count the stars in one fist's width of sky at the start and at the end.",
            "The second count is two or three times the first.",
        ),
        "Another night, say after how many minutes the faint ones come.",
    )


def too_bright(evening: Evening) -> Waiting:
    """Say why it is not dark, and when it is."""
    moonlit = evening.moon.altitude_deg > 0.0 and evening.moon.lit_fraction > 0.2
    if moonlit and evening.sky.conditions.zenith_mag > 20.0:
        return Waiting(f"{_TOO_BRIGHT}: the Moon is up.", evening.season.when_moonless())
    if evening.sky.sun_altitude_deg > -15.0:
        return Waiting(f"{_TOO_BRIGHT}: it is not night yet.", evening.season.when_dark(-15.0))
    return Waiting(f"{_TOO_BRIGHT}: go out of town for it.")


def colours(evening: Evening) -> Telling | Waiting:
    """See that stars have colours: an orange and a white one."""
    rows = evening.bright(1.8)
    shades = {row: evening.catalogue.star(int(evening.stars.hip[row])).colour_index for row in rows}
    warm = [row for row in rows if (shades[row] or 0.0) >= _ORANGE]
    cool = [row for row in rows if shades[row] is not None and (shades[row] or 0.0) <= _WHITE]
    if not warm or not cool:
        keys = ("hip:69673", "hip:27989", "hip:80763")
        until = evening.season.when(tuple(evening.catalogue.target(k) for k in keys), 25.0)
        return Waiting("No orange and white star stand well together now.", until)
    one, other = evening.stars.vectors[warm[0]], evening.stars.vectors[cool[0]]
    first, second = evening.stars.names[warm[0]], evening.stars.names[cool[0]]
    azimuth_deg, altitude_deg = azimuth_altitude_deg(one)
    return Telling(
        azimuth_deg,
        altitude_deg,
        (
            f"{face_words(one)}: {first} stands {stand_words(one)}. It is orange.",
            f"{second} stands {stand_words(other)}. It is white.",
            "The orange one is the cooler of the two; defocus the eye a little to see it better.",
        ),
        f"Another night, say which of {first} and {second} is the orange one.",
        TOO_SOON,
        f"hip:{int(evening.stars.hip[warm[0]])}",
    )


def magnitudes(evening: Evening) -> Telling | Waiting:
    """Rank five stars by brightness."""
    stars = evening.stars
    chosen: list[int] = []
    for row in evening.bright(3.6):
        if not chosen or stars.magnitude[row] - stars.magnitude[chosen[-1]] >= 0.4:
            chosen.append(row)
    if len(chosen) < 3:
        return Waiting("Too few stars are out to be ranked.", evening.season.when_dark())
    chosen = chosen[:5]
    vector = stars.vectors[chosen[0]]
    azimuth_deg, altitude_deg = azimuth_altitude_deg(vector)
    names = ", ".join(stars.names[row] for row in sorted(chosen, key=lambda row: stars.names[row]))
    return Telling(
        azimuth_deg,
        altitude_deg,
        (
            f"Put these in order, the brightest first: {names}.",
            f"Begin with {stars.names[chosen[0]]}, {stand_words(vector)}.",
            f"It goes: {', '.join(stars.names[row] for row in chosen)}.",
            "Each magnitude is two and a half times in light; the smaller number is brighter.",
        ),
        "Another night, say the magnitude of a star to half a step.",
    )


def _seen_later(evening: Evening, vector: FloatArray, seconds: float) -> FloatArray:
    """Give where a seen direction stands later: the turn of the sky, air left aside."""
    axes = equator_axes(evening.latitude_deg)
    local = np.array([vector[0], -vector[1], vector[2]])  # north, east, up
    turned = axes @ turned_west(axes @ local, seconds)
    return np.array([turned[0], -turned[1], turned[2]])


def rising(evening: Evening) -> Telling | Waiting:
    """See something climb in the east, or sink in the west."""
    best: tuple[float, int, float] | None = None
    for row in evening.bright(2.6, 10.0):
        vector = evening.stars.vectors[row]
        if vector[2] > np.sin(np.radians(40.0)):
            continue
        climbs = _altitude(_seen_later(evening, vector, _HALF_AN_HOUR_S)) - _altitude(vector)
        if best is None or climbs > best[0]:
            best = (climbs, row, climbs)
    if best is None or abs(best[0]) < 1.5:
        return Waiting("Nothing bright rises or sets now.", evening.season.when_dark())
    climbs, row, _same = best
    vector, name = evening.stars.vectors[row], evening.stars.names[row]
    azimuth_deg, altitude_deg = azimuth_altitude_deg(vector)
    goes, where = ("climbs", "east") if climbs > 0.0 else ("sinks", "west")
    return Telling(
        azimuth_deg,
        altitude_deg,
        (
            f"{face_words(vector)}: {name} stands {stand_words(vector)}.",
            (
                f"Stand so that a roof's edge touches it. In half an hour it {goes} by "
                f"{fists_text(abs(climbs))}."
            ),
            f"What stands in the {where} {goes}: the Earth turns.",
        ),
        "Another night, say beforehand which way a star will move.",
        subject=f"hip:{int(evening.stars.hip[row])}",
        thing=name,
    )


def _altitude(vector: FloatArray) -> float:
    return azimuth_altitude_deg(vector)[1]


def earlier(evening: Evening) -> Telling | Waiting:
    """See that a star comes four minutes earlier each night."""
    rows = evening.bright(2.2, 12.0)
    if not rows:
        return Waiting("No bright star is out.", evening.season.when_dark())
    vector, name = evening.stars.vectors[rows[0]], evening.stars.names[rows[0]]
    azimuth_deg, altitude_deg = azimuth_altitude_deg(vector)
    zone = zone_of(evening.moment.site.time_zone)
    then = evening.moment.utc - timedelta(minutes=4)
    return Telling(
        azimuth_deg,
        altitude_deg,
        (
            f"{face_words(vector)}: {name} stands {stand_words(vector)}. Note what it touches.",
            (
                "From the same spot it is there again tomorrow at "
                f"{clock_text(then.astimezone(zone))}, four minutes earlier."
            ),
            "In a month that is two hours: so the seasons of the stars come.",
        ),
        "Tomorrow, go to the same spot and look at the clock.",
        subject=f"hip:{int(evening.stars.hip[rows[0]])}",
    )


def turning(evening: Evening) -> Telling | Waiting:
    """See what turns and what stays."""
    group = evening.group
    if group is None or abs(evening.latitude_deg) < 10.0:
        return Waiting("No group turns about a pole that stands well.", evening.season.when_dark())
    north = evening.latitude_deg > 0.0
    azimuth_deg, side = (0.0, "north") if north else (180.0, "south")
    way = "against the clock" if north else "with the clock"
    return Telling(
        azimuth_deg,
        abs(evening.latitude_deg),
        (
            f"Face {side}: the pole of the sky stands {fists_text(abs(evening.latitude_deg))} up.",
            f"Draw {group.called} and the horizon on a sheet; look again in an hour.",
            f"Everything has turned {way} about the pole, by fifteen degrees an hour.",
        ),
        "Another night, draw beforehand how it will stand in two hours.",
        TURNED,
    )


def ecliptic(evening: Evening) -> Telling | Waiting:
    """See that planets, Moon and Sun keep to one path."""
    points = [(target.name, place.vector) for target, place in evening.planets]
    if evening.moon.altitude_deg > 8.0:
        points.append(("the Moon", evening.moon_vector))
    stars = evening.stars
    near = [stars.rows[hip] for hip in _ON_THE_PATH if hip in stars.rows]
    points += [
        (stars.names[row], stars.vectors[row]) for row in near if stars.vectors[row][2] > 0.2
    ]
    if len(points) < 2:
        return Waiting("Too little stands on the planets' path now.", evening.season.when_dark())
    azimuth_deg, altitude_deg = azimuth_altitude_deg(points[0][1])
    where = [f"{name} stands {stand_words(vector)}." for name, vector in points[:4]]
    return Telling(
        azimuth_deg,
        altitude_deg,
        (
            "Draw a line in the sky through these, from where the Sun set.",
            *where,
            "Planets, Moon and Sun never leave it by more than a fist.",
        ),
        "Another night, show the planets' path from horizon to horizon.",
    )


def moving_lights(evening: Evening) -> Telling | Waiting:
    """Tell what moves."""
    if evening.faintest < 2.5:
        return Waiting("Too few stars are out.", evening.season.when_dark())
    return Telling(
        None,
        60.0,
        (
            "Lean back and watch one part of the sky for ten minutes.",
            (
                "Blinks, red or green: an aircraft. Steady, minutes long, may fade: a satellite. "
                "A second or two, gone: a meteor."
            ),
        ),
        "Another night, name the next moving light before it is gone.",
    )


def milky_way(evening: Evening) -> Telling | Waiting:
    """See the Milky Way where it is best."""
    keys = tuple(key for key, _where in _MILKY_WAY)
    if not evening.is_dark:
        return too_bright(evening)
    best = evening.best_of(keys, 30.0)
    if best is None:
        targets = tuple(evening.catalogue.target(key) for key in keys)
        until = evening.season.when(targets, 35.0, faint=True)
        return Waiting("Its bright parts stand low now.", until)
    target, place = best
    azimuth_deg, altitude_deg = azimuth_altitude_deg(place.vector)
    where = dict(_MILKY_WAY)[target.key]
    return Telling(
        azimuth_deg,
        altitude_deg,
        (
            f"{face_words(place.vector)}: the Milky Way {where}, {stand_words(place.vector)}.",
            "A pale band, one or two fists wide, without an edge; a cloud would drift.",
            "It is the disc of our own galaxy, seen from inside.",
        ),
        "Another night, follow it from horizon to horizon.",
        TOO_SOON,
    )
