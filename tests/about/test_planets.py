"""The planets' pages: ring, moons, events, cautions, both ends of the ephemeris."""

from datetime import UTC, datetime, timedelta

import pytest

from companion.about import About, AboutQuestion, about
from companion.about.best_time import best_day
from companion.about.jupiter_events import EventKind, moon_events
from companion.about.jupiter_moons import MoonState, PlanetMoon, jupiter_moons
from companion.about.moon_reach import within_reach
from companion.about.planet import mars_season_deg, planet_look
from companion.about.rings import RingShows, ring_look, ring_shows
from companion.about.seeing_power import power_of
from companion.advice import AdviceError
from companion.finding import Instrument, InstrumentKind
from companion.night import Conditions, find_instrument
from companion.sky import LOON_BARRENS, PLANETS, SUN, Ephemeris, Target

UTC_NOW = datetime(2026, 11, 26, 2, 0, tzinfo=UTC)
EVENING = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)


def planet(name: str) -> Target:
    return next(target for target in PLANETS if target.body == name)


def ask(
    ephemeris: Ephemeris,
    target: Target,
    utc: datetime = EVENING,
    instrument: str | Instrument = "150",
    longitude_deg: float | None = None,
) -> About:
    used = find_instrument(instrument) if isinstance(instrument, str) else instrument
    question = AboutQuestion(
        target, LOON_BARRENS, utc, used, Conditions(), longitude_deg=longitude_deg
    )
    return about(ephemeris, question)


@pytest.mark.parametrize(
    "utc", [datetime(1899, 8, 1, tzinfo=UTC), datetime(2053, 10, 6, tzinfo=UTC)]
)
def test_every_planet_at_both_ends_of_the_ephemeris(ephemeris: Ephemeris, utc: datetime) -> None:
    for target in PLANETS:
        page = ask(ephemeris, target, utc)
        assert page.figures.distance_au is not None
        assert len(page.says) >= 2


def test_outside_the_ephemeris_it_refuses(ephemeris: Ephemeris) -> None:
    with pytest.raises(AdviceError, match="outside the ephemeris"):
        ask(ephemeris, planet("mars"), datetime(2060, 1, 1, tzinfo=UTC))


def test_the_ring_by_instrument(ephemeris: Ephemeris) -> None:
    """A hint in 10x binoculars, plain from 25x or so (common practice, no source)."""
    look = ring_look(ephemeris.aspect("saturn", datetime(2028, 11, 1, tzinfo=UTC)))
    assert ring_shows(look, 1.0, 90.0) is RingShows.NOTHING
    assert ring_shows(look, 10.0, 9.0) is RingShows.HINT
    assert ring_shows(look, 50.0, 2.5) is RingShows.PLAIN
    assert ring_shows(look, 250.0, 1.0) is RingShows.GAP


def test_the_ring_from_its_edge(ephemeris: Ephemeris) -> None:
    """The Earth crossed the plane of the ring on 2025 March 23 (from memory)."""
    look = ring_look(ephemeris.aspect("saturn", datetime(2025, 3, 23, 16, 0, tzinfo=UTC)))
    assert abs(look.opening_deg) < 0.1
    assert look.edge_on
    assert ring_shows(look, 250.0, 1.0) is RingShows.NOTHING
    page = ask(ephemeris, planet("saturn"), datetime(2025, 3, 23, 16, 0, tzinfo=UTC))
    assert any("from the edge" in said for said in page.says)


def test_jupiters_moons_within_reach_of_binoculars(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, planet("jupiter"), datetime(2026, 11, 26, 9, 0, tzinfo=UTC), "10x50")
    assert any(said.startswith("Moons within reach in 10×50: ") for said in page.says)
    by_eye = ask(ephemeris, planet("jupiter"), UTC_NOW, "eye")
    assert "Its moons take binoculars or a telescope." in by_eye.says


def test_enceladus_drowns_in_the_glare_of_a_small_telescope(ephemeris: Ephemeris) -> None:
    """Common practice, no source: it takes some 250 mm; Rhea shows in 150 mm."""
    look = planet_look(ephemeris.aspect("saturn", EVENING))
    radius = look.diameter_arcsec / 2.0
    enceladus = PlanetMoon("Enceladus", 3.95 * radius, 0.0, 11.7, MoonState.BESIDE)
    rhea = PlanetMoon("Rhea", 8.7 * radius, 0.0, 9.7, MoonState.BESIDE)
    small, large = (
        power_of(
            Instrument("tube", InstrumentKind.TELESCOPE, size, focal_mm=8.0 * size), Conditions()
        )
        for size in (150.0, 300.0)
    )
    assert within_reach(rhea, look, small)
    assert not within_reach(enceladus, look, small)
    assert within_reach(enceladus, look, large)


