"""What reads text from strangers, and what to feed it: every reader answers or refuses in words."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final

from hypothesis import strategies as st

from companion.advice import AdviceError
from companion.events import mover_of, read_elements, read_kp
from companion.mount import Mount, parse_mount, parse_sightings
from companion.night import read_horizon, read_list
from companion.sky import (
    load_search,
    parse_direction,
    parse_latitude,
    parse_longitude,
    parse_place,
    parse_time,
)
from companion.untrusted import json_object

NOW = datetime(2026, 11, 1, 5, 30, tzinfo=UTC)
_NUMBERS: Final = st.one_of(
    st.integers().map(str),
    st.floats().map(repr),
    st.integers(1, 400).map("9".__mul__),
    st.sampled_from(["nan", "inf", "-inf", "1e999", "٣", "½", "−5", "0x10", "1_000", "00"]),
)
_SEPARATORS: Final = st.sampled_from([",", ";", "\t", " ", "\r", "\n", "\r\n", '"', "'", ":", "°"])
_WORDS: Final = st.one_of(
    st.text(max_size=12),
    _NUMBERS,
    st.sampled_from(
        [
            "M 31",
            "NGC 224",
            "α Lyr",
            "r car",
            "R Car",
            "Saturn",
            "zenith",
            "name",
            "ra",
            "dec",
            "utc",
            "target",
            "H",
            "N",
            "S",
            "E",
            "W",
            "Z",
            "#",
        ]
    ),
)
MESSES: Final = st.lists(st.one_of(_WORDS, _SEPARATORS), max_size=40).map("".join)
LINES: Final = st.lists(st.lists(_WORDS, max_size=6).map(",".join), max_size=12).map("\n".join)
_VALUES: Final = st.recursive(
    st.one_of(_NUMBERS, st.sampled_from(["true", '"x"', "[1]", "1979-05-27", '"\\ud800"', "null"])),
    lambda inner: st.lists(inner, max_size=3).map(lambda parts: "[" + ",".join(parts) + "]"),
    max_leaves=5,
)
_KEYS: Final = st.sampled_from(
    [
        "name",
        "azimuth",
        "altitude",
        "azimuth.step_deg",
        "step_deg",
        "zero_deg",
        "low_deg",
        "reach_high_deg",
        "a.b.c",
    ]
)
TOML: Final = st.lists(
    st.one_of(
        st.tuples(_KEYS, _VALUES).map(" = ".join), st.sampled_from(["[azimuth]", "[a.b]", "[[x]]"])
    ),
    max_size=8,
).map(lambda lines: 'name = "x"\n' + "\n".join(lines))
JSON: Final = st.dictionaries(st.sampled_from(["target", "at", "lat", "lon"]), _VALUES).map(
    lambda pairs: "{" + ",".join(f'"{key}":{value}' for key, value in pairs.items()) + "}"
)
# Lines as they are published, of which a fuzzer changes some places.
_COMET: Final = (
    "    CK26A010  2026 12 20.5000  0.500000  1.002000  130.5753  282.4407   89.4271  20261121"
    "   6.0  4.0  C/2026 A1 (Example)                                       MPC 00000"
)
_CERES: Final = (
    "00001    3.34  0.15 K26BL 188.70269   73.27343   80.25221   10.58780  0.0794013  0.21424651"
    "   2.7660512  0 E2024-V47  7258 123 1801-2024 0.80 M-v 30k MPCLINUX   4000      (1) Ceres"
)
_STATION: Final = (
    "ISS (ZARYA)\n"
    "1 25544U 98067A   08264.51782528 -.00002182  00000-0 -11606-4 0  2927\n"
    "2 25544  51.6416 247.4627 0006703 130.5360 325.0288 15.72125391563537"
)
_MESSAGE: Final = """[{"OBJECT_NAME": "A", "OBJECT_ID": "1998-067A", "NORAD_CAT_ID": 25544,
"EPOCH": "2008-09-20T12:25:40.104192", "MEAN_MOTION": 15.72125391, "ECCENTRICITY": 0.0006703,
"INCLINATION": 51.6416, "RA_OF_ASC_NODE": 247.4627, "ARG_OF_PERICENTER": 130.536,
"MEAN_ANOMALY": 325.0288, "BSTAR": 0.1e-4, "MEAN_MOTION_DOT": 0, "MEAN_MOTION_DDOT": 0}]"""
_KP: Final = (
    '[{"time_tag":"2024-05-10T18:00:00","Kp":8.67}]',
    '[["time_tag","Kp"],["2024-05-10 18:00:00.000","8.67"]]',
    "2024 05 10 18.0 19.50 33732.75000 33732.81250  8.667  300 1",
    "time,Kp\n2024-05-10T18:00,9-",
)


def _damaged(samples: tuple[str, ...]) -> st.SearchStrategy[str]:
    """Give good lines with some places overwritten."""

    def damage(drawn: tuple[str, list[tuple[int, int, str]]]) -> str:
        text, changes = drawn
        for at, length, word in changes:
            place = at % (len(text) + 1)
            text = text[:place] + word + text[place + length :]
        return text

    change = st.tuples(st.integers(0, 2000), st.integers(0, 12), st.one_of(_WORDS, _SEPARATORS))
    return st.tuples(st.sampled_from(samples), st.lists(change, max_size=5)).map(damage)


def _moved(text: str) -> None:
    """Read elements and make movers of them."""
    for one in read_elements(text).elements:
        mover_of(one)


_SIGHTINGS_HEAD = "utc,target,azimuth_reading_deg,altitude_reading_deg\n"


@dataclass(frozen=True)
class Reader:
    """One reader with what it is fed, and how it refuses."""

    read: Callable[[str], object]
    fed: st.SearchStrategy[str]
    refuses: type[Exception] = AdviceError


def readers() -> dict[str, Reader]:
    """Give all readers by name; the heavy ones share one catalogue."""
    search = load_search()
    return {
        "list": Reader(lambda text: read_list(text, search), st.one_of(LINES, MESSES)),
        "list of bytes": Reader(
            lambda text: read_list(text.encode("utf-16", "replace"), search), LINES
        ),
        "horizon": Reader(read_horizon, st.one_of(LINES, MESSES)),
        "mount": Reader(parse_mount, st.one_of(TOML, MESSES)),
        "sightings": Reader(
            lambda text: parse_sightings(_SIGHTINGS_HEAD + text, Mount("x")),
            st.one_of(LINES, MESSES),
        ),
        "sightings' head": Reader(lambda text: parse_sightings(text, Mount("x")), MESSES),
        "request": Reader(json_object, st.one_of(JSON, MESSES), ValueError),
        "time": Reader(lambda text: parse_time(text, "America/Halifax", NOW), MESSES),
        "latitude": Reader(parse_latitude, MESSES),
        "longitude": Reader(parse_longitude, MESSES),
        "place": Reader(parse_place, MESSES),
        "direction": Reader(parse_direction, MESSES),
        "search": Reader(search.find, st.one_of(_WORDS, MESSES)),
        "elements": Reader(
            _moved, st.one_of(_damaged((_COMET, _CERES, _STATION, _MESSAGE)), MESSES)
        ),
        "Kp": Reader(read_kp, st.one_of(_damaged(_KP), MESSES)),
        "name": Reader(search.resolve, st.one_of(_WORDS, MESSES)),
    }


# What broke a reader once; each is tried with every reader.
CASES: Final = (
    "",
    "\r0 5\r90 12\r",
    '"' + "x" * 140_000 + '",1\n0,5',
    '{"target":"saturn","at":"0001-01-01","lat":10,"lon":60}',
    '{"target":"saturn","lat":' + "9" * 309 + ',"lon":3}',
    '{"target":"\\ud800","lat":10,"lon":3}',
    '{"target":{"ra_deg":1e999,"dec_deg":1}}',
    "[" * 100_000,
    'name = "x"\ncentring_sigma_deg = ' + "9" * 60_000,
    'name = "x"\n' + "a." * 15_000 + "a = 1",
    'name = "x"\nreach_high_deg = 0x' + "f" * 39,
    "0001-01-01",
    "9999-12-31T23:59:59+14:00",
    "٣٤:٥٦",
    "0.00-2360",
    "\ud800",
    "\0" * 100,
)
