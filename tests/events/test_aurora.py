from datetime import UTC, datetime

import pytest

from companion.advice import AdviceError
from companion.events import aurora_look, parse_kp
from companion.sky import DRY_PAN, LOON_BARRENS, Site

NOW = datetime(2026, 11, 1, tzinfo=UTC)


def test_the_chance_depends_on_what_kp_was_said() -> None:
    codes = [aurora_look(LOON_BARRENS, NOW, kp).chance for kp in (0, 3, 5, 8)]
    assert codes == ["none", "low", "high", "overhead"]
    assert "if Kp is what was said" in aurora_look(LOON_BARRENS, NOW, 3).words


def test_in_the_south_it_stands_in_the_south() -> None:
    hobart = aurora_look(Site("south", -42.9, 147.3), NOW, 7)
    assert hobart.geomagnetic_latitude_deg < -48.0
    assert 150.0 < hobart.look_azimuth_deg < 210.0
    assert hobart.kp_horizon is not None
    assert hobart.kp_overhead is not None
    assert hobart.kp_horizon < hobart.kp_overhead


def test_too_near_the_equator_none_is_enough() -> None:
    look = aurora_look(DRY_PAN, NOW)
    assert (look.kp_horizon, look.kp_overhead, look.chance) == (None, None, "none")


@pytest.mark.parametrize(
    ("text", "kp"), [("5", 5.0), ("4.33", 4.33), ("5-", 14 / 3), ("5o", 5.0), ("5+", 16 / 3)]
)
def test_kp_is_read_as_published(text: str, kp: float) -> None:
    assert parse_kp(text) == pytest.approx(kp)


@pytest.mark.parametrize("text", ["10", "9+", "0-", "nan", "", "five", "-1"])
def test_what_is_no_kp_is_refused(text: str) -> None:
    with pytest.raises(AdviceError, match="outside 0 to 9"):
        parse_kp(text)
