"""What a list that was read from a file held, and every line that was not understood."""

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from companion.live import ImportQuestion, ImportView
from companion.window.aim.words import NOTHING, Notice
from companion.window.kit.list_page import ListPage
from companion.window.kit.row_list import Row

if TYPE_CHECKING:
    from companion.live import Evening

_MOST = 2000  # remarks that are shown; nobody reads more
_COMING = Notice("The list is being read.", "Esc stops it; nothing is added then.")
_NOTHING_READ = Notice("No list was read.", "Press esc, then shift r to name a file.")
_WELL = Notice("Every line was understood.", "The targets stand at the end of the queue.")


class ReportPage(ListPage):
    """One row for every remark."""

    def __init__(self, evening: "Evening", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._evening = evening
        self._shown_of: ImportView | None = None
        self.list.hit.connect(lambda at: self.list.say(self.list.rows, at))

    def show_desk(self) -> None:
        """Draw the report as the model has it."""
        night = self._evening.night
        share, report = night.share(ImportQuestion), night.report
        if report is not self._shown_of:
            self._shown_of = report
            self.list.say([] if report is None else rows_of(report), 0)
        self.say(*head_of(report), notice_of(report, share), share)


def rows_of(report: ImportView) -> list[Row]:
    """Say every remark; the line's number stands before it."""
    rows = []
    for remark in report.read.report[:_MOST]:
        line, colon, said = remark.removeprefix("Line ").partition(": ")
        rows.append(Row(said, lead=line) if colon and line.isdigit() else Row(remark))
    return rows


def head_of(report: ImportView | None) -> tuple[str, str]:
    """Name the file and count what came of it."""
    if report is None:
        return "A list of targets", ""
    read = report.read
    missed = len(read.report)
    parts = [f"{len(read.entries)} targets added", f"{read.lines} lines"]
    parts += [f"{missed} remarks"] if missed else []
    return report.question.path.name, " · ".join(parts)


def notice_of(report: ImportView | None, share: float | None) -> Notice:
    """Say what goes on where there is no remark to show."""
    if share is not None:
        return _COMING
    if report is None:
        return _NOTHING_READ
    return NOTHING if report.read.report else _WELL
