import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from companion.mount import Dial, Mount, mount_text, reading_of
from companion.sky import LOON_BARRENS, Ephemeris, Target, TargetTable, load_catalogue

from .conftest import Run

PLACE = ("--site", "Loon Barrens")
START = datetime(2026, 10, 10, 23, 0, tzinfo=UTC)
STARS = {"Vega": 91262, "Altair": 97649, "Capella": 24608, "Alkaid": 67301, "Markab": 113963}
ZERO_DEG, LEVEL_DEG = 37.2, 0.6
BACKWARDS = Mount(
    "backwards", Dial(clockwise=False, step_deg=0.5), Dial(step_deg=0.1, high_deg=100.0)
)


def truth(ephemeris: Ephemeris, target: Target, utc: datetime) -> tuple[float, float]:
    seen = ephemeris.moment(LOON_BARRENS, utc).horizontal(TargetTable.of([target], utc))
    return float(seen.azimuth_deg[0]), float(seen.altitude_deg[0])


def table(path: Path, mount: Mount, wrong: str = "") -> Path:
    """Write sightings of a mount whose zeros are off; at ``wrong`` another star was centred."""
    ephemeris = Ephemeris.load()
    lines = ["utc,target,azimuth_reading_deg,altitude_reading_deg"]
    for number, (name, hip) in enumerate(STARS.items()):
        utc = START + timedelta(minutes=4 * number)
        seen = load_catalogue().star(102098 if name == wrong else hip)  # Deneb
        azimuth, altitude = truth(ephemeris, seen, utc)
        turned = reading_of(mount.azimuth, azimuth + ZERO_DEG)
        lines.append(f"{utc.isoformat()},{name},{turned:.3f},{altitude + LEVEL_DEG:.3f}")
    ephemeris.close()
    path.write_text("\n".join(lines))
    return path


def test_zeros_are_found_and_predictions_follow(run: Run, tmp_path: Path) -> None:
    path = table(tmp_path / "s.csv", Mount("plain"))
    at = ("2026-10-10T23:40:00Z", "2026-10-11T01:00:00Z")
    code, out, err = run(
        "align", path, *PLACE, "--json",
        "--predict", "saturn", "--at", at[0], "--predict", "83.63 22.01 deg", "--at", at[1],
    )  # fmt: skip
    assert (code, err) == (0, "")
    answer = json.loads(out)
    assert answer["parameters"]["azimuth_zero"]["sigma_deg"] < 1.0
    assert len(answer["residuals"]) == len(STARS)
    assert max(abs(one["on_sky_deg"]) for one in answer["residuals"]) < 0.1
    assert answer["questioned"] == []
    assert [one["utc"] for one in answer["predictions"]] == list(at)
    saturn = answer["predictions"][0]
    assert saturn["azimuth_reading_deg"] == pytest.approx(
        (saturn["azimuth_deg"] + ZERO_DEG) % 360, abs=0.3
    )
    assert saturn["altitude_reading_deg"] == pytest.approx(
        saturn["altitude_deg"] + LEVEL_DEG, abs=0.2
    )
    assert 0 < saturn["radius95_deg"] < 3


def test_a_mounts_file_says_how_its_dials_run(run: Run, tmp_path: Path) -> None:
    path = table(tmp_path / "s.csv", BACKWARDS)
    toml = tmp_path / "mount.toml"
    toml.write_text(mount_text(BACKWARDS))
    code, out, _err = run("align", path, *PLACE, "--mount", toml, "--predict", "vega", "--json")
    answer = json.loads(out)
    assert code == 0
    assert max(abs(one["on_sky_deg"]) for one in answer["residuals"]) < 0.1


def test_the_wrong_star_is_questioned_with_what_would_have_fitted(run: Run, tmp_path: Path) -> None:
    path = table(tmp_path / "s.csv", Mount("plain"), wrong="Altair")
    _code, out, _err = run("align", path, *PLACE, "--json")
    questioned = json.loads(out)["questioned"]
    assert questioned[0]["targets"] == ["Altair"]
    assert questioned[0]["would_fit"][0]["target"] == "Deneb"
    _code, out, _err = run("align", path, *PLACE)
    assert "another star" in out


def test_bad_lines_are_reported_and_the_good_ones_used(run: Run, tmp_path: Path) -> None:
    path = table(tmp_path / "s.csv", Mount("plain"))
    with path.open("a") as stream:
        stream.write("\n2026-10-10T23:30Z,Vega,999,40\nnever,Vega,10,40\n")
        stream.write("2026-10-10T23:30Z,no such star at all,10,40\n2200-01-01T00:00Z,Vega,10,40\n")
    code, out, err = run("align", path, *PLACE, "--json")
    assert code == 1
    assert len(json.loads(out)["residuals"]) == len(STARS)
    assert err.count("\n") == 4
    assert len(json.loads(out)["report"]) == 4


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "first line"),
        ("a,b,c\n1,2,3", "first line"),
        ("utc,target,azimuth_reading_deg,altitude_reading_deg\n", "No sighting could be used"),
    ],
)
def test_what_is_no_table_is_refused(run: Run, tmp_path: Path, text: str, words: str) -> None:
    path = tmp_path / "bad.csv"
    path.write_text(text)
    code, _out, err = run("align", path, *PLACE)
    assert code == 1
    assert words in err
    assert err.count("\n") == 1


def test_missing_files_are_said(run: Run, tmp_path: Path) -> None:
    code, _out, err = run("align", tmp_path / "no.csv", *PLACE)
    assert code == 1
    assert "cannot be read" in err
    path = table(tmp_path / "s.csv", Mount("plain"))
    code, _out, err = run("align", path, *PLACE, "--mount", "no such mount")
    assert code == 1


def test_a_misspelled_star_is_no_sighting(run: Run, tmp_path: Path) -> None:
    path = table(tmp_path / "s.csv", Mount("plain"))
    path.write_text(path.read_text().replace("Capella", "Capela"))
    code, out, err = run("align", path, *PLACE, "--json", "--predict", "saturm")
    assert code == 1
    assert '"Capela" is not known. Near names: Capella' in err
    answer = json.loads(out)
    assert [one["target"] for one in answer["residuals"]] == ["Vega", "Altair", "Alkaid", "Markab"]
    assert '"saturm" is not known' in answer["predictions"][0]["error"]
