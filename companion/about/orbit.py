"""Where the fainter star of a pair stands in its orbit: Meeus, ch. 57."""

import math
from dataclasses import dataclass

_TURNS = 60  # of Kepler's equation, far more than the widest ellipse needs


@dataclass(frozen=True, slots=True)
class Orbit:
    """The elements of an apparent orbit; angles in degrees, the node for 2000."""

    period_years: float
    periastron_year: float
    eccentricity: float
    axis_arcsec: float
    inclination_deg: float
    node_deg: float
    periastron_deg: float

    def place(self, year: float) -> tuple[float, float]:
        """Give separation in arcseconds and position angle in degrees, north through east."""
        e = self.eccentricity
        mean = math.tau * ((year - self.periastron_year) / self.period_years % 1.0)
        anomaly = _eccentric(mean, e)
        radius = self.axis_arcsec * (1.0 - e * math.cos(anomaly))
        true = 2.0 * math.atan2(
            math.sqrt(1.0 + e) * math.sin(anomaly / 2.0),
            math.sqrt(1.0 - e) * math.cos(anomaly / 2.0),
        )
        along = true + math.radians(self.periastron_deg)
        tilt = math.cos(math.radians(self.inclination_deg))
        x, y = math.cos(along), math.sin(along) * tilt
        angle = math.degrees(math.atan2(y, x)) + self.node_deg
        return radius * math.hypot(x, y), angle % 360.0


def _eccentric(mean: float, eccentricity: float) -> float:
    """Solve Kepler's equation by Newton's steps, begun where they cannot miss."""
    anomaly = math.pi if eccentricity > 0.8 else mean
    for _ in range(_TURNS):
        wrong = anomaly - eccentricity * math.sin(anomaly) - mean
        anomaly -= wrong / (1.0 - eccentricity * math.cos(anomaly))
        if abs(wrong) < 1e-12:
            break
    return anomaly