def test_what_begins_ends_and_states_agree_with_events(ephemeris: Ephemeris) -> None:
    found = moon_events(ephemeris, UTC_NOW, UTC_NOW + timedelta(days=2))
    assert [event.utc for event in found] == sorted(event.utc for event in found)
    expected = {
        EventKind.TRANSIT_BEGINS: MoonState.IN_FRONT,
        EventKind.OCCULTATION_BEGINS: MoonState.BEHIND,
    }
    checked = 0
    for event in found:
        state = expected.get(event.kind)
        if state is None:
            continue
        checked += 1
        for seconds, wanted in ((60.0, state), (-60.0, MoonState.BESIDE)):
            aspect = ephemeris.aspect("jupiter", event.utc + timedelta(seconds=seconds))
            moons = {moon.name: moon.state for moon in jupiter_moons(aspect)}
            assert moons[event.moon] is wanted
    assert checked >= 2


def test_no_eclipse_is_told_that_ends_behind_the_disk(ephemeris: Ephemeris) -> None:
    """West of the Sun the moons go into the shadow first and come out from behind the disk."""
    start = datetime(2026, 10, 24, 12, 0, tzinfo=UTC)
    found = moon_events(ephemeris, start, start + timedelta(days=1))
    kinds = {(event.moon, event.kind) for event in found if event.moon == "Europa"}
    assert ("Europa", EventKind.ECLIPSE_BEGINS) in kinds
    assert ("Europa", EventKind.ECLIPSE_ENDS) not in kinds


def test_when_a_longitude_crosses(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, planet("jupiter"), longitude_deg=60.0).planet
    assert page is not None
    assert 2 <= len(page.crossings_utc) <= 3
    for utc in page.crossings_utc:
        look = ask(ephemeris, planet("jupiter"), utc).planet
        assert look is not None
        assert look.look.turn is not None
        assert look.look.turn.meridians_deg["II"] == pytest.approx(60.0, abs=0.05)


def test_the_seasons_of_mars(ephemeris: Ephemeris) -> None:
    """Northern spring equinox of 2026: 30 September (year 39 of the Mars calendar; from memory)."""
    season = mars_season_deg(ephemeris.aspect("mars", datetime(2026, 9, 30, tzinfo=UTC)))
    assert abs((season + 180.0) % 360.0 - 180.0) < 1.0


def test_a_planet_near_the_sun_comes_with_the_caution(ephemeris: Ephemeris) -> None:
    assert "blinds" in ask(ephemeris, planet("venus")).caution
    assert "blinds" in ask(ephemeris, planet("mercury")).caution
    assert not ask(ephemeris, planet("saturn")).caution


def test_the_sun_says_the_caution_first(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, SUN)
    assert page.says[0].startswith("Never look at the Sun")
    assert page.figures.light_time_s == pytest.approx(499.0, abs=9.0)


@pytest.mark.parametrize(
    ("body", "day"),
    [("saturn", datetime(2026, 10, 4, tzinfo=UTC)), ("jupiter", datetime(2027, 2, 10, tzinfo=UTC)),
     ("mars", datetime(2027, 2, 19, tzinfo=UTC)), ("venus", datetime(2027, 1, 3, tzinfo=UTC))],
)  # fmt: skip
def test_when_it_is_at_its_best(ephemeris: Ephemeris, body: str, day: datetime) -> None:
    """Oppositions, and Venus' elongation of 47° west (almanacs, from memory)."""
    start = datetime(2026, 9, 1, tzinfo=UTC)
    found = best_day(
        ephemeris, body, datetime(2026, 11, 1, tzinfo=UTC) if body == "venus" else start
    )
    assert found is not None
    assert abs((found - day) / timedelta(days=1)) < 2.5


def test_an_inner_planet_shows_with_the_sun_safely_down(ephemeris: Ephemeris) -> None:
    morning = ask(ephemeris, planet("venus"), datetime(2026, 12, 20, 3, 0, tzinfo=UTC))
    assert morning.planet is not None
    window = morning.planet.twilight
    assert window is not None
    for utc in (window.begins_utc, window.ends_utc):
        moment = ephemeris.moment(LOON_BARRENS, utc)
        assert moment.body("sun").altitude_airless_deg < -3.0
        assert moment.body("venus").altitude_deg > 2.5
    hidden = ask(ephemeris, planet("venus"), datetime(2026, 10, 24, 3, 0, tzinfo=UTC))
    assert hidden.planet is not None
    assert hidden.planet.twilight is None
    assert any("does not stand high enough" in said for said in hidden.says)
