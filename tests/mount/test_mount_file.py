import ast
import inspect
from pathlib import Path

import pytest
from hypothesis import given, strategies as st

from companion.advice import AdviceError
from companion.mount import (
    CountedFrom,
    Dial,
    Mount,
    checked_mount,
    mount_text,
    parse_mount,
    read_mount,
)


def reals(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False)


dials = st.builds(
    Dial,
    clockwise=st.booleans(),
    zero_deg=reals(-360.0, 360.0),
    low_deg=reals(-180.0, 0.0),
    high_deg=reals(1.0, 360.0),
    step_deg=reals(0.001, 45.0),
    digital=st.booleans(),
)
names = st.text(st.characters(exclude_categories=["C", "Z"]), min_size=1, max_size=30)
mounts = st.builds(
    Mount,
    name=names,
    azimuth=dials,
    altitude=st.builds(
        lambda dial, counted, level: Dial(
            dial.clockwise, dial.zero_deg, dial.low_deg, dial.high_deg, dial.step_deg,
            dial.digital, counted, level,
        ),
        dials,
        st.sampled_from(CountedFrom),
        st.booleans(),
    ),
    reach_low_deg=reals(-90.0, 0.0),
    reach_high_deg=reals(1.0, 180.0),
    cable_limit_deg=st.none() | reals(180.0, 3600.0),
    centring_sigma_deg=reals(0.0, 5.0),
    levelled_with_care=st.booleans(),
)  # fmt: skip


@given(mounts)
def test_a_mount_comes_back_from_its_file(mount: Mount) -> None:
    assert parse_mount(mount_text(mount)) == mount


def test_the_documented_example_is_a_mount() -> None:
    source = Path(inspect.getfile(parse_mount)).read_text()
    documentation = ast.get_docstring(ast.parse(source)) or ""
    example = documentation.partition("::\n")[2]
    mount = parse_mount("\n".join(line.removeprefix("    ") for line in example.splitlines()))
    assert mount.name == "Wooden alt-az"
    assert mount.cable_limit_deg == 270.0
    assert mount.altitude == Dial(low_deg=-10.0, high_deg=100.0, step_deg=0.1, digital=True)


def test_a_name_is_enough() -> None:
    assert parse_mount('name = "plain"') == Mount("plain")


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("", "has no name"),
        ("name = ", "not TOML"),
        ("x = " + "[" * 5000, "not TOML"),
        ('name = "a"\nmotor = true', "unknown key motor"),
        ('name = "a"\n[azimuth]\nspeed = 3', "unknown key azimuth.speed"),
        ("name = 7", "name is '7'"),
        ('name = "a"\nlevelled_with_care = "yes"', "levelled_with_care"),
        ('name = "a"\ncable_limit_deg = true', "cable_limit_deg"),
        ('name = "a"\nreach_low_deg = 1e400', "reach_low_deg"),
        ('name = "a"\nreach_low_deg = nan', "reach_low_deg"),
        ('name = "a"\nreach_high_deg = -90', "reach_low_deg is -5 and reach_high_deg is -90"),
        ('name = "a"\nazimuth = 3', "azimuth is '3'"),
        ('name = "a"\n[azimuth]\nstep_deg = 0', "azimuth.step_deg 0 is outside"),
        ('name = "a"\n[azimuth]\nlow_deg = 360\nhigh_deg = 0', "azimuth.low_deg is 360"),
        ('name = "a"\n[azimuth]\ncounted_from = "zenith"', "described as an altitude dial"),
        ('name = "a"\n[altitude]\ncounted_from = "nadir"', "counted_from"),
        ('name = "a\\u0007"', "name is empty"),
        ('name = "  "', "name is empty"),
        ('name = "' + "x" * 90 + '"', "too long"),
    ],
)
def test_what_makes_no_sense_is_refused(text: str, wrong: str) -> None:
    with pytest.raises(AdviceError) as caught:
        parse_mount(text)
    assert wrong in caught.value.wrong
    assert caught.value.do
    assert caught.value.kept == "No mount was changed."


def test_files_are_read_with_care(tmp_path: Path) -> None:
    file = tmp_path / "mount.toml"
    file.write_text('\ufeffname = "Größe"', encoding="utf-8")
    assert read_mount(file).name == "Größe"
    file.write_bytes(b'name = "\xff"')
    with pytest.raises(AdviceError, match="not UTF-8"):
        read_mount(file)
    file.write_bytes(b"#" * 70_000)
    with pytest.raises(AdviceError, match="more than 64 kB"):
        read_mount(file)
    with pytest.raises(AdviceError, match="cannot be read"):
        read_mount(tmp_path / "none.toml")
    with pytest.raises(AdviceError, match="cannot be read"):
        read_mount(tmp_path)


@given(st.text(max_size=200))
def test_no_text_breaks_it(text: str) -> None:
    with pytest.raises(AdviceError):
        parse_mount("name = 1\n" + text)


def test_a_mount_from_elsewhere_is_checked_alike() -> None:
    mount = Mount("fine")
    assert checked_mount(mount) is mount
    with pytest.raises(AdviceError, match="level_on_tube"):
        checked_mount(Mount("odd", azimuth=Dial(level_on_tube=True)))
