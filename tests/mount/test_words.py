from dataclasses import replace

import numpy as np
import pytest

from companion.mount import (
    Aim,
    compass_sighting,
    field_words,
    fit,
    level_sighting,
    parameter_words,
    trust_words,
    undetermined_words,
)
from companion.mount.model import PARAMETERS
from mount.simulated import START, mount_of, sighting_of

MOUNT = mount_of()
NOTHING = np.zeros(7)


def aim_with(sigma_deg: float) -> Aim:
    covariances = np.eye(2)[None] * sigma_deg**2
    return Aim(10.0, 20.0, 2.45 * sigma_deg, 2.45 * sigma_deg, np.ones(1), covariances)


FIELDS = [("25 mm", 1.0), ("finder", 5.0)]


@pytest.mark.parametrize(
    ("sigma", "words"),
    [
        (0.1, "in the finder over 99%, in the 25 mm over 99%: start with the 25 mm"),
        (0.3, "in the finder over 99%, in the 25 mm 75%: start with the finder"),
        (0.8, "in the finder 99%, in the 25 mm 18%: start with the finder"),
        (2.0, "in the finder 54%, in the 25 mm 3%: start with the finder and sweep 4.9° around"),
    ],
)
def test_the_radius_chooses_where_to_start(sigma: float, words: str) -> None:
    assert field_words(aim_with(sigma), FIELDS) == words


def test_of_many_fields_two_are_named_and_no_chance_before_there_is_an_aim() -> None:
    many = [("finder", 6.0), ("32 mm", 1.3), ("25 mm", 1.1), ("9 mm", 0.4)]
    words = field_words(aim_with(0.3), many)
    assert words == "in the finder over 99%, in the 32 mm 90%: start with the finder"
    assert field_words(aim_with(0.05), many).startswith("in the 25 mm over 99%, in the 9 mm")
    assert field_words(aim_with(40.0), many) == "not aligned yet: sight a bright star first"


def test_without_fields_the_radius_alone_is_said() -> None:
    assert field_words(aim_with(0.2), []) == "95% within 29′"


def test_trust_is_said_in_words() -> None:
    stars = [sighting_of(MOUNT, NOTHING, a, 40.0, number=i) for i, a in enumerate((10, 120, 250))]
    assert trust_words(fit(MOUNT, stars), 0.32) == "aligned on 3 stars, 95% of aims within 19′"
    aside = [stars[0], replace(stars[1], set_aside=True)]
    assert trust_words(fit(MOUNT, aside), 1.1) == "aligned on 1 star, 95% of aims within 1.1°"
    assert trust_words(fit(MOUNT, aside), None) == "aligned on 1 star"
    weak = [compass_sighting(START, 0.0), level_sighting(START, 0.0)]
    assert trust_words(fit(MOUNT, weak), 4.0) == "by compass, level only, 95% of aims within 4.0°"
    for radius in (None, 144.0):
        assert trust_words(fit(MOUNT, []), radius) == "not aligned: sight a bright star"
    assert trust_words(fit(MOUNT, []), 5.0) == "by the set-up only, 95% of aims within 5.0°"


def test_what_is_not_known_is_said() -> None:
    words = undetermined_words(fit(MOUNT, [sighting_of(MOUNT, NOTHING, 10.0, 40.0)]))
    assert words.startswith("Not known yet: tilt towards ")
    assert words.endswith(" and sag of the tube. Held at what is usual.")
    fine = mount_of(0.001, 0.001)
    places = [(a, e) for a in range(0, 360, 30) for e in (20.0, 45.0, 70.0)]
    assert undetermined_words(fit(fine, [sighting_of(fine, NOTHING, *p) for p in places])) == ""


def test_every_parameter_has_words() -> None:
    assert len({parameter_words(name) for name in PARAMETERS}) == len(PARAMETERS)
