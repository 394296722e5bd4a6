"""What reads text from strangers, and what to feed it: every reader answers or refuses in words."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final

from hypothesis import strategies as st

from companion.advice import AdviceError
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
    "\ud800",
    "\0" * 100,
)
