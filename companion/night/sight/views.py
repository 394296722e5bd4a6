"""What reaches the eye through an instrument, one view for every magnification it offers."""

from dataclasses import dataclass

from companion.advice import AdviceError
from companion.finding import Eyepiece, Instrument, InstrumentKind
from companion.night.sight.observer import Observer

LABORATORY_PUPIL_MM = 7.0  # of the young observers whose thresholds the formulas rest on
_DAWES_ARCSEC_MM = 116.0
EYE_ARCSEC = 90.0  # what an eye just resolves, between 1′ and 2′ (common practice, no source)
# A hand trembles: what it costs stars and pairs (common practice, no source).
_TREMBLING_MAG_PER_POWER, _TREMBLING_BLUR = 0.05, 2.0
# Exit pupils that stand in for the eyepieces of a telescope that has none entered.
_USUAL_EXIT_PUPILS_MM = (6.0, 4.0, 2.5, 1.5, 1.0, 0.7)
_USUAL_FIELD_DEG = 50.0


@dataclass(frozen=True, slots=True)
class View:
    """One way to look: the bare eye, binoculars, or a telescope with one eyepiece.

    ``transmission`` includes the shadow of a secondary mirror. ``pupil_mm`` is the observer's.
    """

    name: str
    magnification: float
    field_deg: float
    aperture_mm: float
    transmission: float
    both_eyes: bool
    pupil_mm: float
    held: bool = False

    @property
    def trembling_mag(self) -> float:
        """What a star loses in the hand, its light drawn out: 0 on a tripod.

        About half a magnitude at ten times (common practice, no source).
        """
        return _TREMBLING_MAG_PER_POWER * self.magnification if self.held else 0.0

    @property
    def blur(self) -> float:
        """How many times wider a pair must be to be parted than on a tripod."""
        return _TREMBLING_BLUR if self.held else 1.0

    @property
    def exit_pupil_mm(self) -> float:
        """Diameter of the beam that leaves the eyepiece."""
        return self.aperture_mm / self.magnification

    @property
    def resolution_arcsec(self) -> float:
        """Closest pair of equal stars that the aperture can part (Dawes: 116″ over mm).

        The bare eye is far from its aperture's limit: it parts 1′ to 2′ (common practice).
        """
        eye_arcsec = EYE_ARCSEC * self.blur / self.magnification
        return max(_DAWES_ARCSEC_MM / self.aperture_mm, eye_arcsec)

    @property
    def beam_mm(self) -> float:
        """Diameter of the beam that enters the eye."""
        return min(self.exit_pupil_mm, self.pupil_mm)

    @property
    def surface_gain(self) -> float:
        """Retinal brightness of a surface, as a multiple of the bare laboratory eye's."""
        return self.transmission * (self.beam_mm / LABORATORY_PUPIL_MM) ** 2

    @property
    def star_gain(self) -> float:
        """Light of a star that reaches the retina, in the same multiple."""
        return self.surface_gain * self.magnification**2


def views_of(instrument: Instrument, observer: Observer) -> tuple[View, ...]:
    """Give every view of an instrument, lowest power first.

    A telescope without eyepieces gets the usual range of powers, named by the power.

    Raises
    ------
    AdviceError
        If the instrument cannot gather light or magnify.
    """
    _check(instrument)
    pupil_mm = observer.dark_pupil_mm
    if instrument.kind is InstrumentKind.EYE:
        pupil_mm = instrument.aperture_mm
        return (_view(instrument, instrument.name, 1.0, instrument.field_deg, pupil_mm),)
    if instrument.kind is InstrumentKind.BINOCULARS or instrument.focal_mm is None:
        power = instrument.magnification
        return (_view(instrument, instrument.name, power, instrument.field_deg, pupil_mm),)
    if not instrument.eyepieces:
        return usual_views(instrument, observer)
    focal_mm = instrument.focal_mm
    found = [_eyepiece_view(instrument, focal_mm, e, pupil_mm) for e in instrument.eyepieces]
    return tuple(sorted(found, key=lambda view: view.magnification))


def usual_views(instrument: Instrument, observer: Observer) -> tuple[View, ...]:
    """Give the range of powers that an aperture is good for, whatever eyepieces there are."""
    powers = [instrument.aperture_mm / exit_mm for exit_mm in _USUAL_EXIT_PUPILS_MM]
    return tuple(
        _view(instrument, f"{p:.0f}×", p, _USUAL_FIELD_DEG / p, observer.dark_pupil_mm)
        for p in powers
    )


def _eyepiece_view(
    instrument: Instrument, focal_mm: float, eyepiece: Eyepiece, pupil_mm: float
) -> View:
    """Give the view through one eyepiece; the field stop is preferred where known."""
    if eyepiece.focal_mm <= 0.0:
        raise AdviceError(
            f"The eyepiece {eyepiece.name} of {instrument.name} has no focal length.",
            "Give the millimetres that are printed on it.",
        )
    power = focal_mm / eyepiece.focal_mm
    field_deg = eyepiece.apparent_field_deg / power
    if eyepiece.field_stop_mm is not None:
        field_deg = eyepiece.field_stop_mm / focal_mm * 57.29578
    return _view(instrument, eyepiece.name, power, field_deg, pupil_mm)


def _view(
    instrument: Instrument, name: str, power: float, field_deg: float, pupil_mm: float
) -> View:
    open_part = 1.0 - (instrument.obstruction_mm / instrument.aperture_mm) ** 2
    eye = instrument.kind is InstrumentKind.EYE
    return View(
        name=name,
        magnification=power,
        field_deg=field_deg,
        aperture_mm=instrument.aperture_mm,
        transmission=1.0 if eye else instrument.transmission * open_part,
        both_eyes=instrument.kind is not InstrumentKind.TELESCOPE,
        pupil_mm=pupil_mm,
        held=instrument.held and instrument.kind is InstrumentKind.BINOCULARS,
    )


def _check(instrument: Instrument) -> None:
    """Refuse what no instrument can be, NaN included."""
    name = instrument.name
    if not 0.5 <= instrument.aperture_mm <= 10_000.0:
        raise AdviceError(
            f"{name} has an aperture of {instrument.aperture_mm:g} mm, outside 0.5 mm to 10 m.",
            "Give the diameter of its lens or mirror in millimetres.",
        )
    if not 0.0 <= instrument.obstruction_mm < instrument.aperture_mm:
        raise AdviceError(
            f"{name} has an obstruction of {instrument.obstruction_mm:g} mm, not less than its "
            "aperture.",
            "Give the diameter of its secondary mirror in millimetres, 0 without one.",
        )
    if not 0.05 < instrument.transmission <= 1.0:
        raise AdviceError(
            f"{name} has a transmission of {instrument.transmission:g}, outside 0.05 to 1.",
            "Give the part of the light that gets through; 0.9 is usual.",
        )
    if instrument.focal_mm is not None and not instrument.focal_mm > 0.0:
        raise AdviceError(
            f"{name} has a focal length of {instrument.focal_mm:g} mm.",
            "Give its focal length in millimetres.",
        )
    if not 0.5 <= instrument.magnification <= 2_000.0 or not instrument.field_deg > 0.0:
        raise AdviceError(
            f"{name} has a magnification of {instrument.magnification:g} and a field of "
            f"{instrument.field_deg:g}°.",
            "Give a magnification of 0.5 to 2000 and a field above zero.",
        )
