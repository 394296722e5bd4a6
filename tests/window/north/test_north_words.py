"""Texts of the screen of north."""

from dataclasses import replace
from typing import Any

import pytest
from window.facts import NORTH, SATURN, aim, snapshot

from companion.instant import CompassZone
from companion.sky import DRY_PAN
from companion.window.north import words as north_words


def test_what_the_compass_must_read() -> None:
    assert north_words.compass_north(NORTH) == "16"
    assert north_words.compass_target(NORTH, aim(), frozenset()) == "187½"
    assert north_words.compass_target(NORTH, None, frozenset()) == ""
    near = aim(sun_danger=True)
    assert north_words.compass_target(NORTH, near, frozenset()) == ""
    assert "WITHHELD" in north_words.target_caption(near, frozenset())
    assert north_words.compass_target(NORTH, near, frozenset({SATURN.key})) == "187½"


@pytest.mark.parametrize(
    ("changes", "caption", "value", "more"),
    [
        ({}, "MAGNETIC DECLINATION", "16.2° west", "± 0.4° · WMM2025, valid to 2030.0"),
        ({"declination_deg": 3.04}, "MAGNETIC DECLINATION", "3.0° east",
         "± 0.4° · WMM2025, valid to 2030.0"),
        ({"declination_deg": None}, "MAGNETIC DECLINATION", "none worth using",
         "WMM2025, valid to 2030.0"),
        ({}, "IT CHANGES", "0.12° a year", "to the east"),
        ({"yearly_change_deg": -0.05}, "IT CHANGES", "0.05° a year", "to the west"),
        ({}, "DEVIATION OF THIS COMPASS", "not measured", "press shift d towards a known body"),
        ({"deviation_deg": -1.5}, "DEVIATION OF THIS COMPASS", "−1.5°", "x forgets it"),
        ({}, "POLARIS", "45.5° up", "0.4° east of true north"),
        ({"polaris_azimuth_deg": 359.3}, "POLARIS", "45.5° up", "0.7° west of true north"),
        ({}, "AS A NORTH IT IS", "12 times better", "than the compass"),
        ({"polaris_gain": 1.6}, "AS A NORTH IT IS", "2 times better", "than the compass"),
        ({"polaris_gain": 0.9}, "AS A NORTH IT IS", "about as good", "as the compass"),
        ({"polaris_gain": 0.2}, "AS A NORTH IT IS", "worse", "than the compass"),
        ({"shadow_azimuth_deg": 88.2}, "SHADOW OF A PLUMB LINE", "88.2°", "never look at the Sun"),
    ],
)  # fmt: skip
def test_facts_of_north(changes: dict[str, Any], caption: str, value: str, more: str) -> None:
    made = {fact.caption: fact for fact in north_words.facts(replace(NORTH, **changes))}
    assert (made[caption].value, made[caption].more) == (value, more)


@pytest.mark.parametrize(
    ("changes", "head", "text"),
    [
        ({}, "", ""),
        ({"zone": CompassZone.BLACKOUT, "horizontal_nt": 1400.0, "declination_deg": None},
         "A compass is of no use here.", "1,400 nT"),
        ({"zone": CompassZone.CAUTION, "horizontal_nt": 4200.0},
         "Trust the compass little here.", "4,200 nT"),
        ({"expired": True}, "The magnetic model has run out.", "by Polaris"),
        ({"polaris_azimuth_deg": None, "polaris_altitude_deg": None, "polaris_gain": None},
         "Polaris is below the horizon.", "sighting a star or planet"),
        ({"polaris_altitude_deg": None, "shadow_azimuth_deg": 88.0},
         "Polaris is below the horizon.", "Never look at the Sun"),
    ],
)  # fmt: skip
def test_what_makes_north_doubtful(changes: dict[str, Any], head: str, text: str) -> None:
    notice = north_words.notice(snapshot(site=DRY_PAN, north=replace(NORTH, **changes)))
    assert notice.head == head
    assert text in notice.text
