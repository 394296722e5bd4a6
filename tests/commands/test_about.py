"""``companion about``: the keys that others rely on, by kind of target."""

import json
from typing import Any

import pytest

from .conftest import Run

HERE = ("--site", "Loon Barrens", "--at", "2026-10-18T23:14Z")
MOON_KEYS = {
    "libration_longitude_deg", "libration_latitude_deg", "axis_position_angle_deg",
    "bright_limb_angle_deg", "colongitude_deg",
}  # fmt: skip


def told(run: Run, *words: str) -> dict[str, Any]:
    code, out, err = run("about", *words, *HERE, "--json")
    assert (code, err) == (0, "")
    answer = json.loads(out)
    assert {"name", "kind", "says"} <= set(answer)
    assert answer["says"]
    return dict(answer)


def test_the_moon(run: Run) -> None:
    answer = told(run, "moon")
    assert set(answer) >= MOON_KEYS
    assert set(answer["geocentric"]) >= MOON_KEYS
    assert {"distance_km", "light_time_s", "true_size_km", "diameter_arcsec", "age_days"} <= set(
        answer
    )
    assert {"magnitude", "illuminated_fraction", "elongation_deg"} <= set(answer)
    assert len(answer["features"]) == 6722
    assert len(answer["coming_terminator"]) == 7
    for evening in answer["coming_terminator"]:
        assert set(evening) == {
            "utc", "altitude_deg", "colongitude_deg", "terminator_longitude_deg", "terminator",
            "features",
        }  # fmt: skip
    assert set(answer["features"][0]) == {
        "name", "kind", "latitude_deg", "longitude_deg", "diameter_km", "sun_altitude_deg",
        "resolved",
    }  # fmt: skip


def test_saturn(run: Run) -> None:
    answer = told(run, "saturn")
    assert {"ring_opening_deg", "ring_angle_deg", "ring_major_arcsec", "ring_minor_arcsec"} <= set(
        answer
    )
    assert {"distance_au", "light_time_s", "true_size_km"} <= set(answer)
    assert "Titan" in {moon["name"] for moon in answer["moons"]}
    assert "central_meridians_deg" not in answer


def test_uranus_among_the_stars(run: Run) -> None:
    answer = told(run, "uranus")
    assert answer["field_stars"]
    for star in answer["field_stars"]:
        assert set(star) == {"name", "magnitude", "separation_deg", "position_angle_deg"}
        assert star["separation_deg"] <= answer["field_deg"] / 2.0
    assert answer["moves_deg"] > 0.0
    assert 0.0 <= answer["moves_position_angle_deg"] <= 360.0
    assert "field_stars" not in told(run, "saturn")


def test_jupiter_and_mars(run: Run) -> None:
    jupiter, mars = told(run, "jupiter"), told(run, "mars")
    assert set(jupiter["central_meridians_deg"]) == {"I", "II", "III"}
    assert set(mars["central_meridians_deg"]) == {"I"}
    assert [moon["name"] for moon in jupiter["moons"]] == ["Io", "Europa", "Ganymede", "Callisto"]
    assert {"name", "east_arcsec", "north_arcsec", "magnitude", "state"} <= set(jupiter["moons"][0])
    for event in jupiter["events"]:
        assert set(event) == {"kind", "moon", "utc"}


def test_a_star_and_a_galaxy(run: Run) -> None:
    vega = told(run, "vega")
    assert vega["distance_ly"] == pytest.approx(25.0, abs=0.1)
    assert vega["light_time_s"] == pytest.approx(25.0 * 31557600.0, rel=0.01)
    assert told(run, "m 31")["diameter_arcsec"] == pytest.approx(11400.0)


def test_a_variable_star_has_stars_to_compare(run: Run) -> None:
    answer = told(run, "algol")
    assert 3 <= len(answer["comparison_stars"]) <= 6
    for star in answer["comparison_stars"]:
        assert set(star) == {"name", "magnitude", "separation_deg", "position_angle_deg"}
    assert "comparison_stars" not in told(run, "vega")
    _code, out, _err = run("about", "algol", *HERE)
    assert "compare with Mirfak: mag 1.8, 9.3° north (16°)" in out


def test_as_text(run: Run) -> None:
    code, out, _err = run("about", "saturn", *HERE, "--instrument", "150")
    assert code == 0
    assert "Saturn in 150 mm f/8, turned upside down" in out
    assert "ring: " in out


def test_what_nobody_knows(run: Run) -> None:
    code, _out, err = run("about", "nonsense star", *HERE)
    assert code == 1
    assert err.startswith("companion: ")


def test_a_name_that_the_moon_has_too_is_told(run: Run) -> None:
    code, out, err = run("about", "copernicus", *HERE)
    assert (code, err) == (0, "")
    assert "Copernicus is " in out
    assert "Copernicus is also a crater on the Moon, 96 km: ask for it as moon:Copernicus." in out
    assert told(run, "copernicus")["also"] == "moon:Copernicus"
    code, out, _err = run("about", "moon:Copernicus", *HERE)
    assert code == 0
    assert "Copernicus is a crater on the Moon" in out
