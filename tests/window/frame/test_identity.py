"""What a desktop knows the program by, and the typeface that it carries."""

import logging
from pathlib import Path

import pytest
from PySide6.QtCore import QSize
from PySide6.QtGui import QFontInfo, QImage
from PySide6.QtWidgets import QApplication

from companion.window.kit import type_scale

ICONS = sorted((Path(__file__).parents[3] / "resources" / "icons").glob("*.png"))


def test_windows_are_of_the_class_that_the_desktop_entry_names(qapp: QApplication) -> None:
    entry = Path(__file__).parents[3] / "packaging" / "linux" / "companion.desktop"
    assert qapp.desktopFileName() == entry.stem
    assert Path(qapp.arguments()[0]).name == entry.stem  # the class of its windows under X11
    assert f"StartupWMClass={entry.stem}" in entry.read_text().splitlines()


def test_the_window_has_a_sign_in_the_usual_sizes(qapp: QApplication) -> None:
    sizes = {(size.width(), size.height()) for size in qapp.windowIcon().availableSizes()}
    assert sizes == {(16, 16), (32, 32), (48, 48), (128, 128)}
    assert not qapp.windowIcon().pixmap(QSize(48, 48)).isNull()


@pytest.mark.parametrize("path", ICONS, ids=lambda path: path.stem)
def test_the_sign_is_pure_red_on_black(path: Path) -> None:
    image = QImage(str(path)).convertToFormat(QImage.Format.Format_ARGB32)
    assert f"{image.width()}x{image.height()}" == "x".join([path.stem.rpartition("-")[2]] * 2)
    bits = bytes(image.constBits())  # blue, green, red, opacity
    assert not any(bits[0::4])
    assert not any(bits[1::4])
    assert max(bits[2::4]) == 255


def test_the_typeface_is_the_programs_own(qapp: QApplication) -> None:
    assert QFontInfo(type_scale.font(20)).family() == type_scale.FAMILY


def test_a_missing_typeface_is_logged_and_no_more(
    qapp: QApplication, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    monkeypatch.setattr(type_scale, "_FILES", ("Nothing.ttf",))
    with caplog.at_level(logging.ERROR):
        type_scale.load_fonts()
    assert "Nothing.ttf could not be read" in caplog.text
