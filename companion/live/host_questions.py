"""What a host asks for, and what the host's screen shows: frozen on both sides."""

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from companion.finding import Instrument, InstrumentKind
from companion.sky import Site, Target

if TYPE_CHECKING:  # these bring numpy, which the first frame does not wait for
    from companion.road import HostRequest, Stop


@dataclass(frozen=True, slots=True)
class HostWishes:
    """So many targets, so many minutes for each, through which sort of instrument.

    ``axis_m`` is the height of the mount's altitude axis, where somebody measured it.
    """

    targets: int = 6
    minutes: float = 10.0
    through: InstrumentKind = InstrumentKind.TELESCOPE
    axis_m: float | None = None


@dataclass(frozen=True, slots=True)
class HostQuestion:
    """The wishes with all that they are worked out from; ``saw`` is what was found tonight."""

    wishes: HostWishes
    site: Site
    utc: datetime
    known: tuple[Instrument, ...]  # the one in use first
    low_limit_deg: float
    hours: tuple[str, ...]
    saw: tuple[str, ...]

    @property
    def instrument(self) -> Instrument | None:
        """The first known one of that sort, None where there is none."""
        return next((one for one in self.known if one.kind is self.wishes.through), None)


@dataclass(frozen=True, slots=True)
class Showing:
    """What visitors look at now: which turn of how many, and what is left of its minutes.

    ``told`` is None for a moment, until it is known how it stands now.
    """

    target: Target
    number: int
    count: int
    minutes_left: float
    told: "Stop | None"


def request_of(question: HostQuestion) -> "HostRequest":
    """Put a question into the road's own words; called where numpy may be read."""
    from companion.night import Conditions, MyHours, TonightRequest, eye, find_instrument
    from companion.road import HostRequest

    conditions = Conditions.at(question.site)
    instrument = question.instrument
    if instrument is None:
        usual = {InstrumentKind.BINOCULARS: "10×50", InstrumentKind.TELESCOPE: "150"}
        name = usual.get(question.wishes.through)
        instrument = eye(conditions.observer) if name is None else find_instrument(name)
    asked = TonightRequest(
        site=question.site,
        utc=question.utc,
        instrument=instrument,
        conditions=conditions,
        low_limit_deg=question.low_limit_deg,
        hours=MyHours.of(question.hours),
    )
    wishes = question.wishes
    return HostRequest(asked, wishes.targets, wishes.minutes, wishes.axis_m, question.saw)
