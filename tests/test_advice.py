"""Values outside their range are refused in the same words everywhere."""

import math

import pytest

from companion.advice import AdviceError, check_within


@pytest.mark.parametrize("value", [-90.0, 0.0, 90.0])
def test_a_range_holds_its_ends(value: float) -> None:
    check_within("latitude", value, -90.0, 90.0, "°")


@pytest.mark.parametrize("value", [-90.001, 91.0, math.nan, math.inf])
def test_what_is_outside_is_refused_with_the_range(value: float) -> None:
    with pytest.raises(AdviceError) as refused:
        check_within("latitude", value, -90.0, 90.0, "°", kept="The place is kept.")
    assert refused.value.wrong == f"The latitude {value:g}° is outside -90° to 90°."
    assert refused.value.do == "Give a latitude within that range."
    assert refused.value.kept == "The place is kept."


def test_what_to_do_can_be_said_better() -> None:
    with pytest.raises(AdviceError, match="usual") as refused:
        check_within("seeing", 50.0, 0.3, 20.0, "″", do="2″ to 3″ is usual.")
    assert refused.value.do == "2″ to 3″ is usual."
