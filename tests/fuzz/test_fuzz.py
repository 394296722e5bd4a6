"""Nothing that anybody types or hands over as a file makes a reader fail.

A long run by hand: ``python tests/benchmarks/fuzz.py SECONDS``.
"""

from contextlib import suppress
from functools import cache

import pytest
from hypothesis import given, settings, strategies as st

from fuzz.targets import CASES, Reader, readers

_NAMES = (
    "list", "list of bytes", "horizon", "mount", "sightings", "sightings' head", "request", "time",
    "latitude", "longitude", "place", "direction", "search", "name",
    "elements", "Kp",
)  # fmt: skip


@cache
def _readers() -> dict[str, Reader]:
    return readers()


def _try(reader: Reader, text: str) -> None:
    with suppress(reader.refuses):  # refused in words
        reader.read(text)


def test_all_readers_are_tried() -> None:
    assert set(_NAMES) == set(_readers())


@pytest.mark.parametrize("name", _NAMES)
def test_what_broke_once_breaks_no_more(name: str) -> None:
    for text in CASES:
        _try(_readers()[name], text)


@pytest.mark.parametrize("name", _NAMES)
def test_anything_is_answered_or_refused(name: str) -> None:
    reader = _readers()[name]

    @settings(max_examples=40, deadline=None, database=None)
    @given(st.data())
    def tried(data: st.DataObject) -> None:
        _try(reader, data.draw(reader.fed))

    tried()
