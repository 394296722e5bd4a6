"""Places in a view against astropy's WCS (FITS WCS paper II, Calabretta & Greisen 2002, A&A 395,
1077: STG), position angles against its SkyOffset frames, scale against known separations.
"""

import numpy as np
import pytest
from astropy import units
from astropy.coordinates import SkyCoord
from astropy.wcs import WCS

from companion.finding import ViewFrame, Viewing, position_angle_deg
from companion.sky import load_catalogue, separation_deg, unit_vectors

POLE = np.array([0.0, 0.0, 1.0])
RNG = np.random.default_rng(5)


@pytest.mark.parametrize("centre", [(10.0, 0.0), (83.8, -5.4), (200.0, 88.0), (310.0, -89.0)])
def test_places_agree_with_world_coordinates(centre: tuple[float, float]) -> None:
    wcs = WCS(naxis=2)
    wcs.wcs.ctype = ["RA---STG", "DEC--STG"]
    wcs.wcs.crval = centre
    wcs.wcs.cdelt = [-1.0, 1.0]  # right ascension grows to the left
    wcs.wcs.crpix = [0.0, 0.0]
    ra, dec = RNG.uniform(0, 360, 500), np.degrees(np.arcsin(RNG.uniform(-1, 1, 500)))
    frame = ViewFrame(unit_vectors(*centre), POLE)
    theirs = np.stack(wcs.wcs_world2pix(ra, dec, 0), axis=1) + 1.0
    ours = frame.project(unit_vectors(ra, dec))
    assert np.allclose(ours, theirs, rtol=1e-9, atol=1e-9)


@pytest.mark.parametrize("viewing", list(Viewing))
def test_position_angles_agree_with_offset_frames(viewing: Viewing) -> None:
    for ra, dec in zip(RNG.uniform(0, 360, 20), RNG.uniform(-89, 89, 20), strict=True):
        middle = SkyCoord(ra * units.deg, dec * units.deg)
        angle, distance = float(RNG.uniform(0, 360)), float(RNG.uniform(0.01, 60))
        other = middle.directional_offset_by(angle * units.deg, distance * units.deg)
        # In the frame turned by the position angle the other place lies straight up.
        offset = other.transform_to(middle.skyoffset_frame(rotation=angle * units.deg))
        assert offset.lat.deg == pytest.approx(distance, abs=1e-7)
        vector = unit_vectors(other.ra.deg, other.dec.deg)
        ours = float(position_angle_deg(unit_vectors(ra, dec), vector, POLE))
        assert (ours - angle + 180) % 360 - 180 == pytest.approx(0.0, abs=1e-7)
        # In the view itself: east is left in an upright view with north up, right in a mirror.
        frame = ViewFrame(unit_vectors(ra, dec), POLE, viewing=viewing)
        x, y = frame.project(vector)
        shown = {
            Viewing.UPRIGHT: (-x, y),
            Viewing.TURNED: (x, -y),
            Viewing.MIRRORED: (x, y),
        }[viewing]
        turned = np.degrees(np.arctan2(*shown)) - angle
        assert (turned + 180) % 360 - 180 == pytest.approx(0.0, abs=1e-6)
        assert frame.angle_of(angle, POLE) == pytest.approx(frame.angle_towards(vector), abs=1e-6)


def test_small_offsets_are_those_of_the_offset_frame() -> None:
    middle = SkyCoord(56.75 * units.deg, 24.12 * units.deg)
    near = SkyCoord([56.9, 56.5, 57.1] * units.deg, [24.3, 23.9, 24.0] * units.deg)
    offset = near.transform_to(middle.skyoffset_frame())
    frame = ViewFrame(unit_vectors(56.75, 24.12), POLE)
    places = frame.project(unit_vectors(near.ra.deg, near.dec.deg))
    east = offset.lon.wrap_at(180 * units.deg).deg
    assert np.allclose(places[:, 0], -east, atol=1e-5)
    assert np.allclose(places[:, 1], offset.lat.deg, atol=1e-5)


# Published separations: Mizar and Alcor 11.8 arcmin (Washington Double Star Catalog, 708.5"),
# Albireo 34.7" (WDS, from memory), Alkaid and Dubhe 25.7 degrees (Hipparcos).
@pytest.mark.parametrize(
    ("first", "second", "separation", "tolerance"),
    [
        (65378, 65477, 11.8 / 60, 0.05 / 60),
        (67301, 54061, 25.7, 0.05),
        (95947, 95951, 34.7 / 3600, 0.3 / 3600),
    ],
)
def test_the_scale_shows_known_separations(
    first: int, second: int, separation: float, tolerance: float
) -> None:
    a, b = (
        unit_vectors(star.ra_deg or 0.0, star.dec_deg or 0.0)
        for star in map(load_catalogue().star, (first, second))
    )
    frame = ViewFrame(a, POLE)
    reach = float(np.hypot(*frame.project(b)))
    assert float(separation_deg(a, b)) == pytest.approx(separation, abs=tolerance)
    assert reach == pytest.approx(frame.radius(float(separation_deg(a, b))), rel=1e-9)


def test_the_pleiades_fit_a_field_of_two_degrees() -> None:
    """The bright stars of the cluster span about 1.1 degrees (common practice: a 2° field)."""
    catalogue = load_catalogue()
    stars = [catalogue.star(hip) for hip in (17702, 17847, 17573, 17499, 17608, 17531)]
    vectors = unit_vectors([s.ra_deg or 0.0 for s in stars], [s.dec_deg or 0.0 for s in stars])
    middle = vectors.mean(axis=0)
    frame = ViewFrame(middle / np.linalg.norm(middle), POLE)
    reach = np.hypot(*frame.project(vectors).T)
    assert 0.4 < reach.max() < frame.radius(1.0)
