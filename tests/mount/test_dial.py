import contextlib
import math

import pytest
from hypothesis import assume, given, strategies as st

from companion.advice import AdviceError
from companion.mount import (
    CountedFrom,
    Dial,
    angle_of,
    checked_reading,
    is_on_dial,
    parse_reading,
    reading_of,
    shown,
)
from companion.mount.dial import readings_of

ROUND = Dial()
SIGNED = Dial(low_deg=-180.0, high_deg=180.0)
QUADRANT = Dial(low_deg=0.0, high_deg=90.0, step_deg=0.5)
ZENITH = Dial(low_deg=0.0, high_deg=90.0, counted_from=CountedFrom.ZENITH)

dials = st.builds(
    Dial,
    clockwise=st.booleans(),
    zero_deg=st.floats(-360.0, 360.0),
    low_deg=st.sampled_from([0.0, -180.0, -90.0]),
    high_deg=st.just(360.0),
    counted_from=st.sampled_from(CountedFrom),
)


@given(dials, st.floats(-180.0, 179.999))
def test_an_angle_comes_back_from_its_reading(dial: Dial, angle_deg: float) -> None:
    reading = reading_of(dial, angle_deg)
    assert is_on_dial(dial, reading)
    back = angle_of(dial, reading)
    assert math.isclose(math.cos(math.radians(back - angle_deg)), 1.0, abs_tol=1e-12)


@given(dials, st.lists(st.floats(-720.0, 720.0)))
def test_many_readings_are_those_of_each(dial: Dial, angles_deg: list[float]) -> None:
    assert readings_of(dial, angles_deg) == [reading_of(dial, angle) for angle in angles_deg]


@pytest.mark.parametrize(
    ("dial", "angle", "reading"),
    [
        (ROUND, -90.0, 270.0),
        (Dial(clockwise=False), 90.0, 270.0),
        (Dial(zero_deg=10.0), 355.0, 5.0),
        (SIGNED, 270.0, -90.0),
        (ZENITH, 30.0, 60.0),
        (Dial(low_deg=-90, high_deg=90, clockwise=False), 30.0, -30.0),
        (QUADRANT, -5.0, -5.0),  # not on the dial, but near to it
    ],
)
def test_readings_follow_the_dial(dial: Dial, angle: float, reading: float) -> None:
    assert reading_of(dial, angle) == pytest.approx(reading)


@pytest.mark.parametrize(
    ("dial", "reading", "text", "remainder"),
    [
        (ROUND, 142.55, "142½", ""),
        (ROUND, 142.6, "142½", "a hair over"),
        (ROUND, 142.4, "142½", "a hair under"),
        (ROUND, 142.7, "142½", "a little over"),
        (ROUND, 359.9, "0", "a hair under"),
        (SIGNED, -0.45, "−½", ""),
        (Dial(step_deg=5.0), 141.0, "140", "a little over"),
        (Dial(step_deg=0.1, digital=True), 41.28, "41.3", ""),
        (Dial(step_deg=0.1, digital=True), 41.26, "41.3", ""),
    ],
)
def test_a_reading_is_shown_as_the_dial_can(
    dial: Dial, reading: float, text: str, remainder: str
) -> None:
    found = shown(dial, reading)
    assert (found.text, found.remainder) == (text, remainder)


@given(st.floats(0.0, 359.99), st.sampled_from([0.1, 0.2, 0.5, 1.0, 2.0, 5.0]), st.booleans())
def test_what_is_shown_can_be_typed_back(reading: float, step: float, digital: bool) -> None:
    dial = Dial(step_deg=step, digital=digital)
    found = shown(dial, reading)
    assert parse_reading(dial, found.text) == pytest.approx(found.reading_deg, abs=1e-9)
    away = (found.reading_deg - reading + 180.0) % 360.0 - 180.0
    assert abs(away) <= step / 2.0 + 1e-9


@pytest.mark.parametrize(
    "text",
    [
        "142½",
        "142 1/2",
        "142.5",
        "142,5",
        "142°30′",
        "142°30'",
        "142:30",
        " 142° 30' 0\" ",
        "+142½°",
    ],
)
def test_readings_are_typed_in_many_ways(text: str) -> None:
    assert parse_reading(ROUND, text) == 142.5


@given(st.integers(0, 359), st.integers(0, 59), st.integers(0, 59))
def test_minutes_and_seconds_add_up(whole: int, minutes: int, seconds: int) -> None:
    text = f"{whole}°{minutes:02d}′{seconds:02d}″"
    assert parse_reading(ROUND, text) == pytest.approx(whole + minutes / 60 + seconds / 3600)


@pytest.mark.parametrize(("text", "value"), [("−3½", -3.5), ("-0°30′", -0.5), ("¼", 0.25)])
def test_small_and_negative_readings(text: str, value: float) -> None:
    assert parse_reading(SIGNED, text) == value


@pytest.mark.parametrize(
    "text",
    [
        "",
        "north",
        "1e2",
        "nan",
        "141/2",
        "14.5 1/2",
        "10 3/2",
        "12°60′",
        "1 2 3 4",
        "9" * 100,
        "1\n2",
    ],
)
def test_what_is_no_number_is_refused(text: str) -> None:
    with pytest.raises(AdviceError, match="not a valid azimuth reading") as caught:
        parse_reading(ROUND, text)
    assert caught.value.kept == "The reading before is kept."
    assert "142½" in caught.value.do


@given(st.text(max_size=80))
def test_no_text_breaks_it(text: str) -> None:
    with contextlib.suppress(AdviceError):
        assert -180.0 <= parse_reading(SIGNED, text) <= 180.0


def test_a_reading_beyond_the_dial_is_refused_with_its_range() -> None:
    with pytest.raises(AdviceError, match="not on this dial, which goes from 0° to 90°"):
        parse_reading(QUADRANT, "97", "altitude")
    with pytest.raises(AdviceError, match="nan"):
        checked_reading(ROUND, math.nan)
    assert checked_reading(ROUND, 360.0) == 0.0
    assert checked_reading(SIGNED, 180.0) == -180.0


@given(st.floats(-1000, 1000), st.floats(1.0, 359.0), st.floats(-400.0, 400.0))
def test_a_narrow_dial_never_shows_what_it_has_not(low: float, width: float, angle: float) -> None:
    dial = Dial(low_deg=low, high_deg=low + width)
    reading = reading_of(dial, angle)
    assume(not is_on_dial(dial, reading))
    # Then no other whole turn is on the dial either.
    assert not any(is_on_dial(dial, reading + 360.0 * k) for k in range(-4, 5))
