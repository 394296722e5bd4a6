import json
from datetime import UTC, datetime
from pathlib import Path

import pytest

from companion.advice import AdviceError
from companion.events import KeptElements, read_elements
from companion.sky import CARRIED, LOON_BARRENS, Ephemeris, Match, load_catalogue, load_search

COMET = (
    "    CK26A010  2026 12 20.5000  0.500000  1.002000  130.5753  282.4407   89.4271  20261121"
    "   6.0  4.0  C/2026 A1 (Example)                                       MPC 00000"
)
CERES = (
    "00001    3.34  0.15 K26BL 188.70269   73.27343   80.25221   10.58780  0.0794013  0.21424651"
    "   2.7660512  0 E2024-V47  7258 123 1801-2024 0.80 M-v 30k MPCLINUX   4000      (1) Ceres"
)
STATION = (
    "ISS (ZARYA)\n"
    "1 25544U 98067A   08264.51782528 -.00002182  00000-0 -11606-4 0  2927\n"
    "2 25544  51.6416 247.4627 0006703 130.5360 325.0288 15.72125391563537"
)
MESSAGE = {
    "OBJECT_NAME": "ISS (ZARYA)", "OBJECT_ID": "1998-067A", "EPOCH": "2008-09-20T12:25:40.104192",
    "MEAN_MOTION": 15.72125391, "ECCENTRICITY": 0.0006703, "INCLINATION": 51.6416,
    "RA_OF_ASC_NODE": 247.4627, "ARG_OF_PERICENTER": 130.536, "MEAN_ANOMALY": 325.0288,
    "NORAD_CAT_ID": 25544, "BSTAR": -0.11606e-4, "MEAN_MOTION_DOT": -0.2182e-4,
    "MEAN_MOTION_DDOT": 0,
}  # fmt: skip
UTC_THEN = datetime(2026, 11, 26, 22, tzinfo=UTC)


def test_formats_may_stand_in_one_file() -> None:
    read = read_elements(f"# mine\n{COMET}\n\n{CERES}\n{STATION}")
    assert [one.key for one in read.elements] == ["comet:C/2026 A1", "minor:1", "satellite:25544"]
    assert read.refused_count == 0


def test_a_message_says_the_same_as_two_lines() -> None:
    pairs = "\n".join(["CCSDS_OMM_VERS = 2.0", *(f"{k} = {v}" for k, v in MESSAGE.items())])
    xml = "<ndm>" + "".join(f"<{k}>{v}</{k}>" for k, v in MESSAGE.items()) + "</ndm>"
    table = ",".join(MESSAGE) + "\n" + ",".join(map(str, MESSAGE.values()))
    (lines,) = read_elements(STATION).elements
    for text in (json.dumps([MESSAGE]), pairs, xml, table):
        (message,) = read_elements(text).elements
        assert message.numbers == pytest.approx(lines.numbers)
        assert message.epoch_jd == pytest.approx(lines.epoch_jd, abs=1e-8)


def test_json_of_comets_and_minor_planets() -> None:
    comet = {
        "Designation_and_name": "1P/Halley", "Year_of_perihelion": 1986, "Month_of_perihelion": 2,
        "Day_of_perihelion": 9.4589, "Perihelion_dist": 0.587104, "e": 0.967277,
        "Peri": 111.8657, "Node": 58.8601, "i": 162.2422, "H": 4.0, "G": 6.0,
    }  # fmt: skip
    minor = {
        "Number": "(1)", "Name": "Ceres", "Epoch": 2461365.5, "M": 188.7, "Peri": 73.3,
        "Node": 80.3, "i": 10.6, "e": 0.0794, "a": 2.766, "H": 3.34, "G": 0.15,
    }  # fmt: skip
    halley, ceres = read_elements(json.dumps([comet, minor])).elements
    assert (halley.key, ceres.key, ceres.name) == ("comet:1P", "minor:1", "1 Ceres")


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        (COMET[:90], "ends before its name"),
        (COMET.replace("  0.500000", " 0.500000"), "columns have slipped"),
        (COMET.replace("1.002000", "1.00x000"), "eccentricity '1.00x000' is not a number"),
        (COMET.replace("2026 12", "2026 13"), "date is none"),
        (CERES[:80], "ends before its semimajor axis"),
        (STATION.replace("2927", "2926"), "checksum of the first line is not 7"),
        (STATION[:-10], "second line has 59 columns"),
        (STATION.partition("\n2 ")[0], "second line of this satellite is missing"),
        ("nothing of the kind", "no format that is known"),
        ('[{"M": 1, "Peri": 2}]', "is not a number"),
        ('[{"a": ', "not a whole JSON object"),
        ('[{"e": NaN}]', "NaN is not a number"),
    ],
)
def test_a_bad_line_is_refused_with_its_reason(line: str, reason: str) -> None:
    read = read_elements(line)
    assert not read.elements
    assert reason in read.refused[0].reason


