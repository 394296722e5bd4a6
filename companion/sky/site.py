"""Where the person stands."""

from dataclasses import dataclass

from companion.advice import check_within


@dataclass(frozen=True, slots=True)
class Site:
    """A place on the WGS 84 ellipsoid with its weather and horizon.

    ``pressure_hpa`` and ``temperature_c`` are None where the person gave none: the standard
    atmosphere at the site's height is used then. ``horizon`` holds (azimuth, altitude) points in
    degrees, ascending in azimuth, joined by straight lines; empty means the open horizon.
    ``sky_brightness_mag_per_arcsec2`` is the zenith without Moon, None where unknown.

    Raises
    ------
    AdviceError
        If a coordinate lies outside its range.
    """

    name: str
    latitude_deg: float  # north positive
    longitude_deg: float  # east positive, -180 to 180
    elevation_m: float = 0.0
    time_zone: str = "UTC"  # IANA name
    temperature_c: float | None = None
    pressure_hpa: float | None = None
    sky_brightness_mag_per_arcsec2: float | None = None
    horizon: tuple[tuple[float, float], ...] = ()

    def __post_init__(self) -> None:
        check_within("latitude", self.latitude_deg, -90.0, 90.0, "°")
        check_within("longitude", self.longitude_deg, -180.0, 180.0, "°")
        check_within("height", self.elevation_m, -500.0, 9000.0, " m")
        if self.temperature_c is not None:
            check_within("temperature", self.temperature_c, -90.0, 60.0, " °C")
        if self.pressure_hpa is not None:
            check_within("pressure", self.pressure_hpa, 250.0, 1100.0, " hPa")


LOON_BARRENS = Site("Loon Barrens", 45.20, -62.30, 120.0, "America/Halifax")
DRY_PAN = Site("Dry Pan", -32.4, 20.8, 1500.0, "Africa/Johannesburg")
DEMO_SITES = (LOON_BARRENS, DRY_PAN)
