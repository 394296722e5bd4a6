"""Who looks, and what the night is like."""

import math
from dataclasses import dataclass, field
from enum import StrEnum

from companion.advice import check_within
from companion.night.sight.air import usual_extinction
from companion.sky import Site

ASSUMED_ZENITH = 21.0  # mag/arcsec²: countryside, where a person gave nothing
_YOUNGEST, _OLDEST = 5.0, 110.0


class Practice(StrEnum):
    """How used the eye is to faint things; the value is the word shown."""

    NEW = "new to it"
    SOME = "some practice"
    LONG = "long practice"


# How many times brighter than at the laboratory's threshold a thing must be to be noticed
# outdoors: Crumey 2014 (MNRAS 442, 2600) finds 1.4 to 2.4 for most people.
_FIELD_FACTORS = {Practice.NEW: 2.4, Practice.SOME: 1.9, Practice.LONG: 1.4}


@dataclass(frozen=True, slots=True)
class Observer:
    """The person at the eyepiece; ``pupil_mm`` measured in the dark overrides the age.

    Raises
    ------
    AdviceError
        If age or pupil are outside what people have.
    """

    age_years: float = 40.0
    pupil_mm: float | None = None
    practice: Practice = Practice.SOME

    def __post_init__(self) -> None:
        check_within(
            "age",
            self.age_years,
            _YOUNGEST,
            _OLDEST,
            " years",
            do="Give an age within that range, or the pupil in millimetres.",
        )
        if self.pupil_mm is not None:
            check_within(
                "pupil",
                self.pupil_mm,
                1.0,
                9.0,
                " mm",
                do="Give the diameter of the pupil in the dark, usually 4 mm to 7 mm.",
            )

    @property
    def dark_pupil_mm(self) -> float:
        """Diameter of the pupil in the dark (Schaefer 1990, after Kumnick 1954)."""
        if self.pupil_mm is not None:
            return self.pupil_mm
        return 7.0 * math.exp(-0.5 * (self.age_years / 100.0) ** 2)

    @property
    def behind_practised_mag(self) -> float:
        """Magnitudes by which this person sees less than one of long practice."""
        return 2.5 * math.log10(self.field_factor / _FIELD_FACTORS[Practice.LONG])

    @property
    def field_factor(self) -> float:
        """Times the laboratory's threshold that this person needs (Crumey 2014)."""
        return _FIELD_FACTORS[self.practice]


@dataclass(frozen=True, slots=True)
class Conditions:
    """The night at the site. ``assumed`` says that nobody told how dark it is.

    ``zenith_mag`` is the sky overhead without Moon, mag/arcsec²; ``extinction_mag`` is in V at
    the zenith; ``seeing_arcsec`` is the diameter of a star's blur.
    """

    zenith_mag: float = ASSUMED_ZENITH
    extinction_mag: float = 0.25
    seeing_arcsec: float = 2.5
    observer: Observer = field(default_factory=Observer)
    assumed: bool = False

    def __post_init__(self) -> None:
        check_within(
            "extinction",
            self.extinction_mag,
            0.05,
            2.0,
            do="Give magnitudes per airmass; 0.2 to 0.3 is a clear night.",
        )
        check_within(
            "seeing",
            self.seeing_arcsec,
            0.3,
            20.0,
            "″",
            do="Give the blur of a star; 2″ to 3″ is usual.",
        )

    @classmethod
    def at(
        cls,
        site: Site,
        observer: Observer | None = None,
        *,
        extinction_mag: float | None = None,
        zenith_mag: float | None = None,
        seeing_arcsec: float = 2.5,
    ) -> "Conditions":
        """Conditions of a clear night at a site, from what the person said about it."""
        known = site.sky_brightness_mag_per_arcsec2 if zenith_mag is None else zenith_mag
        usual = usual_extinction(site.elevation_m)
        return cls(
            zenith_mag=ASSUMED_ZENITH if known is None else known,
            extinction_mag=usual if extinction_mag is None else extinction_mag,
            seeing_arcsec=seeing_arcsec,
            observer=observer or Observer(),
            assumed=known is None,
        )
