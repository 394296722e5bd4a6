"""What a host's evening answers, as plain records, which everybody may read."""

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from companion.sky import Target

if TYPE_CHECKING:  # these bring numpy, which a window's first frame does not wait for
    from companion.about import Saying
    from companion.night import TonightRequest


@dataclass(frozen=True, slots=True)
class HostRequest:
    """So many targets for so many minutes each, for visitors.

    ``asked`` says where, when and through what. ``axis_m`` is the height of the mount's altitude
    axis above the ground, where somebody measured it. ``saw`` names what the journal has of
    tonight.
    """

    asked: "TonightRequest"
    targets: int
    minutes: float
    axis_m: float | None = None
    saw: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Stop:
    """One target at its turn, with all that is said. Altitudes are refracted.

    ``where`` and ``face`` are empty, and ``caution`` says why, where it is not to be looked for.
    ``view`` is what it is looked at through. ``eye`` is what those who wait look at. ``if_clouds``
    is the name of what stands in another part of the sky, empty where nothing does.
    ``eyepiece_m`` is the eyepiece's height above the ground; None without a telescope, or where
    nobody said how high its altitude axis is.
    """

    target: Target
    begins_utc: datetime
    azimuth_deg: float
    altitude_deg: float
    where: str
    face: str
    view: str
    saying: "Saying"
    eye: str
    if_clouds: str
    eyepiece_m: float | None
    stand: str
    caution: str = ""

    @property
    def full_name(self) -> str:
        """Number and name: "M 57, Ring Nebula"."""
        return ", ".join(filter(None, (self.target.name, self.saying.called)))


@dataclass(frozen=True, slots=True)
class SheetLead:
    """Where the group of the sheet leads: what, how, and in which direction, degrees."""

    name: str
    sentence: str
    azimuth_deg: float
    altitude_deg: float


@dataclass(frozen=True, slots=True)
class Sheet:
    """What visitors take home: the sky as they stand, what they saw, three things for next week.

    ``looks`` says how the group looks, ``group_key`` is its key; all empty without a group. ``saw``
    is what the journal has of tonight, ``planned`` what the program has.
    """

    utc: datetime
    group: str
    group_key: str
    looks: str
    points: tuple[SheetLead, ...]
    saw: tuple[str, ...]
    planned: tuple[str, ...]
    next_week: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Program:
    """The host's evening; ``words`` says what is short of what was asked.

    ``spares`` are further targets, for when clouds hide those of the program.
    """

    begins_utc: datetime
    minutes: float
    stops: tuple[Stop, ...]
    spares: tuple[Target, ...]
    sheet: Sheet
    words: str
