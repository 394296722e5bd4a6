"""The sky of a question of the rehearsal: what the chart shows before it is answered, and after.

Imported only in the thread of the road: it brings numpy.
"""

from dataclasses import replace
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.charts import SkyFrame, SkyTarget, SkyWay
from companion.finding import arc_between, seen_vectors
from companion.live.road_questions import AskedSky
from companion.road import Question
from companion.sky import Kind

_WHICH, _POINT, _NINE = "which-is-this", "point-at", "where-at-nine"  # of ``Question.kind``
_AROUND_DEG: Final = 3.0  # of the circle around what is marked
_FACING_DEG: Final = 30.0  # altitude of the middle, where only a side of the sky is told


def asked_sky(sky: SkyFrame, question: Question) -> AskedSky:
    """Give what is drawn for a question.

    Before the answer nothing is marked but what is asked about; after it the subject is named and
    marked, with the line to it, and where it will stand at nine.
    """
    place = _place(question)
    now = _now(sky, question)
    there = place if now is None else now
    target = SkyTarget(question.subject, question.name, Kind.STAR, there)
    marked = place if question.kind == _WHICH else None
    later = place if question.kind == _NINE else None
    return AskedSky(
        before=replace(sky, target=None, pointed=marked, pointed_radius_deg=_AROUND_DEG),
        after=replace(sky, target=target, pointed=later, pointed_radius_deg=_AROUND_DEG),
        way=_line(sky, question, there),
        faces=there if question.kind == _WHICH else _facing(place),
        place=there,
        by_pointing=question.kind == _POINT,
    )


def _place(question: Question) -> FloatArray:
    return seen_vectors(question.azimuth_deg, question.altitude_deg)


def _facing(place: FloatArray) -> FloatArray:
    """Give the nearest of the four directions: it tells no more than a side of the sky."""
    azimuth_deg = float(np.degrees(np.arctan2(-place[1], place[0])))
    return seen_vectors(round(azimuth_deg / 90.0) * 90.0 % 360.0, _FACING_DEG)


def _now(sky: SkyFrame, question: Question) -> FloatArray | None:
    """Give where a star stands in this sky; None for what is not one."""
    family, _colon, number = question.subject.partition(":")
    row = sky.index.star_row.get(int(number)) if family == "hip" else None
    return None if row is None else np.asarray(sky.stars[row], float)


def _line(sky: SkyFrame, question: Question, end: FloatArray) -> SkyWay | None:
    """Give the line that leads to the subject, where one is asked for."""
    rows = [sky.index.star_row[hip] for hip in question.line if hip in sky.index.star_row]
    if len(rows) != 2:
        return None
    first, second = (np.asarray(sky.stars[row], float) for row in rows)
    names = tuple(sky.index.star_names.get(row, "") for row in rows)
    traces = (arc_between(first, second), arc_between(second, end))
    return SkyWay(question.why, names, (first, second), traces)
