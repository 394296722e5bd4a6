"""What the road answers: steps as plain records, which everybody may read."""

from dataclasses import dataclass
from datetime import datetime

from companion.road.aims import Tool


@dataclass(frozen=True, slots=True)
class Step:
    """One step. It can be done at once where it waits for nothing.

    ``again`` is asked without help because it was learned before.
    """

    key: str
    title: str
    subject: str
    tool: Tool
    look_azimuth_deg: float | None
    look_altitude_deg: float | None
    sentences: tuple[str, ...]
    check: str
    missing: str
    waits_until: datetime | None = None
    waits: bool = False
    again: bool = False
    is_figure: bool = False


@dataclass(frozen=True, slots=True)
class Road:
    """The next steps, those that can be done first; ``words`` says what is special."""

    utc: datetime  # the moment that the steps are for: now, or dusk
    steps: tuple[Step, ...]
    words: str
    mastered: int

    @property
    def doable(self) -> tuple[Step, ...]:
        """The steps that wait for nothing."""
        return tuple(step for step in self.steps if not step.waits)
