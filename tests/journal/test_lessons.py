from datetime import UTC, datetime
from pathlib import Path

from companion.journal import Change, Journal, Lesson, What, learn_change, lessons
from companion.journal.changes import change_line, read_change

UTC_0 = datetime(2027, 4, 11, 1, 0, tzinfo=UTC)


def test_a_try_is_kept_and_can_be_undone(tmp_path: Path) -> None:
    journal = Journal(tmp_path / "journal.sqlite")
    change = learn_change("2027-04-10", UTC_0, "pole", "hip:11767", found=True)
    assert read_change(change_line(change)) == change
    journal.do(change)
    journal.do(learn_change("2027-04-10", UTC_0, "hand", "", found=False, practice=True))
    first = Lesson("pole", "hip:11767", UTC_0, found=True, practice=False)
    assert lessons(journal) == (first, Lesson("hand", "", UTC_0, found=False, practice=True))
    journal.do(Change(What.UNDO, "2027-04-10", UTC_0))
    assert lessons(journal) == (first,)
    journal.close()
