"""A host's evening: its rules hold on many evenings, and each turn is told as it stands then."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest

from companion.advice import AdviceError
from companion.finding import (
    Eyepiece,
    Instrument,
    InstrumentKind,
    Viewing,
    eyepiece_height_m,
)
from companion.night import Conditions, TonightRequest, eye, find_instrument
from companion.road import HostRequest, Program, next_in_the_open, program, stop_now, visitors_sheet
from companion.road.stop import ANOTHER_PART_DEG, stand_of
from companion.sky import DRY_PAN, LOON_BARRENS, Ephemeris, Kind, Site, TargetTable, load_catalogue

NIGHTS = (
    (LOON_BARRENS, datetime(2026, 10, 10, 23, 0, tzinfo=UTC)),
    (LOON_BARRENS, datetime(2027, 1, 15, 0, 30, tzinfo=UTC)),
    (LOON_BARRENS, datetime(2027, 4, 11, 1, 0, tzinfo=UTC)),
    (LOON_BARRENS, datetime(2027, 7, 20, 15, 0, tzinfo=UTC)),  # asked for at noon
    (DRY_PAN, datetime(2027, 7, 1, 18, 0, tzinfo=UTC)),
    (DRY_PAN, datetime(2027, 12, 20, 20, 0, tzinfo=UTC)),
)
NEWTON = Instrument(
    "f/5 on a box", InstrumentKind.TELESCOPE, 250.0, focal_mm=1250.0,
    eyepieces=(Eyepiece("25 mm", 25.0),), viewing=Viewing.TURNED,
)  # fmt: skip
REFRACTOR = Instrument(
    "refractor", InstrumentKind.TELESCOPE, 80.0, focal_mm=600.0,
    eyepieces=(Eyepiece("25 mm", 25.0),), viewing=Viewing.MIRRORED,
)  # fmt: skip


def wanted(
    site: Site, utc: datetime, name: str = "150", targets: int = 6, axis_m: float | None = None
) -> HostRequest:
    conditions = Conditions.at(site)
    through = eye(conditions.observer) if name == "eye" else find_instrument(name)
    asked = TonightRequest(site=site, utc=utc, instrument=through, conditions=conditions)
    return HostRequest(asked, targets, 10.0, axis_m)


def made(ephemeris: Ephemeris, site: Site, utc: datetime, name: str = "150") -> Program:
    return program(ephemeris, load_catalogue(), wanted(site, utc, name))


@pytest.mark.parametrize(("site", "utc"), NIGHTS)
def test_the_rules_of_an_evening_hold(ephemeris: Ephemeris, site: Site, utc: datetime) -> None:
    """Places come from the ephemeris at each turn, asked here anew."""
    found = made(ephemeris, site, utc)
    assert len(found.stops) == 6
    kinds = [stop.target.kind for stop in found.stops]
    assert max(kinds.count(kind) for kind in kinds) <= 2
    assert found.begins_utc >= utc
    for stop, following in pairwise(found.stops):
        gap = following.begins_utc - stop.begins_utc
        assert timedelta(minutes=10) <= gap <= timedelta(minutes=17)
    for stop in found.stops:
        moment = ephemeris.moment(site, stop.begins_utc)
        assert moment.body("sun").altitude_airless_deg < -6.0
        for after in (0, 10):
            at = stop.begins_utc + timedelta(minutes=after)
            there = ephemeris.moment(site, at).horizontal(TargetTable.of([stop.target], at))
            least = 9.0 if stop.target.body else 24.5
            assert float(there.altitude_deg[0]) >= least, (stop.target.name, after)
        assert stop.caution == ""
        assert stop.saying.ask.endswith("?")


@pytest.mark.parametrize(("site", "utc"), NIGHTS)
def test_what_guests_see_anyway_comes_first(
    ephemeris: Ephemeris, site: Site, utc: datetime
) -> None:
    """If Moon or a bright planet is shown at all at the beginning, nothing else comes before it."""
    found = made(ephemeris, site, utc)
    begin = ephemeris.moment(site, found.begins_utc)
    bright = ("moon", "venus", "jupiter", "saturn", "mars")
    shown = [stop.target.body for stop in found.stops]
    up = [body for body in bright if body in shown and begin.body(body).altitude_deg > 10.0]
    assert set(shown[: len(up)]) == set(up)


def test_clouds_lead_to_another_part_of_the_sky(ephemeris: Ephemeris) -> None:
    site, utc = NIGHTS[0]
    found, catalogue = made(ephemeris, site, utc), load_catalogue()
    request = wanted(site, found.begins_utc)
    targets = tuple(stop.target for stop in found.stops)
    for azimuth_deg in (0.0, 90.0, 180.0, 270.0):
        chosen = next_in_the_open(
            ephemeris, catalogue, request, (*targets, *found.spares), (azimuth_deg,)
        )
        assert chosen is not None
        told = stop_now(ephemeris, catalogue, request, (chosen,), turn=0, spares=())
        apart = abs((told.azimuth_deg - azimuth_deg + 180.0) % 360.0 - 180.0)
        assert apart >= ANOTHER_PART_DEG
        assert told.where
    everywhere = (0.0, 90.0, 180.0, 270.0)
    assert next_in_the_open(ephemeris, catalogue, request, targets, everywhere) is None


def test_by_day_and_below_the_horizon_no_direction_is_given(ephemeris: Ephemeris) -> None:
    catalogue = load_catalogue()
    venus, vega = catalogue.target("body:venus"), catalogue.target("hip:91262")
    noon = wanted(LOON_BARRENS, datetime(2026, 10, 10, 16, 0, tzinfo=UTC))
    told = stop_now(ephemeris, catalogue, noon, (venus,), turn=0, spares=(vega,))
    assert (told.where, told.face, told.eyepiece_m) == ("", "", None)
    assert "Sun is up" in told.caution
    assert next_in_the_open(ephemeris, catalogue, noon, (vega, venus), ()) is None
    spica = catalogue.target("hip:65474")
    night = wanted(LOON_BARRENS, datetime(2026, 10, 11, 2, 0, tzinfo=UTC))
    told = stop_now(ephemeris, catalogue, night, (spica,), turn=0, spares=())
    assert told.altitude_deg < 0.0
    assert (told.where, told.face) == ("", "")
    assert "too low" in told.caution


def test_an_evening_that_asks_too_much_is_refused(ephemeris: Ephemeris) -> None:
    site, utc = NIGHTS[0]
    for targets, axis_m in ((0, None), (21, None), (6, 40.0)):
        with pytest.raises(AdviceError):
            program(ephemeris, load_catalogue(), wanted(site, utc, targets=targets, axis_m=axis_m))


def test_by_eye_groups_and_bright_stars_are_shown(ephemeris: Ephemeris) -> None:
    found = made(ephemeris, *NIGHTS[0], "eye")
    assert len(found.stops) >= 5
    assert {stop.view for stop in found.stops} == {"the bare eye"}
    assert Kind.GROUP in {stop.target.kind for stop in found.stops}


@pytest.mark.parametrize(
    ("instrument", "altitude_deg", "height_m"),
    [
        (NEWTON, 90.0, 0.8 + 0.6 * 1.25),  # at the upper end
        (NEWTON, 0.0, 0.8),
        (REFRACTOR, 90.0, 0.8 - 0.5 * 0.6),  # at the lower end
        (REFRACTOR, 30.0, 0.8 - 0.25 * 0.6),
        (find_instrument("10×50"), 45.0, None),
    ],
)
def test_how_high_the_eyepiece_is(
    instrument: Instrument, altitude_deg: float, height_m: float | None
) -> None:
    found = eyepiece_height_m(instrument, altitude_deg, 0.8)
    assert found == (None if height_m is None else pytest.approx(height_m))
    assert eyepiece_height_m(instrument, altitude_deg, None) is None


def test_who_needs_a_step() -> None:
    assert stand_of(None) == ""
    assert "children stand" in stand_of(1.0)
    assert "a child needs a step" in stand_of(1.4)
    assert "for everybody" in stand_of(1.9)


def test_a_sheet_asked_for_at_noon_is_for_dusk(ephemeris: Ephemeris) -> None:
    noon = datetime(2026, 10, 10, 16, 0, tzinfo=UTC)
    sheet = visitors_sheet(ephemeris, load_catalogue(), wanted(LOON_BARRENS, noon), ("M 13",))
    moment = ephemeris.moment(LOON_BARRENS, sheet.utc)
    assert -13.0 < moment.body("sun").altitude_airless_deg < -6.0
    assert sheet.group_key
    assert sheet.points
    assert sheet.planned == ("M 13",)


@pytest.mark.parametrize(("site", "utc"), NIGHTS)
def test_next_week_s_planet_and_moon_stand_as_told(
    ephemeris: Ephemeris, site: Site, utc: datetime
) -> None:
    sheet = visitors_sheet(ephemeris, load_catalogue(), wanted(site, utc), ())
    assert len(sheet.next_week) == 3
    later = ephemeris.moment(site, sheet.utc + timedelta(days=7))
    moon = any(sentence.startswith("The Moon,") for sentence in sheet.next_week)
    seen = later.body("moon")
    if seen.altitude_deg < 5.0:
        assert not moon
    if seen.altitude_deg > 15.0 and seen.lit_fraction > 0.1:
        assert moon
