import contextlib
from datetime import UTC, datetime, time, timedelta

import pytest
from hypothesis import given, strategies as st

from companion.advice import AdviceError
from companion.sky import (
    parse_latitude,
    parse_longitude,
    parse_place,
    parse_time,
    twice_words,
    zone_of,
)


@pytest.mark.parametrize(
    "text",
    [
        "45.2",
        "45.2N",
        "N45.2",
        "+45.2",
        "45,2",
        "45°12′N",
        "45° 12' 0\" N",
        "45 12",
        "45d12m0s",
        "45 deg 12 min north",
        " 45.20 n ",
    ],
)
def test_a_latitude_in_any_usual_notation(text: str) -> None:
    assert parse_latitude(text) == pytest.approx(45.2, abs=1e-9)


@pytest.mark.parametrize("text", ["-62.3", "62.3W", "62°18′W", "297.7", "W 62 18 00", "−62.3"])
def test_a_longitude_in_any_usual_notation(text: str) -> None:
    assert parse_longitude(text) == pytest.approx(-62.3, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("91", "outside -90° to 90°"),
        ("-45.2S", "minus sign and the letter S"),
        ("-45.2N", "minus sign and the letter N"),
        ("", "is not a valid latitude"),
        ("nan", "is not a valid latitude"),
        ("1e5", "is not a valid latitude"),
        ("45 61", "60 or more"),
        ("45.5 30", "decimals before the end"),
        ("45.2'; DROP TABLE site;--", "is not a valid latitude"),
        ("9" * 10_000_000, "is not a valid latitude"),
        ("45.2NN", "is not a valid latitude"),
    ],
)
def test_a_bad_latitude_says_what_was_wrong_and_what_was_kept(text: str, words: str) -> None:
    with pytest.raises(AdviceError) as caught:
        parse_latitude(text)
    assert words in caught.value.wrong
    assert "kept" in caught.value.kept
    assert len(str(caught.value)) < 300


def test_longitude_400_is_refused() -> None:
    with pytest.raises(AdviceError, match="outside -180° to 180°"):
        parse_longitude("400")


@pytest.mark.parametrize(
    ("text", "place"),
    [
        # The forms of ISO 6709:2008, annex H: degrees, minutes, seconds, height.
        ("+45.20-062.30+120/", (45.2, -62.3, 120.0)),
        ("+4512-06218/", (45.2, -62.3, None)),
        ("+451200-0621800/", (45.2, -62.3, None)),
        ("-3224.0+02048.0+1500CRSWGS_84/", (-32.4, 20.8, 1500.0)),
        ("45.2N 62.3W", (45.2, -62.3, None)),
        ("45.2, -62.3", (45.2, -62.3, None)),
        ("62.3W, 45.2N", (45.2, -62.3, None)),
        ("45°12′N, 62°18′W", (45.2, -62.3, None)),
        ("45,2N 62,3W", (45.2, -62.3, None)),
    ],
)
def test_a_place_in_one_line(text: str, place: tuple[float, float, float | None]) -> None:
    latitude, longitude, height = parse_place(text)
    assert (latitude, longitude) == pytest.approx(place[:2], abs=1e-9)
    assert height == place[2]


@pytest.mark.parametrize("text", ["", "nowhere", "45.2", "+91-062/", "1 2 3 4 5 6 7"])
def test_no_place(text: str) -> None:
    with pytest.raises(AdviceError):
        parse_place(text)


@given(st.floats(-90, 90), st.floats(-180, 180))
def test_iso_6709_round_trip(latitude: float, longitude: float) -> None:
    text = f"{latitude:+09.5f}{longitude:+010.5f}/"
    read = parse_place(text)
    assert read[:2] == pytest.approx((latitude, longitude), abs=1e-5)


@given(st.text(max_size=60))
def test_whatever_is_typed_is_read_or_refused_in_words(text: str) -> None:
    for parse in (parse_latitude, parse_longitude, parse_place):
        with contextlib.suppress(AdviceError):
            parse(text)


def test_time_without_offset_is_the_sites_own() -> None:
    moment = parse_time("2026-10-10T20:14", "America/Halifax")
    assert moment.astimezone(UTC) == datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
    assert parse_time("2026-10-10T23:14Z", "America/Halifax") == moment


def test_a_time_of_the_day_is_the_nearest_one() -> None:
    now = datetime(2026, 10, 11, 2, 30, tzinfo=UTC)  # half past eleven in the evening there
    moment = parse_time("0:30", "America/Halifax", now)
    assert moment.astimezone(UTC) == datetime(2026, 10, 11, 3, 30, tzinfo=UTC)


