"""Live inputs reach the numbers, and nothing of them is written down."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from companion.advice import AdviceError
from companion.journal import FILE_NAME, Journal, Settings
from companion.live import WOODEN, Evening, LivePosition, LiveReadings
from companion.sky import LOON_BARRENS

NEAR = LivePosition(45.2031, -62.3042)
FAR = LivePosition(-32.4, 20.8, 1480.0)


@pytest.fixture
def evening(tmp_path: Path, qtbot: QtBot) -> Iterator[Evening]:
    made = Evening(tmp_path, Settings(), site=LOON_BARRENS)
    with qtbot.waitSignal(made._journal.opened, timeout=5_000):
        made.start()
    yield made
    made.close()


def kept(home: Path) -> tuple[Settings, int]:
    journal = Journal(home / FILE_NAME)
    try:
        count = journal._connection.execute("SELECT count(*) FROM event").fetchone()[0]
        return journal.settings(), count
    finally:
        journal.close()


def test_what_is_alive_reaches_the_snapshot_and_not_the_disk(
    evening: Evening, qtbot: QtBot, tmp_path: Path
) -> None:
    evening.mounts.choose(WOODEN)
    evening.sites.set_deviation(1.5)
    qtbot.waitUntil(lambda: bool(kept(tmp_path)[0].compass_deviations_deg), timeout=10_000)
    before = kept(tmp_path)
    evening.inputs.take(NEAR)
    evening.inputs.take(LiveReadings(142.5, 41.3))

    def shown() -> bool:
        latest = evening.latest
        return latest is not None and latest.pointed is not None

    qtbot.waitUntil(shown, timeout=10_000)
    assert evening.latest is not None
    site = evening.latest.site
    assert (site.latitude_deg, site.longitude_deg) == (45.2031, -62.3042)
    assert (site.name, site.elevation_m) == ("Loon Barrens", 120.0)
    assert evening.choices.compass_deviation_deg == 1.5
    evening.inputs.take(FAR)
    evening.inputs.end_readings()
    assert evening.choices.pointed_deg is None
    evening.close()
    assert kept(tmp_path) == before


def test_far_away_it_is_another_place_with_its_own_clocks(evening: Evening) -> None:
    evening.sites.set_deviation(1.5)
    evening.inputs.take(FAR)
    site = evening.choices.site
    assert (site.name, site.time_zone) == ("32.40° S 20.80° E", "Africa/Johannesburg")
    assert site.elevation_m == 1480.0
    assert evening.choices.compass_deviation_deg is None
    assert str(evening.clock.zone) == "Africa/Johannesburg"


def test_a_position_is_enough_where_no_place_is_known(tmp_path: Path, qtbot: QtBot) -> None:
    evening = Evening(tmp_path, Settings())
    try:
        evening.start()
        with qtbot.waitSignal(evening.snapshot_ready, timeout=10_000):
            evening.inputs.take(NEAR)
        assert not evening.needs_site
    finally:
        evening.close()


@pytest.mark.parametrize(
    "given",
    [
        LivePosition(95.0, 0.0),
        LivePosition(float("nan"), 0.0),
        LivePosition(45.2, -62.3, 20_000.0),
        LiveReadings(float("nan"), 3.0),
    ],
)
def test_nonsense_is_refused_and_what_was_known_stands(
    evening: Evening, given: LivePosition | LiveReadings
) -> None:
    before = evening.choices
    with pytest.raises(AdviceError):
        evening.inputs.take(given)
    assert evening.choices == before
