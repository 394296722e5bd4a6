"""Time scales and the Earth's rotation, from the IERS tables that a package carries."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

import astropy_iers_data
import numpy as np
from skyfield.data import iers
from skyfield.timelib import Time, Timescale

from companion.advice import AdviceError
from companion.sky.solar_system import FIRST_UTC, LAST_UTC

_MJD_EPOCH = datetime(1858, 11, 17, tzinfo=UTC)


class Earth:
    """The time scale, with ΔUT1 and polar motion installed."""

    def __init__(self) -> None:
        with open(astropy_iers_data.IERS_A_FILE, "rb") as stream:  # noqa: PTH123 - may be no Path
            table = iers.parse_x_y_dut1_from_finals_all(stream)
        tt, delta_t, leap_dates, leap_offsets = iers.build_timescale_arrays(
            table["utc_mjd"], table["dut1"]
        )
        self.timescale: Timescale = Timescale((tt, delta_t), leap_dates, leap_offsets)
        iers.install_polar_motion_table(self.timescale, table)
        self.known_until: datetime = _MJD_EPOCH + timedelta(days=float(np.max(table["utc_mjd"])))

    def time(self, utc: datetime) -> Time:
        """Give skyfield's time of an aware datetime.

        Raises
        ------
        AdviceError
            If the moment is outside the ephemeris.
        """
        check_range(utc)
        return self.timescale.from_datetime(utc)

    def times(self, utcs: Sequence[datetime]) -> Time:
        """Give skyfield's time of several aware datetimes at once.

        Raises
        ------
        AdviceError
            If one of the moments is outside the ephemeris.
        """
        for utc in utcs:
            check_range(utc)
        return self.timescale.from_datetimes(list(utcs))

    def note(self, utc: datetime) -> str:
        """Say what is doubtful about the Earth's rotation at a moment; empty when nothing is.

        Predictions of ΔUT1 drift by about a millisecond a day, 0.015″, and an unknown leap
        second or change of length of day adds more: 0.1″ a day is a safe bound.
        """
        days = (utc - self.known_until).total_seconds() / 86400.0
        if days <= 0.0:
            return ""
        return (
            f"The Earth's rotation is known to {self.known_until:%Y-%m-%d}: azimuths may be off "
            f"by up to {min(0.1 * days, 999.0):.0f}″."
        )


def check_range(utc: datetime) -> None:
    """Refuse moments that the ephemeris does not cover, and times without a zone."""
    if utc.tzinfo is None:
        raise ValueError("a moment needs its offset from UTC")
    if not FIRST_UTC <= utc <= LAST_UTC:
        raise AdviceError(
            f"{utc:%Y-%m-%d} is outside the ephemeris, which covers 1899-07-30 to 2053-10-08.",
            "Give a time within those years.",
        )
