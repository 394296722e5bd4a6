from datetime import UTC, datetime, timedelta

import pytest

from companion.advice import AdviceError
from companion.live.order_wishes import cloud_of, cloud_text

NOW = datetime(2026, 10, 10, 23, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("typed", "sector", "minutes", "words"),
    [
        ("west, 30 min", (225.0, 315.0), 30, "in the west"),
        ("West", (225.0, 315.0), 30, "in the west"),
        ("north, 1 h", (315.0, 45.0), 60, "in the north"),
        ("nw, 45", (270.0, 0.0), 45, "in the north-west"),
        ("south-east, 90 minutes", (90.0, 180.0), 90, "in the south-east"),
        ("200 to 300, 45", (200.0, 300.0), 45, "from 200° to 300°"),
        ("350°-10°, 5m", (350.0, 10.0), 5, "from 350° to 10°"),
    ],
)
def test_a_cloud_bank_as_a_person_says_it(
    typed: str, sector: tuple[float, float], minutes: int, words: str
) -> None:
    cloud = cloud_of(typed, NOW)
    assert (cloud.from_azimuth_deg, cloud.to_azimuth_deg) == pytest.approx(sector)
    assert cloud.until_utc == NOW + timedelta(minutes=minutes)
    assert cloud_text(cloud) == words


@pytest.mark.parametrize(
    "typed", ["", "up", "west, soon", "west, 0", "west, 9000", "10 to 400, 5", "10 to 10, 5"]
)
def test_what_is_no_cloud_bank_is_refused_in_words(typed: str) -> None:
    with pytest.raises(AdviceError) as caught:
        cloud_of(typed, NOW)
    assert caught.value.do