@pytest.mark.parametrize(
    ("text", "utc"),
    [
        ("23:30", datetime(2026, 10, 11, 2, 30, tzinfo=UTC)),  # an hour ago, on the day before
        ("1:30", datetime(2026, 10, 11, 4, 30, tzinfo=UTC)),
        ("12:00", datetime(2026, 10, 11, 15, 0, tzinfo=UTC)),
        ("13:00", datetime(2026, 10, 10, 16, 0, tzinfo=UTC)),
    ],
)
def test_past_midnight_the_evening_is_yesterdays(text: str, utc: datetime) -> None:
    now = datetime(2026, 10, 11, 3, 30, tzinfo=UTC)  # half past midnight there
    assert parse_time(text, "America/Halifax", now).astimezone(UTC) == utc


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("2026-11-01T01:30", "twice"),
        ("2026-03-08T02:30", "skip"),
        ("yesterday", "not a time"),
        ("25:00", "not a time"),
        ("21:00+23:60", "not an offset"),
        ("21:00+1430", "not an offset"),
        ("2026-13-01", "not a time"),
        ("0001-01-01T00:00+14:00", "outside the years"),
    ],
)
def test_a_bad_time_is_refused_in_words(text: str, words: str) -> None:
    # The clocks of that zone change at 2:00 on 8 March and 1 November 2026 (IANA time zone
    # database).
    with pytest.raises(AdviceError) as caught:
        parse_time(text, "America/Halifax", datetime(2026, 11, 25, tzinfo=UTC))
    assert words in caught.value.wrong


# The night of 31 October 2026 at Halifax: at 5:00 UTC the clocks go from 2:00 ADT to 1:00 AST.
_EVENING = datetime(2026, 10, 31, 23, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("text", "now", "ahead", "utc", "said"),
    [
        ("01:30", _EVENING, True, "04:30", "the first one, ADT, is taken"),
        ("01:30", _EVENING, False, "04:30", "type 01:30 AST"),
        ("01:30 AST", _EVENING, True, "05:30", "the second one, AST, is taken"),
        ("1.30 adt", _EVENING, True, "04:30", "type 01:30 AST"),
        ("01:30-04:00", _EVENING, True, "05:30", ""),
        ("05:30Z", _EVENING, True, "05:30", ""),
        # Between the two, the one that is still to come; after both, the nearer one.
        ("01:30", _EVENING.replace(day=1, month=11, hour=4, minute=40), True, "05:30", "second"),
        ("01:30", _EVENING.replace(day=1, month=11, hour=6), False, "05:30", "second"),
        ("02:30", _EVENING, True, "06:30", ""),
        ("00:30", _EVENING, True, "03:30", ""),
    ],
)
def test_an_hour_that_comes_twice_is_chosen_and_said(
    text: str, now: datetime, ahead: bool, utc: str, said: str
) -> None:
    local = parse_time(text, "America/Halifax", now, ahead=ahead)
    assert local.astimezone(UTC).isoformat() == f"2026-11-01T{utc}:00+00:00"
    assert said in twice_words(local)
    assert bool(said) == bool(twice_words(local))


def test_a_time_of_day_that_the_clocks_skip_is_asked_for_again() -> None:
    now = datetime(2026, 3, 8, 4, 0, tzinfo=UTC)  # midnight there; at two they go to three
    with pytest.raises(AdviceError, match=r"skip 2026-03-08 02:30.*02:30-04:00 or .*02:30-03:00"):
        parse_time("02:30", "America/Halifax", now, ahead=True)
    # A day before and after it is an hour like any other.
    for day, utc in ((7, 6), (9, 5)):
        moment = parse_time("02:30", "America/Halifax", now.replace(day=day), ahead=True)
        assert moment.astimezone(UTC) == datetime(2026, 3, day, utc, 30, tzinfo=UTC)


def test_a_name_of_another_time_is_refused() -> None:
    with pytest.raises(AdviceError, match="not a time of America/Halifax"):
        parse_time("21:30 PST", "America/Halifax", _EVENING)


@given(
    st.integers(0, 2 * 365 * 24 * 60).map(
        lambda minutes: datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=minutes)
    ),
    st.times(),
    st.booleans(),
    st.sampled_from(["America/Halifax", "Africa/Johannesburg", "Australia/Lord_Howe", "UTC"]),
)
def test_a_time_of_day_is_shown_by_the_clocks_within_a_day(
    now: datetime, clock: time, ahead: bool, zone: str
) -> None:
    text = f"{clock:%H:%M}"
    try:
        local = parse_time(text, zone, now, ahead=ahead)
    except AdviceError:
        return  # skipped
    utc = local.astimezone(UTC)
    assert f"{utc.astimezone(zone_of(zone)):%H:%M}" == text
    away_h = (utc - now).total_seconds() / 3600.0
    assert (0.0 < away_h <= 25.0) if ahead else (abs(away_h) <= 12.5)


@pytest.mark.parametrize("name", ["Mars/Olympus", "", "../../etc/passwd", "x" * 100_000])
def test_no_such_zone(name: str) -> None:
    with pytest.raises(AdviceError, match="not a time zone"):
        zone_of(name)
