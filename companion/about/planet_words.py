"""What is said of Sun and planets: sentences to read aloud."""

from datetime import datetime
from typing import Final

from companion.about.jupiter_events import MoonEvent
from companion.about.jupiter_moons import MoonState, PlanetMoon
from companion.about.moon_reach import within_reach
from companion.about.planet import PlanetLook
from companion.about.record import AboutQuestion, PlanetPage
from companion.about.rings import RingLook, RingShows
from companion.about.seeing_power import Power
from companion.about.words import figures, light_time, listed, percent, through
from companion.sky import clock_text, zone_of

SUN_CAUTION: Final = (
    "Never look at the Sun, nor near it while it is up, through any instrument or finder: a "
    "glance blinds. Only a certified solar filter in front of the optics is safe."
)
NEAR_SUN_CAUTION: Final = (
    "It stands close to the Sun: wait until the Sun has set, or stop well before it rises. A "
    "glance at the Sun through any instrument or finder blinds."
)
# Equatorial diameters in Earths, and what each is, by the same table of radii; kinds and stories
# are textbook knowledge.
EARTH_KM: Final = 6378.1
WHAT: Final = {
    "mercury": "a small world of rock, nearest to the Sun",
    "venus": "a world of rock as large as the Earth, under white clouds",
    "mars": "a cold desert world half as large as the Earth",
    "jupiter": "a globe of gas, the largest planet",
    "saturn": "a globe of gas with a ring of ice",
    "uranus": "a globe of ice and gas that lies on its side",
    "neptune": "a globe of ice and gas, the outermost planet",
    "pluto": "a dwarf planet of ice",
}
_SEASONS: Final = (
    "spring in its north, autumn in its south", "summer in its north, winter in its south",
    "autumn in its north, spring in its south", "winter in its north, summer in its south",
)  # fmt: skip
_RING_SHOWS: Final = {
    RingShows.NOTHING: "its ring does not show apart",
    RingShows.HINT: "its ring is a hint: the planet looks drawn out",
    RingShows.PLAIN: "its ring stands plain around it",
    RingShows.GAP: "its ring stands plain, and the dark gap in it shows at the ends",
}
_STATE_WORDS: Final = {
    MoonState.BESIDE: "beside it",
    MoonState.IN_FRONT: "in front of it",
    MoonState.BEHIND: "behind it",
    MoonState.IN_SHADOW: "in its shadow",
}
_INNER: Final = ("mercury", "venus")
_EVENTS_SAID = 3
_PHASE_ARCMIN, _DISK_ARCMIN = 6.0, 4.0  # apparent: a phase, a disk (common practice, no source)


def state_text(state: MoonState) -> str:
    """Say where a moon stands: "in front of it"."""
    return _STATE_WORDS[state]


def planet_says(
    page: PlanetPage, question: AboutQuestion, up: tuple[float, float], power: Power
) -> tuple[str, ...]:
    """Give the sentences about a planet; ``up`` are the altitudes of planet and Sun in degrees."""
    look = page.look
    name = question.target.name
    earths = 2.0 * look.radius_km / (2.0 * EARTH_KM)
    said = [
        (
            f"{name} is {WHAT[look.body]}, {figures(2.0 * look.radius_km, 3)} kilometres across, "
            f"{figures(earths)} times the Earth."
        ),
        (
            f"It is {figures(look.distance_au * 149.5978707, 3)} million kilometres away; its "
            f"light takes {light_time(look.light_time_s)} to reach us."
        ),
    ]
    if look.body in _INNER:
        side = "evening" if look.east_of_sun else "morning"
        said.append(
            f"It stands {figures(look.elongation_deg)} degrees from the Sun, in the {side} sky, "
            f"and {percent(look.lit)} of its disk is lit."
        )
    if page.ring is not None and page.ring_shows is not None:
        said += _ring(page.ring, page.ring_shows, question)
    if page.season_deg is not None and look.turn is not None:
        said += _mars(page.season_deg, look)
    said += _moons(page.moons, question, look, power)
    said += _events(page.events, question)
    said += _times(page, question)
    if up[0] <= 0.0:
        said.append("It is below the horizon now.")
    return tuple(said)


def _ring(ring: RingLook, shows: RingShows, question: AboutQuestion) -> list[str]:
    where = through(question.instrument.name, question.instrument.kind)
    if ring.edge_on:
        return [
            (
                f"We see its ring from the edge, open by {abs(ring.opening_deg):.1f} degrees: a "
                "thin line at best."
            )
        ]
    face = "north" if ring.opening_deg > 0.0 else "south"
    return [
        (
            f"Its ring is open by {figures(abs(ring.opening_deg))} degrees, with the {face} face "
            f"towards us; {where} {_RING_SHOWS[shows]}."
        )
    ]


