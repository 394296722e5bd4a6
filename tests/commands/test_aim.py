import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from companion.sky import zone_of

from .conftest import Run

HERE = ("--lat", "45.2", "--lon", "-62.3", "--elevation", "120", "--at", "2026-10-10T23:14:00Z")
KEYS = {
    "target",
    "utc",
    "altitude_deg",
    "altitude_airless_deg",
    "azimuth_deg",
    "magnetic_bearing_deg",
    "declination_deg",
    "magnetic_declination_deg",
    "declination_sigma_deg",
}


def answers(out: str) -> list[dict[str, object]]:
    return [json.loads(line) for line in out.splitlines()]


def test_targets_of_every_kind_are_answered_in_their_order(run: Run) -> None:
    code, out, err = run("aim", "saturn", "m31", "vega", *HERE, "--json")
    found = answers(out)
    assert (code, err) == (0, "")
    assert [answer["target"] for answer in found] == ["saturn", "m31", "vega"]
    assert all(answer.keys() >= KEYS for answer in found)
    assert all(answer["utc"] == "2026-10-10T23:14:00Z" for answer in found)


def test_a_time_of_the_day_is_the_nearest_one_by_the_clocks_of_the_site(run: Run) -> None:
    code, out, err = run("aim", "vega", "--site", "Loon Barrens", "--at", "21:30", "--json")
    assert (code, err) == (0, "")
    utc = datetime.fromisoformat(str(answers(out)[0]["utc"]))
    assert f"{utc.astimezone(zone_of('America/Halifax')):%H:%M}" == "21:30"
    assert abs(utc - datetime.now(UTC)) <= timedelta(hours=12, minutes=31)


def test_a_person_reads_a_table(run: Run) -> None:
    code, out, _err = run("aim", "vega", *HERE)
    assert code == 0
    assert "here, 45.20° N 62.30° W, 2026-10-10 20:14:00 ADT" in out
    assert "Vega" in out
    assert "\x1b" not in out


def test_a_line_of_another_form_never_stops_the_others(run: Run, tmp_path: Path) -> None:
    requests = [
        {"target": "vega", "at": "2026-10-10T23:14:00Z", "lat": 45.2, "lon": -62.3},
        {"target": {"ra_deg": 83.63, "dec_deg": 22.01}, "at": "2026-10-10T23:14:00Z"},
        {"target": "no such thing", "at": "2026-10-10T23:14:00Z", "lat": 1, "lon": 2},
        {"target": "vega", "at": "2200-01-01T00:00:00Z", "lat": 1, "lon": 2},
        {"target": "vega", "at": "2026-10-10T23:14:00Z", "lat": 91, "lon": 2},
        {"target": "vega", "at": "2026-10-10T23:14:00Z", "lat": 1, "lon": 400},
        {"target": "vega", "lat": "-45.2S", "lon": 2},
        {"target": {"ra_deg": "x"}, "lat": 1, "lon": 2},
        {"target": 7, "lat": 1, "lon": 2},
        {"target": "x" * 10_000_000, "lat": 1, "lon": 2},
    ]
    path = tmp_path / "requests.jsonl"
    lines = [json.dumps(request) for request in requests]
    path.write_text("\n".join([*lines[:2], "no json", "[]", "", *lines[2:]]))
    code, out, err = run("aim", "--requests", path, "--lat", "-32.4", "--lon", "20.8", "--json")
    found = answers(out)
    assert (code, err) == (1, "")
    assert len(found) == len(requests) + 2
    good = [answer for answer in found if "error" not in answer]
    assert [answer["target"] for answer in good] == ["vega", {"ra_deg": 83.63, "dec_deg": 22.01}]
    assert all(str(answer["error"]).endswith((".", ")")) for answer in found if "error" in answer)
    assert max(len(line) for line in out.splitlines()) < 1000


def test_the_demo_queue_is_answered_at_its_own_time(run: Run) -> None:
    code, out, _err = run("aim", "--demo")
    assert code == 0
    assert "Loon Barrens" in out
    assert "Saturn" in out


def test_near_the_sun_numbers_are_withheld_from_a_person(run: Run) -> None:
    words = ("aim", "sun", "--lat", "45", "--lon", "0", "--at", "2026-06-21T12:00:00Z")
    _code, out, _err = run(*words)
    assert "withheld" in out
    assert "never look there" in " ".join(out.split())
    _code, out, _err = run(*words, "--json")
    assert "caution" in answers(out)[0]


@pytest.mark.parametrize(
    ("words", "code", "text"),
    [
        (("aim", "vega"), 1, "No place is known yet"),
        (("aim", *HERE), 1, "No target was named"),
        (("aim", "vega", "--lat", "91", "--lon", "0"), 1, "outside -90° to 90°"),
        (("aim", "vega", "--lat", "45", "--lon", "400"), 1, "outside -180° to 180°"),
        (("aim", "vega", "--lat", "-45.2S", "--lon", "0"), 1, "minus sign and the letter S"),
        (("aim", "vega", "--lat", "45"), 1, "Half a position"),
        (("aim", "vega", *HERE[:4], "--at", "2200-01-01T00:00Z"), 1, "outside the ephemeris"),
        (("aim", "vega", *HERE[:4], "--at", "2026-03-08T02:30"), 1, "skip"),
        (("aim", "vega", *HERE[:4], "--pressure", "nan"), 1, "is not a number"),
        (("aim", "--requests", "/no/such/file"), 1, "cannot be read"),
        (("aim", "vega", "--site", "Nowhere at all"), 1, "No site or town"),
        (("aim", "vega", "--unknown"), 2, "--help"),
        (("nonsense",), 2, "--help"),
        (("mark", "vega", "eaten"), 2, "--help"),
    ],
)
def test_errors_are_one_line_that_instructs(
    run: Run, words: tuple[str, ...], code: int, text: str
) -> None:
    # The clocks at 45.2° N 62.3° W skip 2:00 to 3:00 on 8 March 2026 (IANA time zone database).
    got, out, err = run(*words)
    assert got == code
    assert text in err or text in out
    assert err.count("\n") <= 1
    assert "Traceback" not in err + out
