"""The present choices: one frozen record, replaced by every change and handed on."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QObject, Signal

from companion.instant import Choices
from companion.sky import Site, Target


class CurrentChoices(QObject):
    """Holds the choices; nothing else replaces them.

    ``changed`` tells that the record is another one, or that a place is known now.

    Parameters
    ----------
    record : Choices
        The first one.
    hand_on : callable
        Takes every new record, from ``begin`` on.
    needs_site : bool
        Whether no place is known yet: nothing is handed on then.
    """

    changed = Signal()

    def __init__(
        self,
        record: Choices,
        hand_on: Callable[[Choices], None],
        *,
        needs_site: bool = False,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._record = record
        self._hand_on = hand_on
        self._needs_site = needs_site
        self._begun = False

    @property
    def record(self) -> Choices:
        """The record that the numbers are made from."""
        return self._record

    @property
    def needs_site(self) -> bool:
        """Whether no place is known yet."""
        return self._needs_site

    def change(self, changed: Choices) -> bool:
        """Take a changed record, ``replace(record, …)``; give whether anything is different.

        Its stamp is set here.
        """
        if changed == self._record:
            return False
        self._record = replace(changed, stamp=self._record.stamp + 1)
        if self._begun and not self._needs_site:
            self._hand_on(self._record)
        self.changed.emit()
        return True

    def begin(self) -> None:
        """Hand the record on from now on, as soon as a place is known."""
        self._begun = True
        if not self._needs_site:
            self._hand_on(self._record)

    def go_to(self, site: Site, compass_deviation_deg: float | None) -> None:
        """Take a place, with what the compass adds there."""
        first, self._needs_site = self._needs_site, False
        there = replace(self._record, site=site, compass_deviation_deg=compass_deviation_deg)
        if not self.change(there) and first:  # it was the one that stood in for a place
            if self._begun:
                self._hand_on(self._record)
            self.changed.emit()

    def aim_at(self, target: Target | None, tube: Target | None) -> None:
        """Choose a target; ``tube`` is what the tube was brought to last, None if nobody knows.

        A row that was only looked at, or skipped, does not tell where the tube stands: then there
        is no turn to count.
        """
        record = self._record
        again = tube is not None and tube == target  # it stands there: keep the turn that led here
        last = record.last_target if again and target == record.target else tube
        self.change(replace(record, target=target, last_target=None if last == target else last))