def test_a_file_of_nothing_or_of_too_much_is_refused() -> None:
    with pytest.raises(AdviceError, match="holds no elements"):
        read_elements("\n\n# nothing\n")
    with pytest.raises(AdviceError, match="more than 250000 lines"):
        read_elements("x\n" * 300_000)
    with pytest.raises(AdviceError, match="more than 64 MB"):
        read_elements(b" " * 64_000_001)


def test_kept_elements_are_targets_like_any_other(tmp_path: Path, ephemeris: Ephemeris) -> None:
    kept = KeptElements(tmp_path)
    assert kept.called("Ceres") == ()
    kept.keep(read_elements(f"{COMET}\n{CERES}").elements, UTC_THEN)
    CARRIED.use(kept)
    try:
        ceres = load_search().resolve("ceres")
        assert ceres == load_search().resolve("1 Ceres") == load_catalogue().target("minor:1")
        seen = ephemeris.moment(LOON_BARRENS, UTC_THEN).body(ceres.body)
        assert seen.magnitude == pytest.approx(9.0, abs=1.0)
        assert 1.5 < seen.distance_au < 4.0
        hyperbola = load_search().resolve("C/2026 A1")
        moment = ephemeris.moment(LOON_BARRENS, datetime(2027, 6, 1, tzinfo=UTC))
        assert moment.body(hyperbola.body).distance_au > 1.0
        (exact, *_more) = load_search().find("ceres")
        assert (exact.target.key, exact.match, exact.at_once) == ("minor:1", Match.EXACT, True)
        assert any(hit.target.key == "minor:1" for hit in load_search().find("cer"))
    finally:
        CARRIED.use(KeptElements(tmp_path / "nowhere"))


def test_a_brought_body_answers_to_its_whole_name_only(tmp_path: Path) -> None:
    """What merely begins so is a guess, and two of one name are two."""
    kept = KeptElements(tmp_path)
    twin = STATION.replace("25544", "25545").splitlines()
    twin[1:] = [f"{line[:68]}{_checksum(line)}" for line in twin[1:]]
    kept.keep(read_elements("\n".join([CERES, STATION, *twin])).elements, UTC_THEN)
    CARRIED.use(kept)
    try:
        for part in ("cer", "iss (za", "1 cere"):
            with pytest.raises(AdviceError):
                load_search().resolve(part)
        with pytest.raises(AdviceError, match="several"):
            load_search().resolve("ISS (ZARYA)")
        assert load_search().resolve("satellite 25545").key == "satellite:25545"
    finally:
        CARRIED.use(KeptElements(tmp_path / "nowhere"))


def test_what_was_read_since_is_found_too(tmp_path: Path) -> None:
    kept, other = KeptElements(tmp_path), KeptElements(tmp_path)
    kept.keep(read_elements(CERES).elements, UTC_THEN)
    assert other.called("Ceres")
    assert not other.called("ISS (ZARYA)")
    kept.keep(read_elements(STATION).elements, UTC_THEN)
    assert other.called("ISS (ZARYA)")


def _checksum(line: str) -> int:
    return sum(int(sign) if sign.isdigit() else sign == "-" for sign in line[:68]) % 10


def test_old_elements_are_warned_of_and_refused_where_they_do_not_hold(
    tmp_path: Path, ephemeris: Ephemeris
) -> None:
    kept = KeptElements(tmp_path)
    kept.keep(read_elements(STATION).elements, UTC_THEN)
    (station,) = read_elements(STATION).elements
    assert "too old to be used" in station.age_words(UTC_THEN)
    CARRIED.use(kept)
    try:
        target = load_search().resolve("ISS (ZARYA)")
        with pytest.raises(AdviceError, match="elements hold from 2008-08-21"):
            ephemeris.moment(LOON_BARRENS, UTC_THEN).body(target.body)
        then = datetime(2008, 9, 20, 12, 30, tzinfo=UTC)
        assert ephemeris.moment(LOON_BARRENS, then).body(target.body).distance_au < 1e-4
    finally:
        CARRIED.use(KeptElements(tmp_path / "nowhere"))


def test_newer_elements_take_the_place_of_older_ones(tmp_path: Path) -> None:
    kept = KeptElements(tmp_path)
    kept.keep(read_elements(CERES).elements, UTC_THEN)
    kept.keep(read_elements(CERES.replace("K26BL", "K26C1")).elements, UTC_THEN)
    mover = kept.mover("minor:1")
    assert mover is not None
    assert mover.target.note == "elements of 2026-12-01"


def test_a_damaged_file_of_kept_elements_holds_nothing(tmp_path: Path) -> None:
    (tmp_path / "elements.sqlite").write_bytes(b"no database at all" * 100)
    kept = KeptElements(tmp_path)
    assert kept.called("Ceres") == ()
    assert kept.mover("minor:1") is None
    with pytest.raises(AdviceError, match="cannot be kept"):
        kept.keep(read_elements(CERES).elements, UTC_THEN)
