import csv
from pathlib import Path

import numpy as np
import pytest

from companion.sky import Bulge, DeepSky, Kind, LightFrom, load_catalogue
from companion.sky.deep_sky import KINDS, LIGHTS

TABLES = Path(__file__).parents[2] / "packaging" / "tables"


@pytest.fixture(scope="module")
def deep_sky() -> DeepSky:
    return load_catalogue().deep_sky


def test_every_messier_and_caldwell_number_is_there(deep_sky: DeepSky) -> None:
    assert sorted(deep_sky.messier_rows) == list(range(1, 111))
    assert sorted(deep_sky.caldwell_rows) == list(range(1, 110))


def test_every_number_of_the_ngc_and_ic_is_there(deep_sky: DeepSky) -> None:
    """The NGC ends at 7840, the IC at 5386 (Dreyer 1888, 1895, 1908)."""
    names = set(deep_sky.rows)
    stems = {name[:7] for name in names if name.startswith("NGC")}
    assert {f"NGC{number:04d}" for number in range(1, 7841)} <= stems
    stems = {name[:6] for name in names if name.startswith("IC")}
    assert {f"IC{number:04d}" for number in range(1, 5387)} <= stems


def test_a_target_carries_names_numbers_and_size(deep_sky: DeepSky) -> None:
    m31 = deep_sky.target(deep_sky.messier_rows[31])
    assert (m31.key, m31.name, m31.kind) == ("ngc:NGC0224", "M 31", Kind.GALAXY)
    assert m31.aliases[:1] == ("Andromeda Galaxy",)
    assert "NGC 224" in m31.aliases
    assert m31.major_arcmin is not None
    assert m31.minor_arcmin is not None
    assert m31.major_arcmin > m31.minor_arcmin > 60.0


def test_a_repeated_number_means_the_object(deep_sky: DeepSky) -> None:
    repeated = deep_sky.rows["NGC2244"]
    target = deep_sky.target(repeated)
    assert target.key == "ngc:NGC2239"
    assert {"NGC 2244", "Rosette Cluster"} <= set(target.aliases)


def test_repeats_end_at_an_object_that_is_none(deep_sky: DeepSky) -> None:
    columns = deep_sky.columns
    repeats = columns.duplicate_of[columns.duplicate_of >= 0]
    assert len(repeats) > 400
    assert (columns.duplicate_of[repeats] == -1).all()


def test_what_is_not_there_is_said_and_left_out(deep_sky: DeepSky) -> None:
    row = int(np.flatnonzero(~deep_sky.columns.real & (deep_sky.columns.ra_deg > 0))[0])
    target = deep_sky.target(row)
    assert "nothing is there" in target.note
    assert target.key not in {other.key for other in deep_sky.targets}


def test_an_estimated_brightness_is_said_to_be(deep_sky: DeepSky) -> None:
    columns = deep_sky.columns
    blue = columns.light_from == LIGHTS.index(LightFrom.BLUE)
    row = int(np.flatnonzero(blue & columns.real & (columns.duplicate_of < 0))[0])
    assert "estimated" in deep_sky.target(row).note
    assert "estimated" not in deep_sky.target(deep_sky.messier_rows[31]).note


def test_unknown_values_are_none_not_nan(deep_sky: DeepSky) -> None:
    for target in deep_sky.targets:
        for value in (target.magnitude, target.major_arcmin, target.minor_arcmin):
            assert value is None or -1.0 < value < 2000.0


def test_most_objects_have_a_brightness(deep_sky: DeepSky) -> None:
    known = [target for target in deep_sky.targets if target.magnitude is not None]
    assert len(known) > 0.8 * len(deep_sky.targets)


def test_all_of_messier_and_caldwell_is_checked_against_handbooks(deep_sky: DeepSky) -> None:
    with (TABLES / "handbook.csv").open(encoding="utf-8", newline="") as file:
        rows = {row["name"]: row for row in csv.DictReader(file)}
    listed = [*deep_sky.messier_rows.values(), *deep_sky.caldwell_rows.values()]
    names = {str(deep_sky.columns.name[deep_sky.original(row)]) for row in listed}
    assert names <= set(rows)
    assert len(rows) - len(names) > 150  # others that people look at
    assert all(row["source"] for row in rows.values())
    for name, row in rows.items():
        target = deep_sky.target(deep_sky.rows[name])
        for field in ("magnitude", "major_arcmin", "minor_arcmin", "part_arcmin", "part_magnitude"):
            if row[field]:
                assert getattr(target, field) == pytest.approx(float(row[field])), (name, field)


def test_the_light_of_a_star_is_not_that_of_its_nebula(deep_sky: DeepSky) -> None:
    blue = deep_sky.columns.light_from == LIGHTS.index(LightFrom.BLUE)
    nebula = deep_sky.columns.kind == KINDS.index(Kind.NEBULA)
    assert not (blue & nebula).any()


def test_dwarf_galaxies_have_no_bright_middle(deep_sky: DeepSky) -> None:
    def bulge(name: str) -> Bulge:
        return deep_sky.target(deep_sky.rows[name]).bulge

    assert bulge("NGC0224") is Bulge.LARGE  # Sb
    assert bulge("NGC0598") is Bulge.SMALL  # Sc
    for name in ("ESO351-030", "ESO356-004", "NGC0147", "IC1613", "NGC6822"):
        assert bulge(name) is Bulge.NONE
