"""A moment that a waiting step names is one at which the step can be done."""

from datetime import UTC, datetime, timedelta

import pytest

from companion.night import Conditions
from companion.road import Learned, RoadRequest, Tool, road
from companion.road.evening import Evening
from companion.road.steps import TELLERS
from companion.road.telling import Telling, Waiting
from companion.sky import DRY_PAN, LOON_BARRENS, Ephemeris, Site, load_catalogue

DATES = [datetime(2027, 1, 5, 0, 30, tzinfo=UTC) + timedelta(days=30.6 * n) for n in range(12)]
NORTH = Site("north", 62.0, 25.0, 100.0, "Europe/Helsinki")
BEFORE = ("own-group", "pole", "first-star", "second-star", "third-star", "hold-binoculars",
          "tripod", "low-power", "pushing", "first-list")  # fmt: skip


def done(utc: datetime) -> tuple[Learned, ...]:
    """Give the steps that others stand on as found long ago, so that many can wait."""
    past = utc - timedelta(days=300)
    return tuple(
        Learned(key, f"step:{key}", past + timedelta(days=4 * n), found=True)
        for n in range(5)
        for key in BEFORE
    )


@pytest.mark.parametrize("site", [LOON_BARRENS, DRY_PAN, NORTH], ids=lambda site: site.name)
@pytest.mark.parametrize("utc", DATES, ids=lambda utc: f"{utc:%B}")
def test_a_step_that_waits_can_be_done_when_it_says(
    ephemeris: Ephemeris, site: Site, utc: datetime
) -> None:
    catalogue, conditions = load_catalogue(), Conditions.at(site)
    asked = RoadRequest(site, utc, conditions, Tool.TELESCOPE, done(utc))
    for step in road(ephemeris, catalogue, asked).steps:
        if step.waits and step.waits_until is not None and "Not found" not in step.sentences[0]:
            then = Evening(catalogue, ephemeris.moment(site, step.waits_until), conditions)
            assert isinstance(TELLERS[step.key](then), Telling), (step.key, step.waits_until)


@pytest.mark.parametrize("utc", DATES, ids=lambda utc: f"{utc:%B}")
def test_the_southern_pole_is_found_from_whatever_leads_there(
    ephemeris: Ephemeris, utc: datetime
) -> None:
    """Near midnight one of Cross, Hook and Crane stands well all year, with or without others."""
    moment = ephemeris.moment(DRY_PAN, utc)
    told = TELLERS["pole"](Evening(load_catalogue(), moment, Conditions.at(DRY_PAN)))
    sun_deg = moment.body("sun").altitude_airless_deg
    if isinstance(told, Waiting):
        assert sun_deg > -12.0
    else:
        assert told.azimuth_deg == pytest.approx(180.0, abs=25.0)
