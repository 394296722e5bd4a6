import pytest
from hypothesis import given, strategies as st

from companion.advice import AdviceError
from companion.sky.direction import parse_direction

ORION = (83.8250, -5.3833)


@pytest.mark.parametrize(
    "text",
    [
        "05 35.3 -05 23",
        "5 35.3 −5 23",
        "05:35:18 -05:23:00",
        "5h35m18s -5d23m",
        "5h35m18s −5°23′00″",
        "05h 35.3m, -05° 23'",
        "RA 5h35.3m Dec -5°23'",
        "83.825 -5.3833 deg",
        "83.825 -5.3833",
        "83.825, -5.3833",
        "83,825 -5,3833",
        "83.825° -5.3833°",
        "5.588333h -5.3833",
    ],
)
def test_usual_notations(text: str) -> None:
    assert parse_direction(text) == pytest.approx(ORION, abs=2e-4)


@pytest.mark.parametrize("text", ["05 35.3 05 23", "05 35 18 05 23 00", "5h35m18s 5d23m"])
def test_a_missing_sign_is_plus_where_the_parts_are_clear(text: str) -> None:
    assert parse_direction(text) == pytest.approx((83.825, 5.3833), abs=2e-4)


def test_minus_zero_degrees_is_south() -> None:
    assert parse_direction("00 00 -00 30") == pytest.approx((0.0, -0.5))


@pytest.mark.parametrize(
    "text",
    [
        *("", "m 31", "61 cyg", "7000", "5 35", "ngc 224", "05 35.3 -", "3c 273", "-5 35"),
        *("5h -5h", "nan nan", "1e5 -5", "+", "5" * 10_000),
    ],
)
def test_other_texts_are_no_position(text: str) -> None:
    assert parse_direction(text) is None


@pytest.mark.parametrize("text", ["05 35.3 -95 23", "25 35 -5 10", "5 75 -5 10", "370.5 -5.2 deg"])
def test_a_position_outside_the_sky_is_refused(text: str) -> None:
    with pytest.raises(AdviceError, match=r"not in the sky.*Give it like"):
        parse_direction(text)


@given(st.integers(0, 86_399), st.integers(-324_000, 324_000))
def test_sexagesimal_round_trip(ra_s: int, dec_arcsec: int) -> None:
    minutes, seconds = divmod(ra_s, 60)
    dec_minutes, dec_seconds = divmod(abs(dec_arcsec), 60)
    sign = "-" if dec_arcsec < 0 else "+"
    text = f"{minutes // 60}h{minutes % 60}m{seconds}s "
    text += f"{sign}{dec_minutes // 60}°{dec_minutes % 60}′{dec_seconds}″"
    assert parse_direction(text) == pytest.approx((ra_s / 240.0, dec_arcsec / 3600.0), abs=1e-9)


@given(st.text(max_size=200))
def test_no_text_breaks_it(text: str) -> None:
    try:
        found = parse_direction(text)
    except AdviceError:
        return
    assert found is None or (0.0 <= found[0] < 360.0 and -90.0 <= found[1] <= 90.0)
