"""From east and north on the sky to right and up in the view of an instrument."""

import math
from dataclasses import dataclass

import numpy as np

from companion.about.orientation import angle_at
from companion.about.record import AboutQuestion
from companion.arrays import FloatArray
from companion.finding import Viewing, view_matrix
from companion.sky import Ephemeris, Moment, TargetTable, unit_vectors

_POLE = np.array([0.0, 0.0, 1.0])  # of 2000: a third of a degree from that of date at most


@dataclass(frozen=True, slots=True, eq=False)
class ViewTurn:
    """A rotation, and the instrument's turning or mirroring after it."""

    matrix: FloatArray  # (2, 2), from east and north to right and up

    def points(self, east: FloatArray, north: FloatArray) -> tuple[tuple[float, float], ...]:
        """Give points of the view."""
        turned = np.stack([east, north], axis=-1) @ self.matrix.T
        return tuple((float(x), float(y)) for x, y in turned.reshape(-1, 2))

    def point(self, east: float, north: float) -> tuple[float, float]:
        """Give one point of the view."""
        x, y = self.matrix @ (east, north)
        return float(x), float(y)

    @property
    def north_deg(self) -> float:
        """Where north is in the view: from its top to the right."""
        x, y = self.point(0.0, 1.0)
        return math.degrees(math.atan2(x, y)) % 360.0


def turn_of(zenith_angle_deg: float, viewing: Viewing) -> ViewTurn:
    """Give the turn for a target at which the zenith lies at a position angle."""
    angle = math.radians(zenith_angle_deg)
    # With north up, east is at the left; then the zenith is brought to the top.
    upright = np.array([[-math.cos(angle), math.sin(angle)], [math.sin(angle), math.cos(angle)]])
    return ViewTurn(np.asarray(view_matrix(viewing) @ upright))


def zenith_angle_deg(moment: Moment, towards: FloatArray, pole: FloatArray = _POLE) -> float:
    """Give the position angle of the zenith at a direction, north through east."""
    ra_deg, dec_deg = moment.icrs_of([0.0], [90.0])
    return angle_at(towards, pole, unit_vectors(ra_deg, dec_deg)[0])


def fixed_turn(ephemeris: Ephemeris, question: AboutQuestion) -> ViewTurn:
    """Give the turn of the view for something that stands among the stars, or at a fixed point."""
    moment = ephemeris.moment(question.site, question.utc)
    towards = moment.apparent(TargetTable.of([question.target], question.utc))[0]
    return turn_of(zenith_angle_deg(moment, towards), question.instrument.viewing)
