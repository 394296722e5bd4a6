"""The sheet that visitors take home: what stands on it, and that its lines lead where they say."""

from dataclasses import replace
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter

from companion.advice import AdviceError
from companion.charts import SheetSky, sheet_sky
from companion.night import Conditions, TonightRequest, find_instrument
from companion.road import HostRequest, Sheet, visitors_sheet
from companion.sky import DRY_PAN, LOON_BARRENS, Ephemeris, Site, load_catalogue
from companion.window import RedApplication, print_sheet
from companion.window.host.sheet_page import paint_sheet

EVENINGS = (
    (LOON_BARRENS, datetime(2026, 10, 10, 22, 30, tzinfo=UTC)),
    (LOON_BARRENS, datetime(2027, 4, 11, 1, 0, tzinfo=UTC)),
    (LOON_BARRENS, datetime(2027, 1, 11, 1, 0, tzinfo=UTC)),
    (DRY_PAN, datetime(2027, 7, 1, 18, 0, tzinfo=UTC)),
)
WHOLE = QRectF(0, 0, 2480, 3508)


@cache
def made(site: Site, utc: datetime) -> tuple[Sheet, SheetSky]:
    ephemeris, catalogue = Ephemeris.load(), load_catalogue()
    conditions = Conditions.at(site)
    asked = TonightRequest(site, utc, find_instrument("150"), conditions)
    sheet = visitors_sheet(ephemeris, catalogue, HostRequest(asked, 6, 10.0), ("Saturn", "M 13"))
    names = [point.name for point in sheet.points]
    place, points = (site, sheet.utc), (sheet.group_key, names)
    sky = sheet_sky(ephemeris, catalogue, place, conditions, points)
    ephemeris.close()
    return sheet, sky


def painted(sheet: Sheet, sky: SheetSky) -> tuple[np.ndarray, int]:
    """Give the last page as grey levels (rows, columns, colours), and how many pages there are."""
    image = QImage(1240, 1754, QImage.Format.Format_RGB32)
    turns: list[int] = []
    painter = QPainter(image)
    painter.scale(0.5, 0.5)
    paint_sheet(painter, WHOLE, sheet, sky, lambda: turns.append(1))
    painter.end()
    bits = np.frombuffer(bytes(image.constBits()), np.uint8)
    return bits.reshape(1754, 1240, 4)[:, :, :3], len(turns) + 1


@pytest.mark.parametrize(("site", "utc"), EVENINGS)
def test_it_is_one_page_of_grey_on_white(qapp: RedApplication, site: Site, utc: datetime) -> None:
    page, pages = painted(*made(site, utc))
    assert pages == 1
    assert (page[3, 3] == 255).all()
    assert (page[:, :, 0] == page[:, :, 1]).all()
    assert (page[:, :, 1] == page[:, :, 2]).all()
    dark = page[:, :, 0] < 128
    assert dark[:690].any(axis=1).mean() > 0.5  # the picture
    assert not dark[:, :60].any()  # the margins
    assert not dark[:, -60:].any()
    assert not dark[-60:].any()


@pytest.mark.parametrize(("site", "utc"), EVENINGS)
def test_every_line_ends_near_what_it_leads_to(site: Site, utc: datetime) -> None:
    """The sheet tells azimuth and altitude of each end: plain trigonometry finds the line there."""
    sheet, sky = made(site, utc)
    assert sheet.points
    assert len(sky.lasts) == len(sheet.points)
    for point, line in zip(sheet.points, sky.lasts, strict=True):
        azimuth, altitude = np.radians([point.azimuth_deg, point.altitude_deg])
        north, west = np.cos(altitude) * np.cos(azimuth), -np.cos(altitude) * np.sin(azimuth)
        there = np.array([north, west, np.sin(altitude)])  # the axes of the charts
        apart = np.degrees(np.arccos(np.clip(line[-1] @ there, -1.0, 1.0)))
        assert apart < 7.0, (point.name, apart)


def test_what_was_found_is_told_and_else_there_are_boxes(qapp: RedApplication) -> None:
    sheet, sky = made(*EVENINGS[0])
    empty, _pages = painted(replace(sheet, planned=()), sky)
    boxes, _pages = painted(sheet, sky)
    saw, _pages = painted(replace(sheet, saw=("Saturn",)), sky)
    assert not np.array_equal(empty, boxes)
    assert not np.array_equal(saw, boxes)


def test_what_finds_no_room_goes_onto_another_page(qapp: RedApplication) -> None:
    sheet, sky = made(*EVENINGS[0])
    many = replace(sheet, planned=tuple(f"M {number}" for number in range(1, 60)))
    page, pages = painted(many, sky)
    assert pages == 2
    assert (page[:, :, 0] < 128).any()
    assert not (page[-60:, :, 0] < 128).any()


def test_no_sheet_takes_another_one_s_place(qapp: RedApplication, tmp_path: Path) -> None:
    sheet, sky = made(*EVENINGS[0])
    path = tmp_path / "sheet.pdf"
    print_sheet(path, sheet, sky)
    before = path.read_bytes()
    assert before.startswith(b"%PDF")
    with pytest.raises(AdviceError):
        print_sheet(path, replace(sheet, saw=("M 31",)), sky)
    assert path.read_bytes() == before


def test_next_week_is_told_as_it_stands_then() -> None:
    """The Moon of a week later is not that of tonight: on 17 October 2026 it is up in the south."""
    sheet, _sky = made(*EVENINGS[0])
    assert len(sheet.next_week) == 3
    assert any(sentence.startswith("The Moon, in the south") for sentence in sheet.next_week)
