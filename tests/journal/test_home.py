from pathlib import Path

import pytest

from companion.journal import (
    FILE_NAME,
    Fault,
    Journal,
    JournalError,
    Settings,
    home_of,
    prepared_home,
    read_settings,
)


def test_the_given_folder_comes_before_the_variable_and_that_before_the_usual_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    variable = {"COMPANION_HOME": str(tmp_path / "b")}
    assert home_of(str(tmp_path / "a"), variable) == tmp_path / "a"
    assert home_of(None, variable) == tmp_path / "b"
    usual = home_of(None, {"COMPANION_HOME": " "})
    assert usual == home_of(None, {})
    assert usual.is_absolute()
    assert usual.name == "companion"
    monkeypatch.chdir(tmp_path)
    assert home_of("a", {}) == tmp_path / "a"
    assert home_of("~/a", {}) == Path.home() / "a"
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("given", ["", "  ", "~nobody-is-called-so/a"])
def test_a_name_that_means_nothing_is_refused(given: str) -> None:
    with pytest.raises(JournalError, match="--home DIR"):
        home_of(given, {})


def test_the_folder_is_made_for_this_person_only(tmp_path: Path) -> None:
    home = tmp_path / "a" / "b"
    assert prepared_home(home) == home
    assert home.stat().st_mode & 0o777 == 0o700
    assert home.parent.stat().st_mode & 0o777 == 0o700
    assert prepared_home(home) == home


@pytest.mark.parametrize("below", ["", "a", "a/b"])
def test_a_home_that_is_a_file_is_refused_and_kept(tmp_path: Path, below: str) -> None:
    file = tmp_path / "file"
    file.write_text("mine")
    with pytest.raises(JournalError, match="is not a folder") as caught:
        prepared_home(file / below)
    assert caught.value.fault == Fault.UNREACHABLE
    assert file.read_text() == "mine"
    assert read_settings(file) == Settings()


@pytest.mark.parametrize("name", ["x" * 300, "a\0b"])
def test_a_folder_that_cannot_be_made_is_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(JournalError, match="cannot be made"):
        prepared_home(tmp_path / name)


@pytest.mark.parametrize("below", ["", "a", "a/b"])
def test_a_folder_that_may_only_be_read_is_refused(sealed: Path, below: str) -> None:
    with pytest.raises(JournalError, match="--home DIR") as caught:
        prepared_home(sealed / below)
    assert caught.value.fault == Fault.READ_ONLY


def test_a_folder_that_may_not_be_looked_into_is_said(
    plain_folder: Path, request: pytest.FixtureRequest
) -> None:
    plain_folder.chmod(0o000)
    request.getfixturevalue("unprivileged")
    with pytest.raises(JournalError, match="Permission denied"):
        read_settings(plain_folder)
    with pytest.raises(JournalError, match="Permission denied"):
        Journal(plain_folder / FILE_NAME)


def test_without_a_journal_there_are_the_defaults_and_nothing_is_made(tmp_path: Path) -> None:
    assert read_settings(tmp_path / "nowhere") == Settings()
    assert list(tmp_path.iterdir()) == []
