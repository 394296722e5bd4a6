"""Whatever is made late, by a key or by a first look, has the scale of the window it is in."""

import pytest
from PySide6.QtWidgets import QWidget

from companion.window.kit.type_scale import Scaled, scale_for
from window.conftest import Windows

WAYS = (
    ("screen:aim", "help"),
    ("screen:aim", "search"),
    ("screen:aim", "note"),
    ("screen:aim", "sight"),
    ("screen:aim", "look"),
    ("screen:north", "measure"),
    ("screen:sky", "find_round"),
    ("screen:night", "tonight"),
    ("screen:night", "rounds"),
    ("screen:night", "order"),
    ("screen:mount", "describe"),
    ("screen:mount", "instrument"),
    ("screen:mount", "set_up"),
    ("screen:journal",),
    ("screen:place", "draw_horizon"),
    ("screen:place", "towns"),
    ("screen:about",),
    ("screen:events", "year"),
    ("screen:road", "rehearse"),
    ("screen:host", "guest_page"),
)


@pytest.mark.parametrize("way", WAYS, ids=" ".join)
def test_everything_has_the_scale_of_its_window(make_window: Windows, way: tuple[str, ...]) -> None:
    window = make_window(size=(800, 500))
    for action in way:
        window.do(action)
    scale = scale_for(window.width(), window.height())
    others = {
        type(widget).__name__
        for widget in window.findChildren(QWidget)
        if isinstance(widget, Scaled) and widget.window() is window and widget.scale != scale
    }
    assert not others
