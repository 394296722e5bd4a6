"""What a step says, or why it has to wait."""

from dataclasses import dataclass
from datetime import datetime

HIDDEN = (
    "Not there? Clouds or trees may hide it: walk ten steps aside, or wait a quarter of an hour."
)
TURNED = "Not there? It may stand on its head or on its side: turn your own head."
TOO_SOON = "Not there? Give your eyes ten more minutes without a lamp, and try again."


@dataclass(frozen=True, slots=True)
class Telling:
    """A step that can be done now.

    ``sentences`` say where to face and how high, what it looks like, how to be sure, what it is;
    ``check`` is what is asked without help on another night, ``missing`` what to try otherwise.
    ``subject`` is the key of what is found, ``thing`` its name where the title is to have it.
    """

    azimuth_deg: float | None
    altitude_deg: float | None
    sentences: tuple[str, ...]
    check: str
    missing: str = HIDDEN
    subject: str = ""
    thing: str = ""


@dataclass(frozen=True, slots=True)
class Waiting:
    """A step that cannot be done now: why, and when its moment comes, if it does."""

    why: str
    until_utc: datetime | None = None
