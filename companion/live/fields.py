"""The fields of view that a target may be found in, widest first."""

import math

from companion.finding import Eyepiece, Instrument, InstrumentKind


def fields_of(instrument: Instrument | None) -> list[tuple[str, float]]:
    """Give name and diameter in degrees of finder, eyepieces or binoculars; the eye has none."""
    if instrument is None or instrument.kind is InstrumentKind.EYE:
        return []
    if instrument.kind is InstrumentKind.BINOCULARS:
        return [(instrument.name, instrument.field_deg)]
    fields = [(one.name, true_field_deg(one, instrument.focal_mm)) for one in instrument.eyepieces]
    if instrument.finder is not None:
        fields.append(("finder", instrument.finder.field_deg))
    return sorted((field for field in fields if field[1] > 0.0), key=lambda field: -field[1])


def true_field_deg(eyepiece: Eyepiece, focal_mm: float | None) -> float:
    """Give the true field: by the field stop where it is known, else apparent ÷ magnification."""
    if not focal_mm or focal_mm <= 0.0:
        return 0.0
    if eyepiece.field_stop_mm is not None:
        return math.degrees(eyepiece.field_stop_mm / focal_mm)
    return eyepiece.apparent_field_deg * eyepiece.focal_mm / focal_mm
