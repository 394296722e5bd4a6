"""The sky of a visitors' sheet: it looks to the group, and a line leads to each end."""

from datetime import UTC, datetime

import numpy as np
import pytest

from companion.charts import sheet_sky
from companion.finding import seen_vectors
from companion.night import Conditions
from companion.sky import LOON_BARRENS, Ephemeris, load_catalogue

SPRING = datetime(2027, 4, 11, 1, 0, tzinfo=UTC)


@pytest.mark.parametrize("names", [("Arcturus", "Spica"), ("Polaris",)])
def test_a_line_leads_to_each_end_in_its_order(names: tuple[str, ...]) -> None:
    catalogue, ephemeris = load_catalogue(), Ephemeris.load()
    found = sheet_sky(
        ephemeris,
        catalogue,
        (LOON_BARRENS, SPRING),
        Conditions.at(LOON_BARRENS),
        ("dipper", names),
    )
    moment = ephemeris.moment(LOON_BARRENS, SPRING)
    assert found.way is not None
    assert len(found.lasts) == len(names)
    hips = {"Arcturus": 69673, "Spica": 65474, "Polaris": 11767}
    for name, line in zip(names, found.lasts, strict=True):
        star = catalogue.stars.row(hips[name])
        assert star is not None
        ra, dec = (
            np.radians(column[star]) for column in (catalogue.stars.ra_deg, catalogue.stars.dec_deg)
        )
        where = moment.horizontal_of(
            np.array([[np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)]])
        )
        there = seen_vectors(float(where.azimuth_deg[0]), float(where.altitude_deg[0]))
        assert np.degrees(np.arccos(np.clip(line[-1] @ there, -1, 1))) < 6.5
        assert np.degrees(np.arccos(np.clip(found.centre @ there, -1, 1))) <= found.reach_deg + 0.1
        # However a way bends, its line is one that the eye can follow: it leaps nowhere.
        steps = np.linalg.norm(np.diff(line, axis=0), axis=1)
        assert np.degrees(steps.max()) < 5.0
    ephemeris.close()


def test_without_a_group_it_looks_to_the_south() -> None:
    ephemeris = Ephemeris.load()
    place, conditions = (LOON_BARRENS, SPRING), Conditions.at(LOON_BARRENS)
    found = sheet_sky(ephemeris, load_catalogue(), place, conditions, ("", ()))
    ephemeris.close()
    assert found.way is None
    assert found.lasts == ()
    assert found.centre @ seen_vectors(180.0, 32.0) == pytest.approx(1.0)
