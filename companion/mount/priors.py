"""What is held of a mount before the first sighting."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from companion.mount.records import Mount

FREE_DEG: Final = 360.0 / 12.0**0.5  # sigma of a direction of which nothing is known
ALTITUDE_ZERO_DEG: Final = 2.0
TILT_DEG: Final = 1.0
TILT_LEVELLED_DEG: Final = 0.3
CONE_DEG: Final = 0.3
SKEW_DEG: Final = 0.3
SAG_DEG: Final = 0.1


def prior_sigmas_deg(mount: Mount) -> NDArray[np.float64]:
    """Give the prior sigmas of the parameters of ``model.PARAMETERS``, in degrees.

    They are what a home-made or a plain commercial mount has (common practice, no source). The
    azimuth zero is free: its prior has the width of a direction of which nothing is known, about
    wherever the fit begins.
    """
    tilt_deg = TILT_LEVELLED_DEG if mount.levelled_with_care else TILT_DEG
    return np.array([FREE_DEG, ALTITUDE_ZERO_DEG, tilt_deg, tilt_deg, CONE_DEG, SKEW_DEG, SAG_DEG])
