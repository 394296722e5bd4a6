"""Texts of the status line, the band over everything and the clock."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from window.conftest import Windows
from window.facts import DARK, UTC_NOW, snapshot
from window.fakes import FakeEvening

from companion.instant import Choices
from companion.sky import LOON_BARRENS, TURN_DEG_PER_S
from companion.window.forms.prompts import clock_prompt
from companion.window.frame import status_words
from companion.window.frame.status_words import Freshness, Status


def test_how_live_the_numbers_are() -> None:
    live = snapshot(made_monotonic_s=100.0)
    assert status_words.freshness(None, 0.0) is Freshness.COMING
    assert status_words.freshness(live, 101.0) is Freshness.LIVE
    assert status_words.freshness(live, 104.0) is Freshness.STALE
    assert status_words.freshness(replace(live, preview=True), 101.0) is Freshness.PREVIEW


def test_the_status_line() -> None:
    status = status_words.status(snapshot(made_monotonic_s=100.0), 100.2)
    assert status.time == "20:14:07 ADT"
    assert (status.site, status.live) == ("Loon Barrens", "live")
    assert status.dark == "nautical twilight, dark at 20:36 · Moon rises 23:10"
    assert status.trust == "aligned on 3 stars, 95% of aims within 18′"
    assert status_words.status(snapshot(made_monotonic_s=0.0), 42.0).live == "stopped 42 s ago"


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"moon_up": True, "moon_next": "sets"},
         "nautical twilight, dark at 20:36 · Moon 31% lit sets 23:10"),
        ({"next_phase_utc": None, "moon_next_utc": None},
         "nautical twilight · Moon stays down"),
    ],
)  # fmt: skip
def test_darkness(changes: dict[str, Any], expected: str) -> None:
    assert status_words.dark_words(snapshot(dark=replace(DARK, **changes))) == expected


def test_trust_counts_doubts() -> None:
    assert status_words.trust_words(snapshot(alignment=None)) == "true directions, no mount"
    words = status_words.trust_words(snapshot(doubts=("The clock looks wrong.",)))
    assert words == "aligned on 3 stars, 95% of aims within 18′ · 1 doubt"


def test_the_band_over_everything() -> None:
    choices = Choices(1, LOON_BARRENS)
    live = snapshot(made_monotonic_s=0.0)
    still = replace(live, preview=True)

    def band(one: Any, now_s: float, *, demo: bool = False, running: bool = False) -> str:
        since = UTC_NOW - timedelta(minutes=1) if running else None
        asked = replace(choices, preview_since_utc=since)
        return status_words.banner(one, asked, now_s, demo=demo)

    assert band(live, 1.0) == band(None, 1.0) == ""
    assert band(live, 60.0).startswith("THE NUMBERS STOPPED 60 S AGO")
    assert band(still, 1.0).startswith("PREVIEW · 10 Oct 2026, 20:14 ADT")
    assert band(still, 1.0, demo=True, running=True).startswith("DEMO EVENING")
    assert band(still, 1.0, demo=True).startswith("PREVIEW")


def test_the_clocks_ten_seconds_are_what_the_sky_turns_in_them() -> None:
    """The sky turns by 15.041″ a second (the sidereal rate)."""
    evening: Any = FakeEvening()
    arcmin = 10.0 * TURN_DEG_PER_S * 60.0
    assert f"Ten seconds are up to {arcmin:.1f}′" in clock_prompt(evening).explanation


def _letters(status: Status) -> float:
    """Give the length of all parts: a letter is 1 wide here."""
    one = status
    return sum(map(len, (one.time, one.soon, one.site, one.live, one.dark, one.trust, one.eyes)))


_FULL = status_words.status(snapshot(made_monotonic_s=100.0), 100.2)


@pytest.mark.parametrize("room", range(0, 160, 3))
def test_no_word_of_the_status_line_is_cut_however_narrow_it_is(room: int) -> None:
    full = replace(_FULL, eyes="eyes adapted in 20 min")
    fits = status_words.fitted(full, room, _letters)
    assert (fits.time, fits.live) == (full.time, full.live)  # these are never left out
    assert fits.site in {"", full.site}
    assert fits.eyes in {"", full.eyes}
    assert fits.dark in {"", full.dark, full.dark.partition(" · ")[0]}
    assert fits.trust in {"", full.trust, full.trust.partition(",")[0]}
    assert _letters(fits) <= max(room, len(full.time) + len(full.live))


def test_how_far_the_numbers_are_to_be_trusted_gives_way_last() -> None:
    room = _letters(replace(_FULL, dark="", site=""))
    assert status_words.fitted(_FULL, room, _letters) == replace(_FULL, dark="", site="")
    wide = _letters(_FULL)
    assert status_words.fitted(_FULL, wide, _letters) == _FULL
    without_moon = status_words.fitted(_FULL, wide - 1, _letters)
    assert without_moon == replace(_FULL, dark="nautical twilight, dark at 20:36")


@pytest.mark.parametrize("size", [(600, 1000), (800, 500), (1024, 600)])
@pytest.mark.parametrize("aligned", [True, False])
def test_trust_stands_whole_in_small_windows(
    make_window: Windows, size: tuple[int, int], *, aligned: bool
) -> None:
    evening = FakeEvening(snapshot() if aligned else snapshot(alignment=None))
    line = make_window(evening, size).status
    assert line.shown.trust == line.status.trust != ""
    assert line._width(line.shown) <= line._end() - line.scale.grid(6)
