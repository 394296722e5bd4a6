"""A count of stars, through the real threads: the sky's brightness follows."""

from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from companion.instant import DEMO_UTC
from companion.journal import Settings
from companion.live import Evening
from companion.sky import LOON_BARRENS
from companion.window.place.sky_fields import sky_prompt


@pytest.fixture
def evening(tmp_path: Path, qapp: object) -> Iterator[Evening]:
    evening = Evening(tmp_path, Settings(), site=LOON_BARRENS, demo_utc=DEMO_UTC)
    evening.start()
    yield evening
    evening.close()


def _is_said(evening: Evening, words: str) -> bool:
    return any(one.text.startswith(words) for one in evening.messages.current)


def test_more_stars_mean_a_darker_sky(evening: Evening, qtbot: QtBot) -> None:
    found = []
    for count in (2, 9, 30):
        sky_prompt(evening).take(f"{count} stars inside the Great Square", 0)
        said = f"{count} stars in"
        qtbot.waitUntil(partial(_is_said, evening, said), timeout=60_000)
        zenith = evening.choices.site.sky_brightness_mag_per_arcsec2
        assert zenith is not None
        found.append(zenith)
    assert found == sorted(found)
    assert found[-1] - found[0] > 1.0
