import json
import sqlite3
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given, strategies as st

from companion.journal import Journal, JournalError, Settings
from companion.journal.settings import (
    LONGEST_SETTING,
    MOST_RECORDS,
    checked_setting,
    settings_of,
)

UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
BARRENS = {"name": "Loon Barrens", "latitude_deg": 45.2, "longitude_deg": -62.3}
PAN = {"name": "Dry Pan", "latitude_deg": -32.4, "longitude_deg": 20.8}
names = st.text(st.characters(codec="utf-8", exclude_characters="\0"), max_size=20)
usable = st.one_of(
    st.tuples(st.just("clock_correction_s"), st.floats(-1e6, 1e6)),
    st.tuples(st.just("low_limit_deg"), st.floats(0, 60)),
    st.tuples(st.just("rate_hz"), st.floats(0.1, 20)),
    st.tuples(st.just("hours"), st.sampled_from([(), ("20:30", "00:30"), ("04:00", "05:59")])),
    st.tuples(st.just("mount"), names),
    st.tuples(st.just("instrument"), names),
    st.tuples(
        st.just("compass_deviations_deg"), st.dictionaries(names, st.floats(-180, 180), max_size=5)
    ),
)


@given(usable)
def test_what_was_kept_comes_back(setting: tuple[str, object]) -> None:
    name, value = setting
    kept = json.dumps({"value": checked_setting(name, value)})
    settings = settings_of([(name, kept)])
    assert getattr(settings, name) == value
    assert settings.unusable == ()


def test_settings_outlive_the_program(open_journal: Callable[[], Journal]) -> None:
    first = open_journal()
    first.set(UTC_NOW, "sites", [BARRENS, PAN])
    first.set(UTC_NOW, "site", PAN)
    first.set(UTC_NOW, "compass_deviations_deg", {"Dry Pan": 1.5})
    first.set(UTC_NOW, "mount", "wooden")
    told = first.set(UTC_NOW, "mount", "iron")
    kept = open_journal().settings()
    assert kept == told
    assert kept.site == PAN
    assert kept.sites == (BARRENS, PAN)
    assert kept.mount == "iron"
    assert kept.compass_deviation_deg("Dry Pan") == 1.5
    assert kept.compass_deviation_deg("Loon Barrens") is None
    assert kept.record("sites", "Dry Pan") == PAN
    assert kept.record("mounts", "iron") is None


def test_a_site_can_be_forgotten(journal: Journal) -> None:
    journal.set(UTC_NOW, "site", PAN)
    assert journal.set(UTC_NOW, "site", None).site is None


def test_of_two_records_with_one_name_the_first_stays(journal: Journal) -> None:
    assert journal.set(UTC_NOW, "sites", [PAN, PAN | {"elevation_m": 1.0}]).sites == (PAN,)


@pytest.mark.parametrize(
    ("name", "value", "part"),
    [
        ("colour", 1, "no setting 'colour'"),
        ("unusable", (), "no setting 'unusable'"),
        ("low_limit_deg", -1, "from 0 to 60"),
        ("low_limit_deg", float("nan"), "from 0 to 60"),
        ("low_limit_deg", 10**400, "from 0 to 60"),
        ("rate_hz", "2", "from 0.1 to 20"),
        ("rate_hz", True, "from 0.1 to 20"),
        ("mount", "x" * 201, "at most 200"),
        ("mount", None, "text"),
        ("site", "Loon Barrens", "a record"),
        ("site", {"latitude_deg": 1.0}, "text of at most"),
        ("site", {"name": " "}, "some text"),
        ("site", {"name": "x", "height": float("inf")}, "finite numbers"),
        ("site", {"name": "x", "when": UTC_NOW}, "made of text"),
        ("site", {"name": "x", "horizon": "9" * LONGEST_SETTING}, "Shorten it"),
        ("sites", {"name": "x"}, "a list"),
        ("sites", [{"name": str(n)} for n in range(MOST_RECORDS + 1)], "at most 200 records"),
        ("hours", ["20:30"], "two different clock times"),
        ("hours", ["20:30", "20:30"], "two different clock times"),
        ("hours", ["20:30", "24:00"], "two different clock times"),
        ("hours", "20:30-00:30", "two different clock times"),
        ("compass_deviations_deg", [1.0], "by name of site"),
        ("compass_deviations_deg", {"x": 181.0}, "from -180 to 180"),
    ],
)
def test_what_cannot_be_used_is_refused_with_advice(
    journal: Journal, name: str, value: object, part: str
) -> None:
    before = journal.settings()
    with pytest.raises(JournalError) as caught:
        journal.set(UTC_NOW, name, value)
    assert part in str(caught.value)
    assert len(str(caught.value)) < 400
    assert journal.settings() == before


def test_a_deep_record_is_refused(journal: Journal) -> None:
    deep: dict[str, object] = {"name": "x"}
    for _ in range(100_000):
        deep = {"name": "x", "in": deep}
    with pytest.raises(JournalError, match="made of text"):
        journal.set(UTC_NOW, "site", deep)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "7",
        "{",
        "[]",
        '{"value": "x"}',
        "[" * 100_000,
        '{"value": NaN}',
        "\udcff",
        None,
        b"\xff",
    ],
)
def test_a_spoilt_row_costs_one_setting_only(text: object) -> None:
    settings = settings_of([("rate_hz", text), ("mount", '{"value": "iron"}'), ("later", "7")])
    assert settings == Settings(mount="iron", unusable=("rate_hz",))


def test_a_spoilt_row_on_disk_does_not_stop_the_journal(
    path: Path, open_journal: Callable[[], Journal]
) -> None:
    open_journal().set(UTC_NOW, "rate_hz", 5)
    stranger = sqlite3.connect(path)
    stranger.execute("UPDATE setting SET value = x'ff00'")
    stranger.commit()
    stranger.close()
    assert open_journal().settings() == Settings(unusable=("rate_hz",))
