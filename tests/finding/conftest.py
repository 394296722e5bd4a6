from collections.abc import Iterator

import numpy as np
import pytest

from companion.finding import GuideStars
from companion.finding.guide import guide_targets
from companion.sky import Catalogue, Ephemeris, SearchIndex, load_catalogue


@pytest.fixture(scope="session")
def ephemeris() -> Iterator[Ephemeris]:
    loaded = Ephemeris.load()
    yield loaded
    loaded.close()


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return load_catalogue()


@pytest.fixture(scope="session")
def search(catalogue: Catalogue) -> SearchIndex:
    return SearchIndex(catalogue)


@pytest.fixture(scope="session")
def all_stars(catalogue: Catalogue) -> GuideStars:
    """The whole sky at once, with the celestial pole overhead: geometry without a place."""
    targets = guide_targets(catalogue)
    ra = np.array([t.ra_deg or 0.0 for t in targets])
    dec = np.array([t.dec_deg or 0.0 for t in targets])
    # Lifted above the horizon by nothing but the frame: the floor is the only thing left out.
    stars = GuideStars.of(targets, -ra, np.full(len(targets), 45.0))
    vectors = np.stack(
        [
            np.cos(np.radians(dec)) * np.cos(np.radians(ra)),
            np.cos(np.radians(dec)) * np.sin(np.radians(ra)),
            np.sin(np.radians(dec)),
        ],
        axis=1,
    )
    row = {int(t.key.removeprefix("hip:")): i for i, t in enumerate(targets)}
    order = [row[int(hip)] for hip in stars.hip]
    return GuideStars(stars.hip, stars.names, stars.magnitude, vectors[order], stars.groups)
