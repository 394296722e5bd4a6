"""Kp from files; the examples have the forms in which the index is published (from memory)."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from companion.advice import AdviceError
from companion.events import kp_at, read_kp, read_kp_file

NIGHT = datetime(2024, 5, 10, 22, 30, tzinfo=UTC)

SERVICE = """\
# PURPOSE: This file distributes the geomagnetic planetary three-hour index Kp.
#YYY MM DD hh.h hh._m        days      days_m     Kp   ap D
2024 05 10 18.0 19.50 33732.75000 33732.81250  8.667  300 1
2024 05 10 21.0 22.50 33732.87500 33732.93750  9.000  400 1
2024 05 11 00.0 01.50 33733.00000 33733.06250 -1.000   -1 0
"""
ROWS = """[["time_tag","Kp","a_running","station_count"],
["2024-05-10 18:00:00.000","8.67","300","8"],["2024-05-10 21:00:00.000","9.00","400","8"]]"""
OBJECTS = """[{"time_tag":"2024-05-10T18:00:00","Kp":8.67},
{"time_tag":"2024-05-10T21:00:00Z","Kp":9.0},{"time_tag":null,"Kp":null}]"""
LINES = "time,Kp\n2024-05-10T18:00,9-\n2024-05-10T21:00,9\n"
WORDS = "2024-05-10 18:00 9-\n2024-05-10 21:00 9o\n"


@pytest.mark.parametrize("text", [SERVICE, ROWS, OBJECTS, LINES, WORDS])
def test_every_form_says_the_same(text: str) -> None:
    rows = read_kp(text)
    assert [row.kp for row in rows] == pytest.approx([8.667, 9.0], abs=0.004)
    row = kp_at(rows, NIGHT)
    assert row is not None
    assert row.start_utc == datetime(2024, 5, 10, 21, tzinfo=UTC)


def test_a_value_holds_three_hours_and_no_longer() -> None:
    rows = read_kp(SERVICE)
    assert kp_at(rows, datetime(2024, 5, 10, 17, 59, tzinfo=UTC)) is None
    assert kp_at(rows, datetime(2024, 5, 11, 0, 0, tzinfo=UTC)) is None
    early = kp_at(rows, datetime(2024, 5, 10, 20, 59, tzinfo=UTC))
    assert early is not None
    assert early.kp == pytest.approx(8.667)


@pytest.mark.parametrize(
    "text",
    ["", "[", "[[1,2],[3]]", "{}", "[{}]", "9 9 9", "2024 13 45 1e9 0 0 0 5 5", "\0\0", "[" * 9000,
     "2024-05-10T18:00, 10", "2024-05-10T18:00, nan"],
)  # fmt: skip
def test_what_holds_none_is_refused_in_words(text: str) -> None:
    with pytest.raises(AdviceError, match="holds no Kp"):
        read_kp(text)


def test_a_file_that_is_none_is_refused(tmp_path: Path) -> None:
    with pytest.raises(AdviceError, match="Nothing was read"):
        read_kp_file(tmp_path)
