"""Charts as pages in a file."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QImage, QPainter
from window.conftest import Windows
from window.hands import press
from window.sky.test_sky import up
from window.sky_fakes import CONJUNCTION, EVENING, TELESCOPE, sky_of

from companion.advice import AdviceError
from companion.charts import ChartKind, PageTime, SkyPage, lens_of, magnitude_key, sky_pages
from companion.instant import Choices
from companion.live import Severity
from companion.sky import LOON_BARRENS, load_catalogue
from companion.window import RedApplication
from companion.window.forms.prompt_sheet import PromptSheet
from companion.window.sky.page_words import page_hours, page_passages, page_place, page_when
from companion.window.sky.print_page import (
    paint_more,
    paint_page,
    paper_ink,
    print_pages,
    screen_ink,
)
from companion.window.sky.print_prompt import free_name
from companion.window.sky.words import Walk


@cache
def page_of(key: str = "ngc:NGC0224", utc: datetime = EVENING) -> SkyPage:
    """Give the page of a target through the demo telescope."""
    target = load_catalogue().target(key)
    assert target is not None
    (page,) = sky_pages(Choices(1, LOON_BARRENS, instrument=TELESCOPE), [target], utc, {})
    return page


@pytest.mark.parametrize(("tones", "ground"), [(paper_ink(), 255), (screen_ink(), 0)])
def test_a_page_is_dark_on_white_or_red_on_black(
    qapp: RedApplication, tones: object, ground: int
) -> None:
    image = QImage(1240, 1754, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    painter.scale(0.5, 0.5)
    paint_page(painter, tones, QRectF(0, 0, 2480, 3508), page_of())  # type: ignore[arg-type]
    painter.end()
    corner = image.pixelColor(3, 3)
    assert (corner.red(), corner.green(), corner.blue()) == (ground,) * 3
    bits = np.frombuffer(bytes(image.constBits()), np.uint8).reshape(-1, 4)
    if ground == 0:
        assert not bits[:, :2].any()
    assert np.count_nonzero(bits[:, 2] != ground) > 5000


def test_pages_are_written_whole(qapp: RedApplication, tmp_path: Path) -> None:
    path = tmp_path / "round.pdf"
    print_pages(path, (page_of(), page_of("hip:95947")), paper_ink())
    written = path.read_bytes()
    assert written.startswith(b"%PDF")
    assert written.count(b"/Type /Page\n") >= 2
    assert [one.name for one in tmp_path.iterdir()] == ["round.pdf"]


def test_a_folder_that_is_not_there_is_said(qapp: RedApplication, tmp_path: Path) -> None:
    with pytest.raises(AdviceError, match="cannot be written"):
        print_pages(tmp_path / "nowhere" / "a.pdf", (page_of(),), paper_ink())


def test_printing_asks_and_says_where(make_window: Windows, tmp_path: Path) -> None:
    window, _view = up(make_window)
    evening = window.evening
    evening.home = tmp_path
    asked: list[tuple[str, object]] = []

    def ask(kind: str, question: Callable[[object], object], answer: Callable[..., None]) -> None:
        asked.append((kind, None))
        answer(question(None))

    evening.ask = ask  # type: ignore[method-assign]
    press(window, "P")
    sheet = window.sheets.up
    assert isinstance(sheet, PromptSheet)
    assert sheet.field.text() == "2026-10-10-M-31.pdf"
    sheet.field.setText("../../tonight, all of it")
    press(window, "Enter")
    (path,) = tmp_path.iterdir()
    assert path.name == "tonight-all-of-it.pdf"
    (message,) = evening.messages.current
    assert message.severity is Severity.NOTE
    assert str(path) in message.text


def test_a_page_tells_both_routes_in_full() -> None:
    sky = sky_of()
    lens = lens_of(sky, ChartKind.EYEPIECE)
    told = {p.caption: p.text for p in page_passages(sky, lens, Walk())}
    assert told["BY FINDER"].count("\n") == len(sky.paths.hops) - 1
    assert told["OR ELSE"].startswith("1. ")
    caution = sky_of("body:venus", CONJUNCTION)
    (passage,) = page_passages(caution, lens, Walk())
    assert passage.caption == "CAUTION"


def test_a_second_page_takes_no_other_one_s_place(tmp_path: Path) -> None:
    first = tmp_path / "2026-10-10-Vega.pdf"
    names = []
    for _ in range(3):
        name = free_name(first)
        name.write_bytes(b"a page")
        names.append(name.name)
    assert names == ["2026-10-10-Vega.pdf", "2026-10-10-Vega-2.pdf", "2026-10-10-Vega-3.pdf"]


def test_what_finds_no_room_goes_on_the_next_page(qapp: RedApplication, tmp_path: Path) -> None:
    """A page with three of the longest ways: nothing is left unsaid."""
    image = QImage(1240, 1754, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    painter.scale(0.5, 0.5)
    sheet = QRectF(0, 0, 2480, 3508)
    page = page_of()
    hop = page.sky.paths.hops[0]
    long = replace(page.sky.paths, hops=(replace(hop, sentence=hop.sentence * 9),) * 7)
    page = replace(page, sky=replace(page.sky, paths=long))
    told = page_passages(page.sky, lens_of(page.sky, ChartKind.EYEPIECE), Walk())
    left = paint_page(painter, paper_ink(), sheet, page)
    assert left
    assert left[1:] == told[len(told) - len(left) + 1 :]
    assert told[-len(left)].text.endswith(left[0].text)
    sheets = 1
    while left:
        left = paint_more(painter, paper_ink(), sheet, page, left)
        sheets += 1
        assert sheets < 5
    painter.end()
    path = tmp_path / "long.pdf"
    print_pages(path, (page,), paper_ink())
    assert path.read_bytes().count(b"/Type /Page\n") == sheets


def test_a_page_says_its_time_its_place_and_its_hours() -> None:
    page = page_of()
    assert page_when(page) == "2026-10-10 20:14 ADT, now"
    assert page_place(page) == "RA 0h42.7m, Dec +41°16′ (J2000)"
    rows = {row.caption: row for row in page_hours(page)}
    assert list(rows) == ["TIME", "ALTITUDE", "AZIMUTH"]
    assert len({len(row.cells) for row in rows.values()}) == 1
    own = rows["TIME"].own
    assert own is not None
    assert rows["TIME"].cells[own] == "20:14"
    planet = page_of("body:saturn")
    assert page_place(planet).endswith("(J2000, at this time)")
    assert page_when(replace(page, time=PageTime.UNSEEN)).endswith("not to be seen tonight")


def test_near_the_sun_a_page_has_no_number() -> None:
    page = page_of("body:venus", CONJUNCTION)
    assert page.sky.caution
    assert page_place(page) == ""
    assert page_hours(page) == ()


def test_a_key_has_discs_of_the_chart_s_own_sizes() -> None:
    lens = lens_of(sky_of(), ChartKind.WIDE)
    magnitudes, radii = zip(*magnitude_key(lens, 1.0), strict=True)
    assert list(magnitudes) == sorted(magnitudes)
    assert list(radii) == sorted(radii, reverse=True)
    assert max(magnitudes) <= lens.star_limit
    deep = lens_of(sky_of(), ChartKind.EYEPIECE)
    assert max(m for m, _r in magnitude_key(deep, 1.0)) == int(deep.complete_to)
