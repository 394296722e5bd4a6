import pytest
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from companion.window.kit.palette import (
    STEPS,
    Role,
    WindowBrightness,
    ink,
    luminance_at,
    qt_palette,
    tones_at,
)


def luminance_of(code: int) -> float:
    """The luminance of a red code as a share of full red, sRGB (IEC 61966-2-1)."""
    encoded = code / 255
    return encoded / 12.92 if encoded <= 0.04045 else ((encoded + 0.055) / 1.055) ** 2.4


@pytest.mark.parametrize("step", range(STEPS))
def test_tones_stay_apart_at_every_step(step: int) -> None:
    tones = tones_at(step)
    assert 0 == tones.ground < tones.line < tones.quiet < tones.text < tones.emphasis


def test_no_tone_leaps_from_one_step_to_the_next() -> None:
    # A step dims emphasis to 0.825; the others by as much or less, and never brighten.
    for step in range(STEPS - 1):
        before, after = tones_at(step), tones_at(step + 1)
        for name in ("line", "quiet", "text", "emphasis"):
            dimmed = (luminance_of(getattr(after, name)), luminance_of(getattr(before, name)))
            assert 0.70 < dimmed[0] / dimmed[1] < 0.95


def test_full_brightness_reads_and_the_last_step_is_one_percent() -> None:
    # WCAG 2.1, 1.4.3: red weighs 0.2126; (255, 0, 0) on black has a contrast of 5.25:1.
    tones = tones_at(0)
    emphasis, text = (
        luminance_of(code) * 0.2126 / 0.05 + 1.0 for code in (tones.emphasis, tones.text)
    )
    assert emphasis == pytest.approx(5.25, abs=0.01)
    assert text > 3.0  # large type
    assert luminance_at(STEPS - 1) == pytest.approx(0.01, abs=0.0005)
    assert len({tones_at(step).emphasis for step in range(STEPS)}) == STEPS


def test_what_is_bright_is_dimmed_more_than_what_is_faint() -> None:
    shares = []
    for step in range(STEPS):
        tones = tones_at(step)
        top = luminance_of(tones.emphasis)
        parts = (tones.line, tones.quiet, tones.text)
        shares.append([luminance_of(code) / top for code in parts])
    assert shares[0] == pytest.approx([0.16, 0.30, 0.52], abs=0.01)
    at_ten_percent = shares[12]  # 0.825 ** 12 = 0.099
    assert at_ten_percent == pytest.approx([0.26, 0.42, 0.66], abs=0.02)
    assert all(late > early for early, late in zip(shares[0], shares[-1], strict=True))


@pytest.mark.parametrize("step", [0, 10, STEPS - 1])
def test_every_role_of_qt_is_red(step: int) -> None:
    palette = qt_palette(tones_at(step))
    for group in (QPalette.ColorGroup.Active, QPalette.ColorGroup.Disabled):
        for role in QPalette.ColorRole:
            if role is not QPalette.ColorRole.NColorRoles:
                colour = palette.color(group, role)
                assert (colour.green(), colour.blue()) == (0, 0), role


def test_brightness_moves_in_steps_and_stops_at_its_ends(qtbot: QtBot) -> None:
    label = QLabel("x")
    qtbot.addWidget(label)
    label.show()
    brightness = WindowBrightness()
    assert brightness.step == 0
    brightness.move(-1)
    assert brightness.step == 0
    with qtbot.waitSignal(brightness.changed):
        brightness.move(99)
    assert brightness.step == STEPS - 1
    qtbot.waitUntil(lambda: ink(label, Role.EMPHASIS).red() == tones_at(STEPS - 1).emphasis)
    brightness.move(-99)
    qtbot.waitUntil(lambda: ink(label, Role.EMPHASIS).red() == 255)
