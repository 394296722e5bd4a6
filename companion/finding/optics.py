"""What an instrument shows: power, field, exit pupil, resolution, drift, and which way up."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from companion.advice import AdviceError
from companion.arrays import FloatArray
from companion.finding.instrument import Eyepiece, Instrument, InstrumentKind, Viewing

_SIDEREAL_ARCSEC_PER_S: Final = 15.041067  # 360 degrees in a sidereal day of 86164.09 s
_DAWES_ARCSEC_MM: Final = 116.0  # Dawes 1867 (Mem. R.A.S. 35, 137): 4.56 arcsec for an inch
_FINEST_EYE_ARCSEC: Final = 60.0  # what the eye itself separates (common textbook)
_PUPIL_MM: Final = 7.0  # through a sight without a lens the eye itself looks
_TURNS: Final = {
    Viewing.UPRIGHT: ((1.0, 0.0), (0.0, 1.0)),
    Viewing.TURNED: ((-1.0, 0.0), (0.0, -1.0)),
    Viewing.MIRRORED: ((-1.0, 0.0), (0.0, 1.0)),
}


@dataclass(frozen=True, slots=True)
class Optics:
    """What one view gives: bare eye, binoculars, finder, or a telescope with one eyepiece."""

    name: str
    magnification: float
    field_deg: float  # true field, across
    exit_pupil_mm: float
    resolution_arcsec: float  # of two equal stars: the aperture's or the eye's limit
    viewing: Viewing


def view_matrix(viewing: Viewing) -> FloatArray:
    """Give the 2×2 matrix from the upright view (x right, y up) to what the instrument shows."""
    return np.array(_TURNS[viewing])


def optics_of(instrument: Instrument) -> tuple[Optics, ...]:
    """Give every view through an instrument, the widest field first, the finder included.

    Raises
    ------
    AdviceError
        If a diameter, focal length or field is not above zero.
    """
    found = [_own_optics(instrument)] if instrument.focal_mm is None else []
    if instrument.focal_mm is not None:
        found = [eyepiece_optics(instrument, eyepiece) for eyepiece in instrument.eyepieces]
    if finder := instrument.finder:
        _check("field", finder.field_deg, finder.name)
        _check("magnification", finder.magnification, finder.name)
        aperture_mm = finder.aperture_mm or _PUPIL_MM
        found.append(
            Optics(
                name=finder.name,
                magnification=finder.magnification,
                field_deg=finder.field_deg,
                exit_pupil_mm=aperture_mm / finder.magnification,
                resolution_arcsec=_resolution(aperture_mm, finder.magnification),
                viewing=finder.viewing,
            )
        )
    return tuple(sorted(found, key=lambda optics: -optics.field_deg))


def eyepiece_optics(instrument: Instrument, eyepiece: Eyepiece) -> Optics:
    """Give the view through one eyepiece of a telescope.

    Magnification is the ratio of the focal lengths; the field follows from the field stop where
    that is known, else from the apparent field (common textbook).

    Raises
    ------
    AdviceError
        If the instrument has no focal length, or a length is not above zero.
    """
    focal_mm = _check("focal length", instrument.focal_mm or 0.0, instrument.name)
    aperture_mm = _check("aperture", instrument.aperture_mm, instrument.name)
    power = focal_mm / _check("focal length", eyepiece.focal_mm, eyepiece.name)
    if eyepiece.field_stop_mm is not None:
        half = _check("field stop", eyepiece.field_stop_mm, eyepiece.name) / 2.0
        field_deg = math.degrees(2.0 * math.atan(half / focal_mm))
    else:
        field_deg = _check("field", eyepiece.apparent_field_deg, eyepiece.name) / power
    return Optics(
        name=eyepiece.name,
        magnification=power,
        field_deg=field_deg,
        exit_pupil_mm=aperture_mm / power,
        resolution_arcsec=_resolution(aperture_mm, power),
        viewing=instrument.viewing,
    )


def drift_time_s(field_deg: float, dec_deg: float) -> float:
    """Give how long a star takes across the middle of a field; infinite at the pole."""
    speed = _SIDEREAL_ARCSEC_PER_S * math.cos(math.radians(dec_deg))
    return field_deg * 3600.0 / speed if speed > 1e-9 else math.inf


def _own_optics(instrument: Instrument) -> Optics:
    """Give the optics of an instrument without eyepieces to change."""
    power = _check("magnification", instrument.magnification, instrument.name)
    aperture_mm = _check("aperture", instrument.aperture_mm, instrument.name)
    eye = instrument.kind is InstrumentKind.EYE
    return Optics(
        name=instrument.name,
        magnification=power,
        field_deg=_check("field", instrument.field_deg, instrument.name),
        exit_pupil_mm=aperture_mm / power,
        resolution_arcsec=_FINEST_EYE_ARCSEC if eye else _resolution(aperture_mm, power),
        viewing=instrument.viewing,
    )


def _resolution(aperture_mm: float, power: float) -> float:
    """Give the coarser of Dawes' limit and the eye's own, brought down by the magnification."""
    return max(_DAWES_ARCSEC_MM / aperture_mm, _FINEST_EYE_ARCSEC / power)


def _check(what: str, value: float, name: str) -> float:
    """Refuse a length or field that is not above zero, NaN included."""
    if not 0.0 < value < math.inf:
        raise AdviceError(
            f"{name} has a {what} of {value:g}, which is not above zero.",
            f"Give the {what} that is printed on it.",
        )
    return value
