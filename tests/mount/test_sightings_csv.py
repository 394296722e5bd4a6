from datetime import UTC, datetime

import pytest
from hypothesis import given, strategies as st

from companion.advice import AdviceError
from companion.mount import PLAIN_MOUNT, parse_sightings
from companion.mount.sightings_csv import MOST_ROWS

HEAD = "utc,target,azimuth_reading_deg,altitude_reading_deg"
GOOD = "2026-11-25T21:30:00Z,Vega,142.5,41.3"


def test_a_plain_table_is_read() -> None:
    table = parse_sightings(f"{HEAD}\n{GOOD}\n\n2026-11-25 21:35,Deneb,,60\n", PLAIN_MOUNT)
    assert table.report == ()
    first, second = table.rows
    assert (first.line, first.target) == (2, "Vega")
    assert first.utc == datetime(2026, 11, 25, 21, 30, tzinfo=UTC)
    assert (first.azimuth_reading_deg, first.altitude_reading_deg) == (142.5, 41.3)
    assert first.sigma_deg is None
    assert second.utc == datetime(2026, 11, 25, 21, 35, tzinfo=UTC)
    assert (second.azimuth_reading_deg, second.altitude_reading_deg) == (None, 60.0)


def test_all_columns_in_any_order_and_readings_as_typed() -> None:
    text = (
        "\ufeffsigma_deg;dec_deg;ra_deg;Target;UTC;altitude_reading_deg;azimuth_reading_deg\r\n"
        "0.2;-5.39;83.8;;2026-11-25T23:30:00+02:00;41,3;142½\r\n"
    )
    (row,) = parse_sightings(text, PLAIN_MOUNT).rows
    assert (row.target, row.ra_deg, row.dec_deg, row.sigma_deg) == ("", 83.8, -5.39, 0.2)
    assert (row.azimuth_reading_deg, row.altitude_reading_deg) == (142.5, 41.3)
    assert row.utc == datetime(2026, 11, 25, 21, 30, tzinfo=UTC)


def test_long_decimals_keep_their_value() -> None:
    (row,) = parse_sightings(
        f"{HEAD}\n{GOOD.replace('142.5', '142.50123456789012')}", PLAIN_MOUNT
    ).rows
    assert row.azimuth_reading_deg == 142.50123456789012


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("yesterday,Vega,1,2", "'yesterday' is not a moment"),
        ("0001-01-01T00:00:00+05:00,Vega,1,2", "is not a moment"),
        ("2026-11-25T21:30:00Z,,1,2", "names no target"),
        ("2026-11-25T21:30:00Z,Vega,,", "has no reading"),
        ("2026-11-25T21:30:00Z,Vega,400,2", "azimuth reading 400° is not on this dial"),
        ("2026-11-25T21:30:00Z,Vega,north,2", '"north" is not a valid azimuth reading'),
        ("2026-11-25T21:30:00Z,Vega,nan,2", "not a valid azimuth reading"),
        ("2026-11-25T21:30:00Z,Vega,1,2,3", "5 columns"),
        ('2026-11-25T21:30:00Z,"Vega,1,2', "not a row of a table"),
    ],
)
def test_a_bad_line_is_reported_and_the_good_ones_are_kept(row: str, said: str) -> None:
    table = parse_sightings(f"{HEAD}\n{row}\n{GOOD}", PLAIN_MOUNT)
    assert [one.line for one in table.rows] == [3]
    (line,) = table.report
    assert line.startswith("line 2: ")
    assert said in line


@pytest.mark.parametrize(("cell", "said"), [("-1", "0.0001 to 180"), ("x", "sigma_deg is 'x'")])
def test_a_bad_sigma_is_reported(cell: str, said: str) -> None:
    table = parse_sightings(f"{HEAD},sigma_deg\n{GOOD},{cell}", PLAIN_MOUNT)
    assert table.rows == ()
    assert said in table.report[0]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "lacks utc, target"),
        ("utc,target,azimuth_reading_deg\n", "lacks altitude_reading_deg"),
        (HEAD + ",motor\n", "unknown column 'motor'"),
        (HEAD + ",utc\n", "names a column twice"),
        ('"' + HEAD, "not a row of a table"),
        ("x" * 2_000_001, "more than 2,000,000 characters"),
    ],
)
def test_what_is_no_such_table_is_refused(text: str, said: str) -> None:
    with pytest.raises(AdviceError, match=said):
        parse_sightings(text, PLAIN_MOUNT)


def test_a_flood_of_rows_is_cut_and_said() -> None:
    table = parse_sightings(HEAD + f"\n{GOOD}" * (MOST_ROWS + 5), PLAIN_MOUNT)
    assert len(table.rows) == MOST_ROWS
    assert table.report == (
        f"line {MOST_ROWS + 2}: only the first {MOST_ROWS} sightings are taken",
    )


@given(st.text(max_size=120))
def test_no_row_breaks_it(text: str) -> None:
    table = parse_sightings(f"{HEAD}\n{text}\n{GOOD}", PLAIN_MOUNT)
    assert table.rows[-1].target == "Vega"
