"""What is said of the Moon: sentences to read aloud, in the order of what one sees."""

from companion.about.moon import MoonLook
from companion.about.moon_ground import Ground
from companion.about.record import AboutQuestion, MoonPage
from companion.about.words import figures, light_time, percent, through
from companion.sky import LIGHT_KM_PER_S, Site

_NEW_LIT, _FULL_LIT = 0.01, 0.985
_QUARTER = 0.03  # as far from half as is still called a quarter
_EARTHSHINE_LIT = 0.40  # up to which the dark side glows (common practice, no source)
_EARTHSHINE_SUN_DEG = -4.0
_LIBRATION_WORTH_DEG = 4.0
_TOUR_SAID = 6
_KIND_WORDS = {
    "crater": "crater", "rille": "rille", "landing_site": "landing site",
    "mountain": "mountain or mountain range", "ridge": "ridge", "sea": "sea of dark lava",
    "lake": "small plain of dark lava", "valley": "valley", "crater_chain": "chain of craters",
    "bay": "bay of dark lava", "cape": "cape", "scarp": "scarp", "marsh": "plain of dark lava",
    "plain": "plain", "ocean": "sea of dark lava", "bright_marking": "bright marking",
}  # fmt: skip


def feature_kind_text(code: str) -> str:
    """Say what a feature of the Moon is: "crater"."""
    return _KIND_WORDS[code]


def phase_name(look: MoonLook) -> str:
    """Name the phase: "a waxing crescent"."""
    if look.lit < _NEW_LIT:
        return "new"
    if look.lit > _FULL_LIT:
        return "full"
    if abs(look.lit - 0.5) < _QUARTER:
        return "at first quarter" if look.waxing else "at last quarter"
    side = "waxing" if look.waxing else "waning"
    return f"a {side} {'crescent' if look.lit < 0.5 else 'gibbous'}"


def moon_says(page: MoonPage, question: AboutQuestion, up: tuple[float, float]) -> tuple[str, ...]:
    """Give the sentences about the Moon; ``up`` are the altitudes of Moon and Sun in degrees."""
    look = page.here
    age = "" if page.age_days is None else f", {figures(page.age_days, 2)} days after new Moon"
    said = [
        f"The Moon is {phase_name(look)}, {percent(look.lit)} lit{age}.",
        (
            f"It is {figures(look.distance_km, 3)} kilometres away; its light takes "
            f"{light_time(look.distance_km / LIGHT_KM_PER_S)} to reach us."
        ),
        (
            "It is 3,475 kilometres across, a little more than a quarter of the Earth, and about "
            "4.5 billion years old."
        ),
    ]
    if up[0] <= 0.0:
        return (*said, "It is below the horizon now.")
    if look.lit < _NEW_LIT:
        return (*said, "It is too close to the Sun to be seen.")
    return (*said, *_shows(page.ground, question), *_turned(look), *_earthshine(look, up[1]))


def _shows(ground: Ground, question: AboutQuestion) -> list[str]:
    """Say how many craters show, and which stand at the edge of the night."""
    where = through(question.instrument.name, question.instrument.kind)
    count, shadows = ground.crater_count, ground.shadow_count
    if count == 0:
        said = [f"{where.capitalize()} its dark plains of lava show, and no craters."]
    else:
        shaded = f"{figures(shadows)} of them with shadows now" if shadows else "without shadows"
        said = [f"About {figures(count)} craters are large enough to show {where}, {shaded}."]
    names = [ground.features.names[row] for row in ground.tour()[:_TOUR_SAID]]
    if names:
        said.append(f"Along the edge of the night, from north to south: {', '.join(names)}.")
    return said


def _turned(look: MoonLook) -> list[str]:
    """Say which rim is turned towards us, where it is worth a look."""
    rims = []
    if abs(look.facing.latitude_deg) >= _LIBRATION_WORTH_DEG:
        rims.append("north" if look.facing.latitude_deg > 0.0 else "south")
    if abs(look.facing.longitude_deg) >= _LIBRATION_WORTH_DEG:
        rims.append("east" if look.facing.longitude_deg > 0.0 else "west")
    if not rims:
        return []
    return [f"It is turned so that we see a little further around its {' and '.join(rims)} rim."]


def _earthshine(look: MoonLook, sun_altitude_deg: float) -> list[str]:
    if look.lit > _EARTHSHINE_LIT or sun_altitude_deg > _EARTHSHINE_SUN_DEG:
        return []
    return ["The dark part glows faintly: sunlight that the Earth throws onto it."]


def feature_says(page: MoonPage, row: int) -> tuple[str, ...]:
    """Give the sentences about one feature."""
    ground = page.ground
    name = ground.features.names[row]
    size = float(ground.features.diameter_km[row])
    kind = feature_kind_text(ground.features.kind_of(row))
    across = "long" if ground.long[row] else "across"
    what = f"{name} is a {kind} on the Moon"
    said = [f"{what}, {figures(size)} kilometres {across}." if size else f"{what}."]
    if ground.seen_altitude_deg[row] <= 0.0:
        return (*said, "It is turned away from us now, beyond the Moon's edge.")
    sun = float(ground.sun_altitude_deg[row])
    if sun <= 0.0:
        said.append("The Sun has not risen there: it lies in the Moon's night.")
    else:
        said.append(f"The Sun stands {figures(sun)} degrees high over it.")
    if ground.foreshortening[row] < 0.5:
        said.append("It lies near the edge, where we see it from the side, as a narrow ellipse.")
    if not ground.long[row] and not ground.resolved[row]:
        said.append("It is too small to show in this instrument.")
    elif ground.shadowed[row]:
        said.append("Part of its floor lies in shadow.")
    return tuple(said)


def moon_look_for(ground: Ground, site: Site) -> tuple[str, ...]:
    """Give what shows, the easiest first; in the south the Moon stands upside down."""
    found = ["the dark plains of lava"]
    if ground.crater_count:
        found.append("the largest craters along the edge of the night")
    found += [ground.features.names[row] for row in _by_size(ground)[:_TOUR_SAID]]
    if site.latitude_deg < 0.0:
        found.append("seen from the south, the Moon's north is below")
    return tuple(found)


def _by_size(ground: Ground) -> list[int]:
    rows = ground.tour()
    return sorted(rows, key=lambda row: -float(ground.features.diameter_km[row]))
