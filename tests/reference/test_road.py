"""The road against the outside: where its first group stands, and the colours that it names."""

from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest
import skyfield_data
from skyfield.api import Star, load, load_file, wgs84

from companion.finding import find_group
from companion.night import Conditions
from companion.road import RoadRequest, road
from companion.sky import Ephemeris, Site, load_catalogue

# B - V of bright stars: Hoffleit & Warren, *The Bright Star Catalogue*, 5th ed. (from memory).
# Betelgeuse stands here with 1.85, in Hipparcos, which the catalogue is made from, with 1.50: it
# varies, and is orange by both.
COLOURS = {
    21421: 1.54, 80763: 1.83, 69673: 1.23, 24436: -0.03, 91262: 0.00, 65474: -0.23,
    32349: 0.00, 24608: 0.80, 37826: 1.00,
}  # fmt: skip
# A corner of each group that may come first, and where it is looked for: (latitude, longitude).
EVENINGS = [
    (60.0, 25.0, 1), (52.0, 13.0, 4), (45.2, -62.3, 7), (40.0, -105.0, 10), (28.0, -15.0, 2),
    (13.0, 77.0, 5), (0.0, 37.0, 8), (-16.0, -68.0, 11), (-23.0, -46.0, 3), (-32.4, 20.8, 6),
    (-38.0, 145.0, 9), (-45.0, 169.0, 12),
]  # fmt: skip


@pytest.mark.parametrize(("hip", "published"), COLOURS.items())
def test_colours_are_those_published(hip: int, published: float) -> None:
    assert load_catalogue().star(hip).colour_index == pytest.approx(published, abs=0.06)


def test_the_first_group_stands_where_skyfield_has_it(ephemeris: Ephemeris) -> None:
    """A plain skyfield computation of the group's stars, their middle to a degree and a half."""
    planets = load_file(str(Path(skyfield_data.__file__).parent / "data" / "de421.bsp"))
    scale = load.timescale(builtin=True)
    for latitude, longitude, month in EVENINGS:
        site = Site("somewhere", latitude, longitude)
        utc = datetime(2027, month, 10, 12, 0, tzinfo=UTC)
        found = road(ephemeris, load_catalogue(), RoadRequest(site, utc, Conditions.at(site)))
        step = next(one for one in found.doable if one.key == "own-group")
        group = find_group(step.subject)
        stars = [load_catalogue().star(hip) for hip in group.stars]
        at = (planets["earth"] + wgs84.latlon(latitude, longitude)).at(
            scale.from_datetime(found.utc)
        )
        seen = [
            at.observe(Star(ra_hours=(s.ra_deg or 0.0) / 15.0, dec_degrees=s.dec_deg))
            .apparent()
            .altaz()
            for s in stars
        ]
        alt = np.radians([one[0].degrees for one in seen])
        az = np.radians([one[1].degrees for one in seen])
        middle = np.array(
            [
                (np.cos(alt) * np.cos(az)).mean(),
                (np.cos(alt) * np.sin(az)).mean(),
                np.sin(alt).mean(),
            ]
        )
        high = np.degrees(np.arcsin(middle[2] / np.linalg.norm(middle)))
        assert step.look_altitude_deg is not None
        assert step.look_altitude_deg == pytest.approx(high, abs=1.5), (latitude, month)
    planets.close()