def _mars(season_deg: float, look: PlanetLook) -> list[str]:
    season = _SEASONS[int(season_deg // 90.0)]
    tilt = look.turn.facing_latitude_deg if look.turn else 0.0
    pole = "north" if tilt > 0.0 else "south"
    return [f"On Mars it is {season}; its {pole} pole is tipped towards us."]


def _moons(
    moons: tuple[PlanetMoon, ...], question: AboutQuestion, look: PlanetLook, power: Power
) -> list[str]:
    """Say which moons the instrument reaches, and where the hidden ones are."""
    if not moons:
        return []
    where = through(question.instrument.name, question.instrument.kind)
    if question.instrument.kind == "eye":
        return ["Its moons take binoculars or a telescope."]
    seen = tuple(moon.name for moon in moons if within_reach(moon, look, power))
    said = [f"Moons within reach {where}: {listed(seen)}."] if seen else []
    away = [m for m in moons if m.state is not MoonState.BESIDE and m.name in _GREAT]
    return said + [f"{moon.name} is {_STATE_WORDS[moon.state]} now." for moon in away]


_GREAT: Final = ("Io", "Europa", "Ganymede", "Callisto")


def _times(page: PlanetPage, question: AboutQuestion) -> list[str]:
    """Say when an inner planet can be looked at tonight, and when each is at its best."""
    said, inner = [], page.look.body in _INNER
    if inner and page.twilight is None:
        said.append("Tonight it does not stand high enough while the Sun is safely down.")
    elif page.twilight is not None:
        begins, ends = page.twilight.begins_utc, page.twilight.ends_utc
        said.append(
            f"With the Sun safely down it can be seen from {_local(begins, question)} to "
            f"{_local(ends, question)}, up to {figures(page.twilight.highest_deg)} degrees high."
        )
    if page.best_utc is not None:
        day = page.best_utc.astimezone(zone_of(question.site.time_zone))
        where = "farthest from the Sun" if inner else "opposite the Sun, at its best,"
        said.append(f"It next stands {where} about {day.day} {day:%B %Y}.")
    return said


def _events(events: tuple[MoonEvent, ...], question: AboutQuestion) -> list[str]:
    """Say what comes next tonight, by the site's own clock."""
    coming = [event for event in events if event.utc >= question.utc][:_EVENTS_SAID]
    return [
        f"At {_local(event.utc, question)} {event.text}."
        for event in coming
        if question.instrument.kind != "eye"
    ]


def _local(utc: datetime, question: AboutQuestion) -> str:
    return clock_text(utc.astimezone(zone_of(question.site.time_zone)))


def too_faint_words(
    question: AboutQuestion, magnitude: float | None, power: Power
) -> tuple[str, ...]:
    """Say that this instrument doesn't reach it; nothing where it does."""
    if magnitude is None or magnitude <= power.limit_magnitude:
        return ()
    where = through(question.instrument.name, question.instrument.kind)
    faintest = f"stars do to {power.limit_magnitude:.1f}"
    return (f"At magnitude {magnitude:.1f} it does not show {where} here: {faintest}.",)


def planet_look_for(page: PlanetPage, question: AboutQuestion, power: Power) -> tuple[str, ...]:
    """Give what shows in this instrument, the easiest first."""
    look, magnification = page.look, power.view.magnification
    apparent_arcmin = look.diameter_arcsec * magnification / 60.0
    found = []
    if page.ring_shows is RingShows.HINT:
        found.append("drawn out by its ring")
    if page.ring_shows in {RingShows.PLAIN, RingShows.GAP}:
        found.append("the ring, apart from the globe")
    if page.ring_shows is RingShows.GAP:
        found.append("the dark gap in the ring")
    if look.body == "jupiter" and question.instrument.kind != "eye":
        found += ["up to four moons in a line"] if magnification >= 7.0 else []
        found += ["two dark cloud bands"] if apparent_arcmin >= 25.0 else []
    if look.body in _INNER and apparent_arcmin >= _PHASE_ARCMIN:
        found.append("its phase")
    if look.body == "mars" and apparent_arcmin >= 15.0:
        found += ["a bright polar cap", "dark markings on reddish ground"]
    if look.body == "saturn":
        titan = next((moon for moon in page.moons if moon.name == "Titan"), None)
        if titan and within_reach(titan, look, power):
            found.append("Titan, like a star beside it")
    if look.body in {"uranus", "neptune"}:
        disk = apparent_arcmin >= _DISK_ARCMIN
        found.append("a small disk, no point as the stars are" if disk else "a point like a star")
    return tuple(found or ["a bright point, steadier than the stars"])
