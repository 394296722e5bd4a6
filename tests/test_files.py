import os
import stat
from pathlib import Path

import pytest

from companion.advice import AdviceError
from companion.files import csv_text, plain_cell, write_whole


def _names(folder: Path) -> list[str]:
    return sorted(one.name for one in folder.iterdir())


def test_a_file_is_written_for_its_owner_alone(tmp_path: Path) -> None:
    path = tmp_path / "plan.csv"
    before = os.umask(0)
    try:
        write_whole(path, b"first")
        write_whole(path, b"second")
    finally:
        os.umask(before)
    assert path.read_bytes() == b"second"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert _names(tmp_path) == ["plan.csv"]


def test_a_link_is_never_followed(tmp_path: Path) -> None:
    other = tmp_path / "precious"
    other.write_text("mine")
    for name, to in (("link", other), ("loose", tmp_path / "nowhere")):
        (tmp_path / name).symlink_to(to)
        with pytest.raises(AdviceError, match="is a link"):
            write_whole(tmp_path / name, b"data")
        assert (tmp_path / name).is_symlink()
    # Nor the name under which a draft could be expected.
    (tmp_path / "plan.csv.part").symlink_to(other)
    write_whole(tmp_path / "plan.csv", b"data")
    assert other.read_text() == "mine"
    assert not (tmp_path / "nowhere").exists()


def test_what_was_read_is_never_written_over(tmp_path: Path) -> None:
    read = tmp_path / "list.csv"
    read.write_text("mine")
    (tmp_path / "again.csv").hardlink_to(read)
    for name in ("list.csv", "again.csv", "../" + tmp_path.name + "/list.csv"):
        with pytest.raises(AdviceError, match="being read"):
            write_whole(tmp_path / name, b"data", [tmp_path / "missing", read])
    assert read.read_text() == "mine"


@pytest.mark.parametrize("kind", ["folder", "pipe", "nowhere/x", "a\0b", "x" * 300])
def test_what_is_no_place_for_a_file_is_refused_in_words(tmp_path: Path, kind: str) -> None:
    path = tmp_path / kind
    if kind == "folder":
        path.mkdir()
    elif kind == "pipe":
        os.mkfifo(path)
    before = _names(tmp_path)
    with pytest.raises(AdviceError, match="cannot be written"):
        write_whole(path, b"data")
    assert _names(tmp_path) == before


def test_a_file_that_must_be_new_leaves_an_old_one_alone(tmp_path: Path) -> None:
    write_whole(tmp_path / "a", b"first", replace=False)
    with pytest.raises(AdviceError, match="is there already"):
        write_whole(tmp_path / "a", b"second", replace=False)
    assert (tmp_path / "a").read_bytes() == b"first"


@pytest.mark.parametrize("call", ["write", "fsync", "replace"])
def test_a_disk_that_refuses_leaves_what_was_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    path = tmp_path / "plan.csv"
    write_whole(path, b"first")

    def refuse(*_words: object, **_options: object) -> None:
        raise OSError(28, "No space left on device")

    owner = {
        "write": "pathlib.Path.write_bytes",
        "fsync": "os.fsync",
        "replace": "pathlib.Path.replace",
    }[call]
    monkeypatch.setattr(owner, refuse)
    with pytest.raises(AdviceError, match="No space left"):
        write_whole(path, b"second" * 1000)
    monkeypatch.undo()
    assert path.read_bytes() == b"first"
    assert _names(tmp_path) == ["plan.csv"]


def test_no_text_of_a_table_is_a_formula() -> None:
    texts = ["=1+1", "+cmd|' /C calc'!A0", "-2+3", "@SUM(A1)", "\t=1", "＝1", "M 31", "", "'=x"]
    lines = csv_text(("name",), ([text] for text in texts)).splitlines()[1:]
    assert all(line.lstrip('"')[:1] not in "=+-@\t＝" or line in {"", '""'} for line in lines)
    assert plain_cell("'=1+1") == "=1+1"
    assert plain_cell("'tis") == "'tis"
    # Numbers stay numbers, as text and as such.
    assert csv_text(("a", "b"), [("-62.3", -62.3)]).splitlines()[1] == "-62.3,-62.3"
