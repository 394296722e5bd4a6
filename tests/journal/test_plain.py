import json
import math
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum

import pytest
from hypothesis import given, strategies as st

from companion.finding import Instrument
from companion.journal import JournalError, from_plain, to_plain
from companion.mount import Mount, Sighting
from companion.sky import Site, Target


class Colour(StrEnum):
    RED = "red"
    BLACK = "black"


@dataclass(frozen=True)
class Inner:
    name: str
    colour: Colour = Colour.RED


@dataclass(frozen=True)
class Outer:
    number: float
    count: int
    sure: bool
    utc: datetime
    inner: Inner
    pair: tuple[float, str] = (1.0, "")
    points: tuple[tuple[float, float], ...] = ()
    maybe: Inner | None = None


OUTER = Outer(1.5, 2, True, datetime(2026, 10, 10, tzinfo=UTC), Inner("a"))
reals = st.floats(allow_nan=False, allow_infinity=False)
inners = st.builds(Inner, st.text(), st.sampled_from(Colour))
outers = st.builds(
    Outer,
    reals,
    st.integers(-(2**53), 2**53),
    st.booleans(),
    st.datetimes(timezones=st.just(UTC)),
    inners,
    st.tuples(reals, st.text()),
    st.lists(st.tuples(reals, reals)).map(tuple),
    st.none() | inners,
)
records = st.one_of(
    st.builds(Target),
    st.builds(Mount),
    st.builds(Instrument),
    st.builds(Sighting, utc=st.datetimes(timezones=st.just(UTC))),
    st.builds(
        Site,
        st.text(),
        st.floats(-90, 90),
        st.floats(-180, 180),
        st.floats(-500, 9000),
        horizon=st.lists(st.tuples(st.floats(0, 360), st.floats(-5, 90))).map(tuple),
        temperature_c=st.none() | st.floats(-90, 60),
        pressure_hpa=st.none() | st.floats(250, 1100),
        sky_brightness_mag_per_arcsec2=st.none() | st.floats(10, 23),
    ),
)


def _has_nan(record: object) -> bool:
    return "NaN" in json.dumps(to_plain(record)) or "Infinity" in json.dumps(to_plain(record))


@given(outers)
def test_records_come_back_from_json_as_they_were(record: Outer) -> None:
    assert from_plain(Outer, json.loads(json.dumps(to_plain(record)))) == record


@given(records.filter(lambda record: not _has_nan(record)))
def test_the_program_s_own_records_come_back(record: object) -> None:
    assert from_plain(type(record), json.loads(json.dumps(to_plain(record)))) == record


@pytest.mark.parametrize(
    ("field", "value", "wanted"),
    [
        ("number", "7", "a number"),
        ("number", True, "a number"),
        ("number", math.nan, "a finite number"),
        ("number", 10**400, "a finite number"),
        ("count", 1.5, "a whole number"),
        ("count", False, "a whole number"),
        ("sure", 1, "true or false"),
        ("utc", "yesterday", "a moment"),
        ("utc", "2026-10-10T00:00:00", "a moment"),
        ("utc", 3, "a moment"),
        ("inner", "x", "an object"),
        ("inner", {}, "a value"),
        ("inner", {"name": "x", "colour": "green"}, "red, black"),
        ("pair", [1.0], "2 values"),
        ("points", "1,2", "a list"),
        ("points", [[1.0, None]], "a number"),
    ],
)
def test_a_stranger_s_value_is_refused_by_name(field: str, value: object, wanted: str) -> None:
    with pytest.raises(JournalError) as caught:
        from_plain(Outer, to_plain(OUTER) | {field: value})
    assert wanted in caught.value.do


def test_unknown_keys_are_passed_over_and_missing_ones_have_their_default() -> None:
    assert from_plain(Inner, {"name": "a", "of a later version": 1}) == Inner("a")
    with pytest.raises(JournalError, match=r"Inner\.name"):
        from_plain(Inner, {})


def test_a_huge_value_is_shown_short() -> None:
    with pytest.raises(JournalError) as caught:
        from_plain(Inner, {"name": ["x" * 1000] * 1000})
    assert len(str(caught.value)) < 400


def test_what_is_no_record_is_our_own_fault() -> None:
    for value in (3, Inner, object()):
        with pytest.raises(TypeError, match="is not a record"):
            to_plain(value)
