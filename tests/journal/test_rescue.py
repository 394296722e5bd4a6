"""Damaged journals: set aside, gone through, and every row that is whole brought back."""

import random
import shutil
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from companion.journal import (
    FILE_NAME,
    Fault,
    Journal,
    JournalError,
    Mark,
    Outcome,
    asides,
    read_settings,
    rescue,
    rescued_settings,
    ticks,
)
from companion.journal.database import put_aside
from companion.journal.found_rows import readable_rows

from .damage import BEGUN_UTC, DAMAGES, HORIZON, cells_of, damage, make_journal, whole_numbers

NIGHT = "2026-10-10"
LATER_UTC = datetime(2026, 10, 12, 23, 0, tzinfo=UTC)
VEGA = {"key": "hip:91262", "name": "Vega"}


@pytest.fixture(scope="module")
def killed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[int, bytes]]:
    """A journal as a killed window leaves it, and what every event of it looks like."""
    home = tmp_path_factory.mktemp("killed")
    make_journal(home, 100)
    shutil.copytree(home, home / "copy")
    return home, cells_of(home / "copy" / FILE_NAME)


def _copy(killed: tuple[Path, dict[int, bytes]], home: Path) -> Path:
    for part in killed[0].glob(FILE_NAME + "*"):
        shutil.copyfile(part, home / part.name)
    return home / FILE_NAME


def _numbers(path: Path) -> set[int]:
    with closing(Journal(path)) as journal:
        ticks(journal)
        return {n for (n,) in journal.connection.execute("SELECT number FROM event")}


def _fault(path: Path) -> Fault | None:
    """Open a journal and give what is the matter with it."""
    try:
        Journal(path).close()
    except JournalError as error:
        return error.fault
    return None


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("kind", DAMAGES)
def test_every_whole_row_comes_back_whatever_happened(
    killed: tuple[Path, dict[int, bytes]], tmp_path: Path, kind: str, seed: int
) -> None:
    path = _copy(killed, tmp_path)
    damage(path, kind, random.Random(f"{kind} {seed}"))  # noqa: S311 - no secrets
    whole = whole_numbers(path, killed[1])
    before = [part.read_bytes() for part in sorted(tmp_path.glob("*[!m]"))]
    fault = _fault(path)
    if fault is not None:
        assert fault is Fault.DAMAGED
        assert [part.read_bytes() for part in sorted(tmp_path.glob("*[!m]"))] == before
        assert rescue(put_aside(path), path).events >= len(whole)
    assert _numbers(path) >= whole
    # Nothing else in the folder claims to hold more.
    assert asides(tmp_path) == ()


def test_an_undamaged_journal_comes_back_whole(
    killed: tuple[Path, dict[int, bytes]], tmp_path: Path
) -> None:
    path = _copy(killed, tmp_path)
    rows = readable_rows(path)
    assert set(rows.events) == set(range(1, 102))  # a horizon and a hundred marks
    assert (rows.lost, rows.strays) == (0, [])
    assert set(rows.settings) == {"sites", "mount"}
    settings = rescued_settings(path)
    assert settings.mount == "wooden"
    assert settings.sites[0]["horizon"] == HORIZON
    rescued = rescue(put_aside(path), path)
    assert str(rescued) == (
        "101 entries were brought back from journal-aside-1.sqlite; none was lost."
    )
    with closing(Journal(path)) as journal:
        assert len(ticks(journal)) == 100
        assert journal.settings().sites[0]["horizon"] == HORIZON
    assert sorted(part.name for part in tmp_path.iterdir()) == [
        "journal-aside-1-rescued.sqlite",
        "journal-aside-1-rescued.sqlite-wal",
        FILE_NAME,
    ]


