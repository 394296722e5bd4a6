"""What the tube points to: two readings typed, and the sky they stand for, as it turns."""

from PySide6.QtWidgets import QWidget

from companion.instant import PointedFacts, Snapshot
from companion.sky import (
    altitude_text,
    angle_text,
    azimuth_text,
    declination_text,
    right_ascension_text,
)
from companion.window.forms.pair_sheet import PairPrompt, PairSheet
from companion.window.kit.facts import Fact, Facts


class LookUpSheet(PairSheet):
    """Stays up after the readings are taken and shows what they point to now."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._asked = False
        self.facts = Facts(parent=self)

    def ask(self, pair: PairPrompt) -> None:
        """Come up and ask for both readings."""
        self._asked = False
        self.facts.say()
        super().ask(pair)

    def taken(self) -> None:
        """Stay: the next snapshot brings the answer."""
        self._asked = True
        self.show_error("")

    def show_snapshot(self, snapshot: Snapshot) -> None:
        """Draw what the readings point to at this instant."""
        if self._asked and snapshot.pointed is not None:
            self.facts.say(*pointed_facts(snapshot.pointed))

    def arrange_rest(self, top: int) -> None:
        """Give the answer the room that is left."""
        grid = self.scale.grid
        left = self.margin()
        high = max(1, self.height() - top - grid(2))
        self.facts.setGeometry(left, top + grid(1), max(1, self.width() - 2 * left), high)


def pointed_facts(pointed: PointedFacts) -> tuple[Fact, ...]:
    """Say what a place in the sky is, the most useful first."""
    away = f"{angle_text(pointed.star_distance_deg)} away"
    place = f"{altitude_text(pointed.altitude_deg)}°, {azimuth_text(pointed.azimuth_deg, 0.1)}°"
    ra, dec = right_ascension_text(pointed.ra_deg), declination_text(pointed.dec_deg)
    objects = " · ".join(f"{name} {angle_text(off)}" for name, off in pointed.objects)
    sure = f"to {angle_text(pointed.radius95_deg)}" if pointed.radius95_deg > 0.0 else ""
    return (
        Fact("CONSTELLATION", pointed.constellation),
        Fact("NEAREST BRIGHT STAR", pointed.star, away),
        Fact("IN THE FIELD", objects or "nothing of the catalogues"),
        Fact("RIGHT ASCENSION AND DECLINATION", f"{ra}  {dec}"),
        Fact("SURE", sure, "95 times in a hundred" if sure else ""),
        Fact("TRUE ALTITUDE AND AZIMUTH", place),
    )
