"""How a body of the solar system stands between the Sun and somebody who looks at it."""

from dataclasses import dataclass

import numpy as np
from skyfield.timelib import Time

from companion.arrays import FloatArray
from companion.sky.solar_system import SolarBody

AU_KM = 149597870.7
LIGHT_KM_PER_S = 299792.458
_DAY_S = 86400.0


@dataclass(frozen=True, slots=True, eq=False)
class Aspect:
    """Where a body is from an observer, from the Sun, and which way is north; ICRS axes.

    The Moon's directions are apparent ones: it moves with the Earth, so that these, and not the
    astrometric ones, are the lines along which light leaves and meets its ground. Those of the
    planets are astrometric.
    """

    body: str
    to_body_km: FloatArray  # (3,) from the observer, the body as it was when the light left
    from_sun_km: FloatArray  # (3,) from the Sun to the body
    north: FloatArray  # (3,) the celestial pole of date
    days: float  # TDB since J2000, at which the light left the body
    radius_km: float  # at the equator

    @property
    def distance_km(self) -> float:
        """From the observer."""
        return float(np.linalg.norm(self.to_body_km))

    @property
    def distance_au(self) -> float:
        """From the observer."""
        return self.distance_km / AU_KM

    @property
    def light_time_s(self) -> float:
        """How long the light took."""
        return self.distance_km / LIGHT_KM_PER_S


def aspect_of(kernel: object, observer: object, time: Time, body: SolarBody) -> Aspect:
    """Look at a body and the Sun from an observer of the loaded ephemeris."""
    here = observer.at(time)  # type: ignore[attr-defined]  # untyped
    seen, sun = here.observe(kernel[body.segment]), here.observe(kernel["sun"])  # type: ignore[index]  # untyped
    if body.segment == "moon":
        seen, sun = seen.apparent(), sun.apparent()
    to_body = np.asarray(seen.position.km, dtype=float)
    to_sun = np.asarray(sun.position.km, dtype=float)
    light_days = float(np.linalg.norm(to_body)) / LIGHT_KM_PER_S / _DAY_S
    return Aspect(
        body=body.target.body,
        to_body_km=to_body,
        from_sun_km=to_body - to_sun,
        north=np.asarray(time.M, dtype=float)[2],
        days=float(time.tdb) - 2451545.0 - light_days,
        radius_km=body.radius_km,
    )
