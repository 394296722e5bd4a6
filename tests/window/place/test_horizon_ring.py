"""The horizon from above, on the screen of the place: what it shows, and where."""

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from window.conftest import Windows
from window.facts import snapshot
from window.fakes import FakeEvening
from window.hands import press
from window.purity import stained

from companion.sky import LOON_BARRENS, Site
from companion.window import MainWindow
from companion.window.place.horizon_ring import HorizonRing
from companion.window.place.horizon_sheet import HorizonSheet
from companion.window.place.panel import PlacePanel

# A wall 40° high from north-east to south-east, the rest open.
WALLED = replace(
    LOON_BARRENS, horizon=((0.0, 0.0), (44.0, 0.0), (45.0, 40.0), (135.0, 40.0), (136.0, 0.0))
)


def ring_of(window: MainWindow, size: tuple[int, int] = (400, 400)) -> HorizonRing:
    press(window, "7")
    (ring,) = window.stage.shown.findChildren(HorizonRing)
    assert ring.isVisible()
    ring.resize(*size)
    return ring


def at_home(make_window: Windows, site: Site = LOON_BARRENS) -> MainWindow:
    evening = FakeEvening()
    evening.choices = replace(evening.choices, site=site)
    return make_window(evening)


def light_around(ring: HorizonRing, azimuth_deg: float, altitude_deg: float) -> float:
    """Give the mean red of 21 by 21 pixels there."""
    image = ring.grab().toImage()
    at = ring.point_of(azimuth_deg, altitude_deg).toPoint()
    around = [
        image.pixelColor(at + QPoint(x, y)).red() for x in range(-10, 11) for y in range(-10, 11)
    ]
    return float(np.mean(around))


def test_north_is_up_east_at_the_right_and_the_zenith_in_the_middle(make_window: Windows) -> None:
    ring = ring_of(at_home(make_window))
    middle, radius = QPointF(200, 200), ring.radius()
    for azimuth_deg, altitude_deg, x, y in (
        (0.0, 0.0, 0.0, -1.0),
        (90.0, 0.0, 1.0, 0.0),
        (180.0, 45.0, 0.0, 0.5),
        (270.0, 60.0, -1.0 / 3.0, 0.0),
        (123.0, 90.0, 0.0, 0.0),
        (90.0, -12.0, 1.0, 0.0),  # what is below lies on the rim
    ):
        there = ring.point_of(azimuth_deg, altitude_deg) - middle
        assert there.x() / radius == pytest.approx(x, abs=1e-9)
        assert there.y() / radius == pytest.approx(y, abs=1e-9)


def test_the_wall_is_hatched_where_it_stands_and_nowhere_else(make_window: Windows) -> None:
    window = make_window_without_lights(make_window, WALLED)
    ring = ring_of(window)
    wall = light_around(ring, 90.0, 20.0)
    assert wall > 10.0
    for azimuth_deg, altitude_deg in ((90.0, 70.0), (270.0, 15.0), (20.0, 15.0), (160.0, 15.0)):
        assert light_around(ring, azimuth_deg, altitude_deg) < 0.3 * wall
    assert stained(window.grab()) == 0


def make_window_without_lights(make_window: Windows, site: Site) -> MainWindow:
    evening = FakeEvening(replace(snapshot(aim=None), lights=()))
    evening.choices = replace(evening.choices, site=site, target=None)
    return make_window(evening)


def test_the_target_is_marked_where_it_stands_and_only_while_it_is_up(make_window: Windows) -> None:
    evening = FakeEvening()
    assert evening.latest is not None
    aim = evening.latest.aim
    assert aim is not None
    evening.latest = replace(evening.latest, lights=())
    ring = ring_of(make_window(evening))
    dark = light_around(ring, aim.azimuth_deg + 90.0, aim.altitude_deg)
    assert light_around(ring, aim.azimuth_deg, aim.altitude_deg) > dark + 5.0
    evening.tell(replace(evening.latest, aim=replace(aim, altitude_deg=-3.0)))
    assert light_around(ring, aim.azimuth_deg, aim.altitude_deg) == pytest.approx(dark, abs=3.0)


def test_a_click_on_it_draws_the_horizon(make_window: Windows) -> None:
    window = at_home(make_window)
    ring = ring_of(window)
    QTest.mouseClick(ring, Qt.MouseButton.LeftButton, pos=QPoint(200, 200))
    assert isinstance(window.sheets.up, HorizonSheet)


@pytest.mark.parametrize(
    ("size", "shown"),
    [
        ((1366, 768), True),
        ((1920, 1080), True),
        ((800, 500), True),
        ((600, 1200), True),
        ((480, 300), False),
    ],
)
def test_it_stands_where_there_is_room(
    make_window: Windows, size: tuple[int, int], shown: bool
) -> None:
    window = make_window(size=size)
    press(window, "7")
    (ring,) = window.stage.shown.findChildren(HorizonRing)
    assert ring.isVisible() == shown
    panel = window.stage.shown
    assert isinstance(panel, PlacePanel)
    if shown:
        assert panel.page.rect().contains(ring.geometry())
        others = [panel.page.fields, panel.page.choices]
        assert not any(one.isVisible() and one.geometry() & ring.geometry() for one in others)


def test_a_tall_window_has_the_remembered_sites_below_the_fields(make_window: Windows) -> None:
    window = make_window(size=(600, 1000))
    press(window, "7")
    panel = window.stage.shown
    assert isinstance(panel, PlacePanel)
    page = panel.page
    assert page.fields.isVisible()
    assert page.choices.isVisible()
    assert page.caption.isVisible()
    assert page.fields.geometry().bottom() < page.caption.y() < page.choices.y()
    window.resize(600, 500)  # one at a time; the same key goes there and back, for the mouse too
    assert (page.fields.isVisible(), page.choices.isVisible()) == (True, False)
    window.do("row_right")
    assert (page.fields.isVisible(), page.choices.isVisible()) == (False, True)
    window.do("row_right")
    assert (page.fields.isVisible(), page.choices.isVisible()) == (True, False)
