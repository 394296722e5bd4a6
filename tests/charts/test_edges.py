"""What stands at the edge of a chart: drawn while a part of it reaches into the area."""

from datetime import UTC, datetime
from itertools import pairwise

import numpy as np
import pytest

from companion.charts import ChartKind, ChartView, SkyFrame, SkyFrameMaker, lens_of, scene_of
from companion.finding import ViewFrame
from companion.instant import Choices
from companion.sky import LOON_BARRENS, Ephemeris, load_catalogue

UTC_DARK = datetime(2026, 10, 11, 2, tzinfo=UTC)
UP = np.array([0.0, 0.0, 1.0])
SIDE = 900.0
SCALE = 100.0  # pixels to a degree


@pytest.fixture(scope="module")
def sky() -> SkyFrame:
    target = load_catalogue().target("ngc:NGC0224")
    maker = SkyFrameMaker(Ephemeris.load(), load_catalogue())
    return maker.frame(Choices(1, LOON_BARRENS, target=target), UTC_DARK)


@pytest.mark.parametrize(
    ("lengths", "drawn"), [(0.3, True), (-0.3, True), (-0.45, True), (-0.55, False), (-1.1, False)]
)
def test_a_galaxy_is_drawn_while_half_its_length_reaches_in(
    sky: SkyFrame, lengths: float, drawn: bool
) -> None:
    """M 31, three degrees long, with its middle so many lengths inside the left edge."""
    assert sky.target is not None
    there = sky.target.vector
    right = lengths * (load_catalogue().target("ngc:NGC0224").major_arcmin or 0.0) / 60.0 * SCALE
    level = np.cross(there, UP) / np.linalg.norm(np.cross(there, UP))  # up in both views alike
    about = ChartView(ViewFrame(there, level), SIDE, SIDE, SCALE)
    centre = about.direction(about.middle + np.array([SIDE / 2.0 - right, 0.0]))
    view = ChartView(ViewFrame(centre, level), SIDE, SIDE, SCALE)
    assert view.places(there)[0] == pytest.approx(right, abs=2.0)
    scene = scene_of(sky, view, lens_of(sky, ChartKind.FINDER))
    assert ("M 31" in {sign.name for sign in scene.signs}) is drawn


def test_brighter_planets_are_drawn_larger(sky: SkyFrame) -> None:
    """Each as large as its brightness asks for, on a chart that is too small for their discs."""
    sizes = {}
    for body in sky.bodies:
        if body.body in {"sun", "moon"} or body.vector[2] < 0.0 or body.magnitude is None:
            continue
        view = ChartView(ViewFrame(body.vector, UP), SIDE, SIDE, 10.0)
        discs = scene_of(sky, view, lens_of(sky, ChartKind.WIDE)).discs
        (own,) = [disc for disc in discs if disc.body.body == body.body]
        sizes[body.magnitude] = own.radius
    assert len(sizes) >= 3
    radii = [sizes[magnitude] for magnitude in sorted(sizes)]
    assert all(larger > smaller for larger, smaller in pairwise(radii))