def test_what_was_written_meanwhile_follows_what_is_brought_back(
    killed: tuple[Path, dict[int, bytes]], tmp_path: Path
) -> None:
    path = _copy(killed, tmp_path)
    aside = put_aside(path)
    horizon = {"name": "Dry Pan", "horizon": [[0.0, 1.0]]}
    with closing(Journal(path)) as journal:
        journal.set(LATER_UTC, "mount", "iron")
        journal.mark(NIGHT, LATER_UTC, Mark(VEGA, Outcome.FOUND, site=horizon))
        journal.note(NIGHT, LATER_UTC, "blue-white", VEGA)
        journal.sight(NIGHT, LATER_UTC, "wooden", {"n": 1})
        sighted = journal.evening(NIGHT).sightings[0].number
        journal.set_aside(NIGHT, LATER_UTC, [sighted])
        journal.mark(NIGHT, LATER_UTC, Mark({"key": "a", "name": "A"}, Outcome.FOUND))
        journal.undo(NIGHT, LATER_UTC)
    rescue(aside, path)
    with closing(Journal(path)) as journal:
        state = journal.evening(NIGHT)
        assert len(state.queue) == 41
        vega = state.queue[-1]
        assert (vega.key, vega.note, vega.marked) == ("hip:91262", "blue-white", 101 + 2)
        assert [entry.set_aside for entry in state.sightings] == [True]
        assert state.flaws == ()
        assert journal.settings().mount == "iron"  # the later one
        marked = journal.connection.execute("SELECT payload FROM event WHERE number = 103")
        assert '"horizon":102' in marked.fetchone()[0]
        assert journal.undo(NIGHT, LATER_UTC).event is not None
    # A second rescue of the same file brings nothing twice.
    done = tmp_path / "journal-aside-1-rescued.sqlite"
    shutil.copyfile(done, tmp_path / "journal-aside-9.sqlite")
    shutil.copyfile(f"{done}-wal", tmp_path / "journal-aside-9.sqlite-wal")
    assert [one.name for one in asides(tmp_path)] == ["journal-aside-9.sqlite"]
    rescue(asides(tmp_path)[0], path)
    with closing(Journal(path)) as journal:
        assert len(journal.evening(NIGHT).queue) == 41


@pytest.mark.parametrize("table", ["event", "setting"])
def test_a_dropped_table_is_found_again_as_far_as_the_disk_kept_it(
    tmp_path: Path, table: str
) -> None:
    path = make_journal(tmp_path, 60, log=False)
    cells = cells_of(path)
    with closing(Journal(path)) as journal:
        for statement in ("PRAGMA foreign_keys = OFF", "PRAGMA secure_delete = OFF"):
            journal.connection.execute(statement)
        journal.connection.execute(f"DROP TABLE {table}")
    with pytest.raises(JournalError, match="damaged"):
        Journal(path)
    whole = whole_numbers(path, cells)
    assert len(whole) > 55
    rescue(put_aside(path), path)
    assert _numbers(path) >= whole


def test_damage_is_told_from_something_else_by_what_is_in_it(tmp_path: Path) -> None:
    path = make_journal(tmp_path, 5, log=False)
    data = path.read_bytes()
    path.write_bytes(bytes(100) + data[100:])
    for read in (lambda: Journal(path), lambda: read_settings(tmp_path)):
        with pytest.raises(JournalError) as caught:
            read()
        assert caught.value.fault is Fault.DAMAGED
    path.write_bytes(bytes(100) + b"a shopping list" * 1000)
    with pytest.raises(JournalError) as caught:
        Journal(path)
    assert caught.value.fault is Fault.FOREIGN


def test_a_rescue_that_cannot_be_written_changes_nothing(tmp_path: Path) -> None:
    path = make_journal(tmp_path, 5, log=False)
    aside = put_aside(path)
    with closing(Journal(path)) as journal:
        journal.mark(NIGHT, BEGUN_UTC, Mark(VEGA, Outcome.FOUND))
    (tmp_path / "journal.rescue").mkdir()
    with pytest.raises(Exception, match="cannot be written"):
        rescue(aside, path)
    assert asides(tmp_path) == (aside,)
    assert len(_numbers(path)) == 1
