"""The way from the last target, as large as its column lets it be."""

import pytest
from PySide6.QtGui import QFontMetricsF
from window.conftest import Windows
from window.facts import aim, snapshot
from window.fakes import FakeEvening

from companion.window.kit.lettering import Size


@pytest.mark.parametrize("sheet", [False, True])
def test_both_ways_are_written_whole_and_alike(make_window: Windows, *, sheet: bool) -> None:
    window = make_window(FakeEvening(snapshot(aim=aim())), (1366, 768))
    if sheet:
        window.do("search")
    window.grab()
    face = window.stage.shown.face  # type: ignore[attr-defined]
    sizes = {way._size for way in face.ways}
    assert len(sizes) == 1
    (size,) = sizes
    assert size is (Size.TURN if not sheet else size)
    for way in face.ways:
        assert way.text
        assert way.fits(size, way.width())
    if sheet:
        assert QFontMetricsF(size.font(face.scale)).capHeight() < 46.0
