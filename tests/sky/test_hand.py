"""Lengths told by one's own hand."""

from collections.abc import Iterator

import pytest

from companion.advice import AdviceError
from companion.sky import HAND, USUAL_FIST_DEG, as_fists, fists_text


@pytest.fixture(autouse=True)
def usual() -> Iterator[None]:
    yield
    HAND.use(USUAL_FIST_DEG)


@pytest.mark.parametrize(
    ("fist_deg", "angle_deg", "words"),
    [
        (10.0, 20.0, "two fists"),
        (8.0, 20.0, "two and a half fists"),
        (12.5, 20.0, "a fist and a half"),
        (8.0, 0.9, "a finger"),
        (8.0, 1.7, "two fingers"),
        (10.0, 1.7, "two fingers"),
        (12.5, 1.7, "a finger"),
        (8.0, 2.0, "a quarter of a fist"),
    ],
)
def test_the_same_angle_is_more_fists_for_a_smaller_hand(
    fist_deg: float, angle_deg: float, words: str
) -> None:
    HAND.use(fist_deg)
    assert fists_text(angle_deg) == words


@pytest.mark.parametrize("fist_deg", [8.0, 9.4, 10.0, 12.0])
def test_what_is_said_is_within_an_eighth_of_a_fist_of_the_truth(fist_deg: float) -> None:
    HAND.use(fist_deg)
    for tenths in range(30, 900):
        assert abs(as_fists(tenths / 10.0) - tenths / 10.0) <= fist_deg / 8.0 + 1e-9


@pytest.mark.parametrize("fist_deg", [3.0, 17.0, float("nan"), -10.0])
def test_no_fist_is_so(fist_deg: float) -> None:
    with pytest.raises(AdviceError, match="width of a fist"):
        HAND.use(fist_deg)
    assert HAND.fist_deg == USUAL_FIST_DEG
