"""The person's own hours, over midnight, over a change of clocks, and in the list."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from companion.advice import AdviceError
from companion.night.choose.candidates import Candidates
from companion.night.choose.tonight import TonightRequest, rank_tonight
from companion.night.hours.my_hours import MyHours
from companion.night.sight.instruments import find_instrument
from companion.night.sight.observer import Conditions
from companion.sky import LOON_BARRENS, Ephemeris, zone_of

HALIFAX = zone_of("America/Halifax")  # UTC-3 in summer, UTC-4 in winter
MIDDLE = datetime(2026, 10, 11, 3, 55, tzinfo=UTC)


def hours(*times: str) -> MyHours:
    found = MyHours.of(times)
    assert found is not None
    return found


def test_the_setting_goes_round() -> None:
    assert MyHours.of(()) is None
    assert hours("20:30", "00:30").times == ("20:30", "00:30")
    assert hours("4:05", "5:00").words == "04:05 to 05:00"


@pytest.mark.parametrize("times", [("20:30", "20:30"), ("20:30", "25:00"), ("soon", "late")])
def test_no_hours_are_refused(times: tuple[str, str]) -> None:
    with pytest.raises(AdviceError, match="such as 20:30 and 00:30"):
        MyHours.of(times)


@pytest.mark.parametrize(
    ("times", "begins", "ends"),
    [
        (("20:30", "00:30"), (10, 23, 30), (11, 3, 30)),
        (("20:30", "23:00"), (10, 23, 30), (11, 2, 0)),
        (("01:00", "05:00"), (11, 4, 0), (11, 8, 0)),
    ],
)
def test_hours_belong_to_one_night(
    times: tuple[str, str], begins: tuple[int, int, int], ends: tuple[int, int, int]
) -> None:
    assert hours(*times).of_night(MIDDLE, HALIFAX) == tuple(
        datetime(2026, 10, *when, tzinfo=UTC) for when in (begins, ends)
    )


def test_the_night_of_a_clock_change_is_an_hour_longer() -> None:
    # Clocks go back on 2026-11-01 at 02:00 (IANA time zone database).
    begins, ends = hours("22:00", "06:00").of_night(MIDDLE + timedelta(days=21), HALIFAX)
    assert ends - begins == timedelta(hours=9)


def test_the_list_keeps_to_the_hours(ephemeris: Ephemeris, candidates: Candidates) -> None:
    asked = TonightRequest(
        LOON_BARRENS, MIDDLE, find_instrument("10x50"), Conditions.at(LOON_BARRENS)
    )
    early = hours("20:30", "23:00")
    rows = rank_tonight(ephemeris, candidates, replace(asked, hours=early)).rows
    begins, ends = early.of_night(MIDDLE, HALIFAX)
    assert rows
    assert all(begins <= row.opens_utc <= row.closes_utc <= ends for row in rows)
    by_day = replace(asked, hours=hours("12:00", "14:00"))
    assert "within your hours, 12:00 to 14:00" in rank_tonight(ephemeris, candidates, by_day).words
