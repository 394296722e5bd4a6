"""Distances and times on the scale of a life: a drive, an age, what people did back then."""

from typing import Final

from companion.about.record import Figures
from companion.about.words import figures, light_time

_CAR_KM_PER_H: Final = 100.0
_DAY_H: Final = 24.0
_YEAR_S: Final = 31557600.0
# What was on the Earth so many years ago; textbook knowledge, round on purpose. The distances
# behind it are sure to a tenth at best, so that every line is meant for a third more and less.
_THEN: Final = (
    (60.0, "about when anybody of that age was born"),
    (150.0, "a long life ago"),
    (1200.0, "long before there was electric light"),
    (4000.0, "long before there were printed books"),
    (7000.0, "about when people began to build towns"),
    (12_000.0, "about when people first tilled fields"),
    (45_000.0, "when people hunted and painted caves"),
    (450_000.0, "when more than one kind of people lived on the Earth"),
    (4e6, "before there were people like us"),
    (5e7, "after the last dinosaurs and long before people"),
    (9e7, "about when the dinosaurs died out"),
    (1.8e8, "when dinosaurs lived"),
)
_LONGER: Final = "in the days of the first dinosaurs or before"


def then_words(years: float) -> str:
    """Say what was on the Earth so many years ago: "when people hunted and painted caves"."""
    return next((words for most, words in _THEN if years < most), _LONGER)


def far_words(known: Figures) -> str:
    """Say how far something is, in the trade's unit with few digits; empty if nobody knows."""
    if known.distance_km is not None:
        return f"{figures(known.distance_km, 3)} kilometres away"
    if known.distance_au is not None:
        return f"{figures(known.distance_au * 149.5978707, 2)} million kilometres away"
    if known.distance_ly is not None:
        return f"about {figures(known.distance_ly)} light years away"
    return ""


def drive_words(distance_km: float) -> str:
    """Say how long a car takes: "A car that never stops … takes 160 days there."."""
    days = distance_km / _CAR_KM_PER_H / _DAY_H
    return f"A car that never stops, at 100 kilometres an hour, takes {figures(days)} days there."


def light_words(known: Figures) -> str:
    """Say when the light set out that one sees now; empty where the distance isn't known."""
    if known.light_time_s is None:
        return ""
    took = light_time(known.light_time_s)
    years = known.light_time_s / _YEAR_S
    if years < 2.0:
        return f"The light that you see left it {took} ago."
    return f"The light that you see left it {took} ago, {then_words(years)}."
