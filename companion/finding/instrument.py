"""What a person looks through, as plain records; the optics are computed in ``optics``."""

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Final


class Viewing(StrEnum):
    """How the view stands against the sky, as a stable code."""

    UPRIGHT = "upright"  # eye, binoculars, correct-image finder
    TURNED = "turned"  # Newtonian, straight-through refractor or finder
    MIRRORED = "mirrored"  # star diagonal

    @classmethod
    def _missing_(cls, value: object) -> "Viewing | None":
        """Read what was remembered before codes and words were parted."""
        return next((one for one, words in VIEWING_WORDS.items() if words == value), None)


VIEWING_WORDS: Final = {
    Viewing.UPRIGHT: "upright",
    Viewing.TURNED: "turned upside down",
    Viewing.MIRRORED: "mirrored, upright",
}


def viewing_text(viewing: Viewing) -> str:
    """Say how a view stands: "mirrored, upright"."""
    return VIEWING_WORDS[viewing]


class InstrumentKind(StrEnum):
    """Families of instruments, as stable codes that are words at the same time."""

    EYE = "eye"
    BINOCULARS = "binoculars"
    TELESCOPE = "telescope"


@dataclass(frozen=True, slots=True)
class Eyepiece:
    """An eyepiece; ``field_stop_mm`` is preferred over the apparent field where known."""

    name: str
    focal_mm: float
    apparent_field_deg: float = 50.0
    field_stop_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Finder:
    """A finder scope or a sighting device without magnification."""

    name: str
    field_deg: float
    magnification: float = 1.0
    aperture_mm: float = 0.0
    viewing: Viewing = Viewing.UPRIGHT


@dataclass(frozen=True, slots=True)
class Instrument:
    """Eye, binoculars or telescope.

    Binoculars and the eye have ``magnification`` and ``field_deg`` of their own; a telescope has
    ``focal_mm`` and ``eyepieces``. ``aperture_mm`` of the eye is its pupil in the dark. ``held``
    binoculars are in the hand: they tremble.
    """

    name: str
    kind: InstrumentKind
    aperture_mm: float
    magnification: float = 1.0
    field_deg: float = 60.0
    focal_mm: float | None = None
    eyepieces: tuple[Eyepiece, ...] = ()
    finder: Finder | None = None
    viewing: Viewing = Viewing.UPRIGHT
    obstruction_mm: float = 0.0
    transmission: float = 0.9
    held: bool = False


def eyepiece_height_m(
    instrument: Instrument, altitude_deg: float, axis_m: float | None
) -> float | None:
    """Give the eyepiece's height above the ground: high on a Newtonian, low on others.

    None without a telescope, or where nobody measured how high the altitude axis stands. How far
    the eyepiece is from the axis is common practice, no source: 0.6 and 0.5 of the focal length.
    """
    if (
        axis_m is None
        or instrument.kind is not InstrumentKind.TELESCOPE
        or instrument.focal_mm is None
    ):
        return None
    tube_m = instrument.focal_mm / 1000.0
    at_the_top = instrument.viewing is Viewing.TURNED
    arm_m = 0.6 * tube_m if at_the_top else -0.5 * min(tube_m, 1.2)
    return max(axis_m + arm_m * math.sin(math.radians(altitude_deg)), 0.3)
