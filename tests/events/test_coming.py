from datetime import UTC, datetime, timedelta

import pytest

from companion.advice import AdviceError
from companion.events import EventKind, event_kinds_named, events_calendar
from companion.sky import DRY_PAN, LOON_BARRENS, Ephemeris, Site, horizontal_separation_deg

from .conftest import Coming

MINUTE = timedelta(minutes=1)
_LASTING = "moon,planets,meteors,conjunction,occultation,minimum,eclipse"


def test_a_solar_eclipse_is_told_with_contacts_how_much_and_the_strictest_caution(
    coming: Coming,
) -> None:
    (eclipse,) = coming("solar_eclipse", "2026-08-01")
    assert (eclipse.code, eclipse.seen_here) == ("partial", True)
    assert list(eclipse.contacts) == ["first", "fourth", "greatest"]
    assert eclipse.obscuration == pytest.approx(0.34, abs=0.01)
    assert "certified solar filter in front of the optics" in eclipse.caution
    assert "never with binoculars" in eclipse.caution
    assert "Only while the Sun is covered whole" not in eclipse.caution


def test_only_totality_is_looked_at_without_a_filter(coming: Coming) -> None:
    valencia = Site("on the line", 39.47, -0.38, 15.0)
    (eclipse,) = coming("solar_eclipse", "2026-08-01", site=valencia)
    assert eclipse.code == "total"
    assert "put the filter back" in eclipse.caution
    assert eclipse.obscuration == 1.0


def test_an_eclipse_below_the_horizon_is_told_and_not_seen(coming: Coming) -> None:
    (eclipse,) = coming("lunar_eclipse", "2029-06-20", site=Site("east", 35.0, 139.0))
    assert not eclipse.seen_here
    assert "below the horizon" in eclipse.why
    assert eclipse.altitude_deg is not None
    assert eclipse.altitude_deg < 0.0


def test_an_eclipse_elsewhere_is_told_as_elsewhere(coming: Coming) -> None:
    (eclipse,) = coming("solar_eclipse", "2027-01-25")
    assert (eclipse.code, eclipse.seen_here, eclipse.obscuration) == ("elsewhere", False, 0.0)


def test_the_same_events_come_whatever_span_they_are_asked_in(coming: Coming) -> None:
    kinds = "moon,conjunction,elongation,station,dark_window,minimum"
    whole = coming(kinds, "2026-09-01", 60)
    halves = [*coming(kinds, "2026-09-01", 30), *coming(kinds, "2026-10-01", 30)]
    short = {event.uid: event for event in halves}
    assert {event.uid for event in whole} == set(short)
    for event in whole:
        assert abs(event.utc - short[event.uid].utc) < timedelta(seconds=2), event.title


def test_every_event_has_an_identity_of_its_own(coming: Coming) -> None:
    events = coming("", "2026-01-01", 120)
    assert len({event.uid for event in events}) == len(events)
    assert {event.kind for event in events} >= {EventKind.MOON_PHASE, EventKind.OCCULTATION}


def test_the_far_south_sees_other_showers(coming: Coming) -> None:
    ursids = {e.code: e for e in coming("meteors", "2026-12-01", 31, DRY_PAN)}["URS"]
    assert not ursids.seen_here
    assert "below the horizon" in ursids.why
    puppids = {e.code: e for e in coming("meteors", "2026-12-01", 31, LOON_BARRENS)}["PUP"]
    assert not puppids.seen_here


def test_polar_day_has_no_dark_window_and_no_stars(coming: Coming) -> None:
    north = Site("north", 78.2, 15.6)
    events = coming("", "2026-06-10", 20, north)
    assert not [event for event in events if event.kind is EventKind.DARK_WINDOW]
    minima = [event for event in events if event.kind is EventKind.VARIABLE_MINIMUM]
    assert minima
    assert not any(event.seen_here for event in minima)


def test_a_year_at_the_end_of_the_ephemeris_ends_with_it(coming: Coming) -> None:
    events = coming("moon_phase", "2053-06-01", 366)
    assert events[-1].utc < datetime(2053, 10, 8, tzinfo=UTC)
    assert events[-1].utc > datetime(2053, 9, 20, tzinfo=UTC)
    with pytest.raises(AdviceError, match="outside the ephemeris"):
        coming("moon_phase", "2054-01-01")


def test_a_calendar_written_twice_names_the_same_events(coming: Coming) -> None:
    made = datetime(2026, 8, 1, tzinfo=UTC)
    first = events_calendar(coming(_LASTING, "2026-08-01", 20), LOON_BARRENS, made)
    again = events_calendar(coming(_LASTING, "2026-08-02", 19), LOON_BARRENS, made + MINUTE)
    uids = [_uids(data) for data in (first, again)]
    assert uids[1] <= uids[0]
    assert len(uids[1]) > 20
    assert all(len(line) <= 75 for line in first.split(b"\r\n"))


def _uids(data: bytes) -> set[str]:
    from icalendar import Calendar

    return {str(entry["uid"]) for entry in Calendar.from_ical(data).walk("VEVENT")}


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("eclipses", {"lunar_eclipse", "solar_eclipse"}),
        ("solar_eclipse", {"solar_eclipse"}),
        ("meteors, Occultations", {"meteor_shower", "occultation"}),
        ("conjunction", {"conjunction"}),
        ("", set()),
    ],
)
def test_kinds_are_named_by_code_or_word(text: str, kinds: set[str]) -> None:
    assert {str(kind) for kind in event_kinds_named(text)} == kinds


def test_a_kind_that_is_none_is_refused() -> None:
    with pytest.raises(AdviceError, match="not a kind of event"):
        event_kinds_named("eclipses,tides")


def test_moons_of_jupiter_are_told_for_ten_days_or_as_long_as_they_are_asked_for(
    coming: Coming,
) -> None:
    asked = coming("jupiter_moon", "2026-01-05", 12)
    first = asked[0].utc
    assert {event.kind for event in asked} == {EventKind.JUPITER_MOON}
    assert asked[-1].utc - first > timedelta(days=11)
    assert any(event.seen_here and event.instrument == "telescope" for event in asked)
    assert {"Io", "Europa", "Ganymede"} <= {event.bodies[0] for event in asked}


@pytest.mark.parametrize("site", [LOON_BARRENS, DRY_PAN])
def test_nothing_is_seen_near_the_risen_sun_but_its_own_eclipses(
    coming: Coming, ephemeris: Ephemeris, site: Site
) -> None:
    """In 2027 the Moon is nearest or farthest within 20° of the Sun, by day, several times."""
    told = 0
    for event in coming("", "2027-01-01", 365, site):
        if event.best_utc is None or event.best_azimuth_deg is None:
            continue
        assert event.best_altitude_deg is not None
        sun = ephemeris.moment(site, event.best_utc).body("sun")
        if event.keys == ("body:sun",) or sun.altitude_deg < -2.5:
            continue
        here = (event.best_azimuth_deg, event.best_altitude_deg)
        apart = horizontal_separation_deg(*here, sun.azimuth_deg, sun.altitude_deg)
        assert apart > 19.9, event.title
        told += 1
    assert told > 5  # by day, far from the Sun: half Moons among them


def test_what_comes_near_the_sun_says_why_it_is_not_seen(coming: Coming) -> None:
    nearest = coming("moon_distance", "2027-08-01", 3, DRY_PAN)
    assert [event.seen_here for event in nearest] == [False]
    assert "too near the Sun" in nearest[0].why
