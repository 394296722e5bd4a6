"""What observers look at stands first (common practice, no source)."""

import pytest

from companion.sky import load_catalogue

from .observers_panel import PANEL, Panel


@pytest.fixture(scope="module")
def panel() -> Panel:
    return Panel(load_catalogue())


@pytest.mark.parametrize(("hemisphere", "season", "through"), list(PANEL))
def test_what_is_well_placed_stands_among_the_first_forty(
    panel: Panel, hemisphere: str, season: str, through: str
) -> None:
    share = panel.share(hemisphere, season, through)
    assert share.wanted >= 14
    assert share.missing == ()
