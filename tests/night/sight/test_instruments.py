"""Instruments, their views, and what no instrument can be."""

from dataclasses import replace

import pytest
from hypothesis import given, strategies as st

from companion.advice import AdviceError
from companion.finding import Eyepiece, Instrument, InstrumentKind
from companion.night.sight.instruments import eye, find_instrument, ready_instruments
from companion.night.sight.observer import Conditions, Observer, Practice
from companion.night.sight.star_limit import star_limit
from companion.night.sight.views import usual_views, views_of

OBSERVER = Observer()


def test_the_ready_ones_grow_in_reach_and_resolution() -> None:
    best = []
    for instrument in ready_instruments():
        views = views_of(instrument, OBSERVER)
        assert [v.magnification for v in views] == sorted(v.magnification for v in views)
        best.append(max(float(star_limit(view, 21.5, OBSERVER)) for view in views))
    practised = Observer(practice=Practice.LONG)
    (by_eye,) = views_of(find_instrument("eye"), practised)
    # Bortle 2001, class 3, from memory.
    assert 6.6 <= float(star_limit(by_eye, 21.5, practised)) <= 7.0
    assert best[1:] == sorted(best[1:])
    assert best[0] < best[1] - 3.0


def test_the_optics_of_a_telescope() -> None:
    view = views_of(find_instrument("150 mm f/8"), OBSERVER)[1]
    assert view.name == "25 mm"
    assert view.magnification == pytest.approx(48.0)
    assert view.exit_pupil_mm == pytest.approx(3.125)
    assert view.field_deg == pytest.approx(52.0 / 48.0)
    assert view.resolution_arcsec == pytest.approx(90.0 / 48.0)
    highest = views_of(find_instrument("150 mm f/8"), OBSERVER)[-1]
    assert highest.resolution_arcsec == pytest.approx(116.0 / 150.0)


def test_a_field_stop_says_more_than_the_apparent_field() -> None:
    view = views_of(find_instrument("150"), OBSERVER)[0]
    assert view.field_deg == pytest.approx(27.0 / 1200.0 * 57.29578)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("eye", "eye"),
        ("10x50", "10×50"),
        ("7 X 50", "7×50"),
        ("150", "150 mm f/8"),
        ("80", "80 mm f/5"),
    ],
)
def test_an_instrument_is_found_by_what_people_type(text: str, name: str) -> None:
    assert find_instrument(text).name == name


def test_own_instruments_come_first_and_unknown_ones_are_listed() -> None:
    own = replace(find_instrument("150"), name="10x50 of my aunt")
    assert find_instrument("10x50 of", (own,)) is own
    with pytest.raises(AdviceError, match="No instrument is called “400”") as told:
        find_instrument("400")
    assert "150 mm f/8" in told.value.do


@given(st.floats(5.0, 110.0), st.floats(0.0, 40.0))
def test_pupils_shrink_with_age(age: float, more: float) -> None:
    younger, older = Observer(age), Observer(min(age + more, 110.0))
    assert older.dark_pupil_mm <= younger.dark_pupil_mm <= 7.0
    assert eye(older).aperture_mm <= eye(younger).aperture_mm


def test_practice_and_pupil_move_the_limit() -> None:
    limits = [
        float(star_limit(views_of(eye(o), o)[0], 21.5, o))
        for o in (Observer(practice=p) for p in (Practice.NEW, Practice.SOME, Practice.LONG))
    ]
    assert limits == sorted(limits)
    assert Observer(pupil_mm=5.5).dark_pupil_mm == 5.5


@pytest.mark.parametrize(
    ("change", "text"),
    [
        ({"aperture_mm": 0.0}, "aperture of 0 mm"),
        ({"aperture_mm": float("nan")}, "aperture of nan"),
        ({"aperture_mm": -50.0}, "aperture of -50"),
        ({"obstruction_mm": 150.0}, "not less than its"),
        ({"transmission": 0.0}, "transmission of 0"),
        ({"focal_mm": 0.0}, "focal length of 0"),
        ({"magnification": 0.0}, "magnification of 0"),
        ({"eyepieces": (Eyepiece("none", 0.0),)}, "no focal length"),
    ],
)
def test_what_no_instrument_can_be_is_refused(change: dict[str, object], text: str) -> None:
    bad = replace(find_instrument("150"), **change)  # type: ignore[arg-type]
    with pytest.raises(AdviceError, match=text) as told:
        views_of(bad, OBSERVER)
    assert told.value.do


@pytest.mark.parametrize("values", [{"age_years": 2.0}, {"pupil_mm": 0.0}, {"pupil_mm": 12.0}])
def test_nobody_has_such_eyes(values: dict[str, float]) -> None:
    with pytest.raises(AdviceError, match="outside"):
        Observer(**values)  # type: ignore[arg-type]


@pytest.mark.parametrize("values", [{"extinction_mag": 0.0}, {"seeing_arcsec": 100.0}])
def test_no_night_is_like_that(values: dict[str, float]) -> None:
    with pytest.raises(AdviceError, match="outside"):
        Conditions(**values)  # type: ignore[arg-type]


def test_a_telescope_without_eyepieces_gets_the_usual_powers() -> None:
    bare = Instrument("bare", InstrumentKind.TELESCOPE, 120.0, focal_mm=900.0)
    assert views_of(bare, OBSERVER) == usual_views(bare, OBSERVER)
    assert views_of(bare, OBSERVER)[0].exit_pupil_mm == pytest.approx(6.0)
