import os
from pathlib import Path

import pytest

from companion.advice import AdviceError
from companion.untrusted import Limits, check_size, json_object, read_file, text_of

LIMITS = Limits("a list", 1000, kept="The queue is as it was.", do="Choose another.")


def test_a_file_is_read_whole(tmp_path: Path) -> None:
    (tmp_path / "list").write_bytes(b"x" * 1000)
    assert read_file(tmp_path / "list", LIMITS) == b"x" * 1000


def test_what_is_too_large_is_refused_with_what_was_kept(tmp_path: Path) -> None:
    (tmp_path / "list").write_bytes(b"x" * 1001)
    with pytest.raises(AdviceError, match=r"not a list.*queue is as it was.*Choose another"):
        read_file(tmp_path / "list", LIMITS)
    with pytest.raises(AdviceError, match="not a list"):
        check_size("x" * 1001, LIMITS)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_what_may_never_end_is_refused_at_once(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    for path in (tmp_path / "pipe", tmp_path, Path("/dev/zero")):
        with pytest.raises(AdviceError, match="cannot be read"):
            read_file(path, LIMITS)


@pytest.mark.parametrize("name", ["missing", "a\0b", "x" * 5000, "~nobody-of-that-name/x"])
def test_names_of_nothing_are_refused_in_words(tmp_path: Path, name: str) -> None:
    with pytest.raises(AdviceError, match="cannot be read"):
        read_file(name, LIMITS)


def test_text_of_any_encoding() -> None:
    for encoding in ("utf-8", "utf-8-sig", "utf-16", "cp1252"):
        assert text_of("café °".encode(encoding)) == "café °"
    assert text_of(b"\x81\x00") == "\x81"


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("[1]", "not an object"),
        ('{"a": ' + "9" * 309 + "}", "309 digits"),
        ('{"a": 1e999}', "too large"),
        ('{"a": NaN}', "NaN is not a number"),
        ('{"a": "\\ud800"}', "half a character"),
        ('{"a": ' + "[" * 100_000, "nested too deeply"),
    ],
)
def test_objects_that_nobody_can_use_are_refused(text: str, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        json_object(text)
