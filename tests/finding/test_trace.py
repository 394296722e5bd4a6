import numpy as np

from companion.finding import GuideStars, Place, WayKind, trace, ways_to
from companion.sky import separation_deg


def test_a_drawn_way_runs_through_its_stars_and_ends_beside_its_target(
    all_stars: GuideStars,
) -> None:
    """Every kind of way to three stars, none of which lies under the frame's horizon."""
    drawn = set()
    for name in ("Arcturus", "Capella", "Castor", "Polaris", "Algol"):
        row = all_stars.names.index(name)
        place = Place(all_stars.vectors[row], name, float(all_stars.magnitude[row]))
        for way in ways_to(all_stars, place, most=12).ways:
            drawn.add(way.kind)
            points = trace(all_stars, way, place)
            assert np.allclose(np.linalg.norm(points, axis=1), 1.0)
            for hip in way.stars if way.kind is not WayKind.MEMBER else ():
                star = all_stars.vectors[all_stars.rows[hip]]
                assert separation_deg(points, star).min() < 1.1 + (
                    way.miss_deg if way.kind is WayKind.CURVE else 0.0
                )
            if way.kind in {WayKind.LINE, WayKind.CHAIN} and way.gap_deg:
                end = float(separation_deg(points[-1], place.vector))
                assert abs(end - way.miss_deg) < 1e-6
            elif way.kind is WayKind.CURVE:
                assert np.allclose(points[-1], place.vector)
    assert {WayKind.LINE, WayKind.CURVE, WayKind.MEMBER} <= drawn
