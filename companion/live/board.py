"""The present choices: one frozen record, replaced by every change and handed to the service."""

from dataclasses import replace
from typing import Any

from PySide6.QtCore import QObject, Signal

from companion.instant import Choices
from companion.journal import Settings
from companion.live.threads.ephemeris_thread import EphemerisService
from companion.sky import Site, Target


class Board(QObject):
    """Owns the choices; nothing else replaces them."""

    changed = Signal()

    def __init__(
        self, site: Site, service: EphemerisService, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._service = service
        self._choices = Choices(stamp=0, site=site)
        self._begun = False

    @property
    def choices(self) -> Choices:
        """The record that the service works from."""
        return self._choices

    def change(self, **fields: Any) -> bool:  # noqa: ANN401 - the fields of Choices
        """Replace fields; tell the service and everybody else if anything is different."""
        changed = replace(self._choices, **fields)
        if changed == self._choices:
            return False
        self._choices = replace(changed, stamp=self._choices.stamp + 1)
        if self._begun:
            self._service.choose(self._choices)
        self.changed.emit()
        return True

    def begin(self) -> None:
        """Hand the choices to the service from now on; before a place is known it has none."""
        self._begun = True
        self._service.choose(self._choices)

    def aim_at(self, target: Target | None, tube: Target | None) -> bool:
        """Choose a target; ``tube`` is what the tube was brought to last, if that is known.

        Otherwise the turn is counted from the target before this one.
        """
        before = self._choices.target
        if target == before:
            return self.change(last_target=tube if tube != target else self._choices.last_target)
        last = tube if tube is not None and tube != target else before
        return self.change(target=target, last_target=last)


def remembered(settings: Settings) -> dict[str, Any]:
    """Give the fields of the choices that are kept between evenings."""
    return {
        "clock_correction_s": settings.clock_correction_s,
        "low_limit_deg": settings.low_limit_deg,
        "hours": settings.hours,
        "rate_hz": settings.rate_hz,
    }
