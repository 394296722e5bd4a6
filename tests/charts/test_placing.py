import numpy as np
import pytest
from hypothesis import given, strategies as st

from companion.charts import ChartView, dots_along
from companion.charts.placing import disc_radii, leaders, place_labels
from companion.finding import ViewFrame

coordinate = st.floats(0, 500)
VIEW = ChartView(ViewFrame(np.array([1.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0])), 100.0, 80.0, 1.0)


@given(
    st.lists(st.tuples(coordinate, coordinate), max_size=25),
    st.integers(10, 90),
    st.integers(0, 25),
)
def test_labels_cover_neither_each_other_nor_symbols_and_stay_inside(
    places: list[tuple[float, float]], width: int, bare: int
) -> None:
    anchors = np.array(places).reshape(-1, 2)
    sizes = np.full((max(len(anchors) - bare, 0), 2), (width, 14.0))
    radii = np.full(len(anchors), 3.0)
    box = np.array([width, 14.0])
    corners = place_labels(anchors, sizes, radii, (500.0, 500.0))
    assert corners.shape == sizes.shape
    kept = corners[~np.isnan(corners[:, 0])]
    assert (kept >= 0.0).all()
    assert (kept + box <= 500.0).all()
    boxes = [(*low, *(low + box)) for low in kept]
    boxes += [(x - 3, y - 3, x + 3, y + 3) for x, y in anchors]
    for i in range(len(kept)):
        for j in range(len(boxes)):
            if i != j:
                a, b = boxes[i], boxes[j]
                apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
                assert apart


def test_the_important_one_wins_and_the_right_side_is_preferred() -> None:
    anchors = [(100.0, 100.0), (100.0, 130.0), (100.0, 100.0)]
    corners = place_labels(anchors, [(50.0, 10.0)] * 3, [4.0] * 3, (300.0, 300.0))
    assert corners[0] == pytest.approx((107.0, 95.0))
    assert corners[1] == pytest.approx((107.0, 125.0))
    assert corners[2][0] < 100.0
    walled = place_labels([(5.0, 5.0)], [(400.0, 10.0)], [1.0], (300.0, 300.0))
    assert np.isnan(walled).all()


def test_discs_are_those_of_a_printed_atlas() -> None:
    at_1366 = 1366 / 1920
    across = 2.0 * disc_radii([6.0, 4.0, 2.0, 0.0], 6.5, at_1366)
    assert across == pytest.approx([2.0, 3.7, 6.8, 12.6], abs=0.15)
    assert disc_radii([2.1, 1.9], 6.5, 1.0).tolist() == disc_radii([2.0, 2.0], 6.5, 1.0).tolist()
    assert (np.diff(disc_radii([-1.5, -1.0, 3.0, 3.5, 6.5], 6.5, 1.0)) < 0).all()
    assert disc_radii([np.nan, 11.0], 6.5, 1.0) == pytest.approx(disc_radii([6.5] * 2, 6.5, 1.0))
    # Through an instrument a star of the tenth magnitude is the faintest, not lost.
    assert disc_radii([10.0], 10.0, 1.0) == pytest.approx(disc_radii([6.5], 6.5, 1.0))


def test_a_name_that_stands_upon_its_middle_slides_off_what_is_there() -> None:
    size, bounds = [(60.0, 10.0)], (300.0, 300.0)
    free = place_labels([(100.0, 100.0)], size, [0.0], bounds, centred=1)
    assert free[0] == pytest.approx((70.0, 95.0))
    over = [(100.0, 100.0), (100.0, 100.0)]
    slid = place_labels(over, size, [0.0, 0.5], bounds, centred=1)
    assert slid[0, 0] == pytest.approx(70.0)
    assert abs(slid[0, 1] - 95.0) == pytest.approx(6.0)


def test_names_that_must_be_written_stand_off_and_are_joined_by_a_line() -> None:
    """Twelve stars on one spot, in a sky of symbols: eight sides are not enough."""
    anchors = np.full((12, 2), 250.0) + np.arange(12)[:, None]
    symbols = np.stack(np.meshgrid(np.arange(0, 500, 9.0), np.arange(0, 500, 9.0)), -1)
    around = np.vstack([anchors, symbols.reshape(-1, 2)])
    radii, sizes = np.full(len(around), 3.0), np.full((12, 2), (80.0, 14.0))
    assert np.isnan(place_labels(around, sizes, radii, (500.0, 500.0))).any()
    corners = place_labels(around, sizes, radii, (500.0, 500.0), sure=12)
    assert np.isfinite(corners).all()
    for one, low in enumerate(corners):
        apart = (np.abs(corners - low) >= (80.0, 14.0)).any(axis=1)
        assert apart.sum() == 11, one
    lines = leaders(anchors, corners, sizes, radii[:12])
    beside = place_labels(anchors[:1], sizes[:1], radii[:1], (500.0, 500.0))
    assert 0 < len(lines) < 12
    assert len(leaders(anchors[:1], beside, sizes[:1], radii[:1])) == 0
    for _x, _y, *end in lines.tolist():
        assert ((corners <= end) & (end <= corners + sizes)).all(axis=1).any()


def test_dots_go_evenly_along_what_is_in_sight() -> None:
    gap = [np.nan, np.nan]
    lines = np.array([[10.0, 10.0], [10.0, 40.0], [40.0, 40.0], gap, [60.0, 5.0], [70.0, 5.0]])
    dots = dots_along(VIEW, lines, 4.0)
    assert len(dots) == 18  # 30 + 30 + 10 pixels
    np.testing.assert_allclose(dots[:2], [[10.0, 10.0], [10.0, 14.0]])
    np.testing.assert_allclose(dots[8], [12.0, 40.0])
    np.testing.assert_allclose(dots[15], [60.0, 5.0])
    dashes = dots_along(VIEW, lines, 4.0, (1.0,))
    np.testing.assert_allclose(dashes[18], [10.0, 11.0])
    far = np.array([[500.0, 0.0], [500.0, 80.0]])
    assert len(dots_along(VIEW, far, 4.0)) == 0
    assert len(dots_along(VIEW, np.empty((0, 2)), 4.0)) == 0


def test_a_line_with_both_ends_outside_may_still_cross_a_view() -> None:
    starts = np.array([[-50.0, 40.0], [-50.0, 40.0], [50.0, -60.0], [np.nan, 0.0]])
    ends = np.array([[200.0, 40.0], [-20.0, 40.0], [50.0, 500.0], [50.0, 0.0]])
    assert VIEW.crossed(starts, ends).tolist() == [True, False, True, False]


FREE = 50.0, 10.0  # a label's size, of a symbol of radius 4 at (250, 250) with a gap of 3
# Its corner on each side, best first: right, left, above, below, then the four corners.
SIDES = (
    (257.0, 245.0), (193.0, 245.0), (225.0, 233.0), (225.0, 257.0),
    (257.0, 233.0), (257.0, 257.0), (193.0, 233.0), (193.0, 257.0),
)  # fmt: skip


def crowd(*holes: tuple[float, float]) -> np.ndarray:
    """Give small symbols all over but where a label with its corner in a hole would lie."""
    every = np.stack(np.meshgrid(np.arange(1, 500, 3.0), np.arange(1, 500, 3.0)), -1).reshape(-1, 2)
    clear = np.ones(len(every), np.bool_)
    for corner in holes:
        low, high = np.array(corner) - 1.0, np.array(corner) + FREE + 1.0
        clear &= ((every <= low) | (every >= high)).any(axis=1)
    return every[clear]


def placed(names: list[tuple[float, float]], symbols: np.ndarray, sure: int) -> list[list[float]]:
    around = np.vstack([names, symbols])
    radii = np.array([4.0] * len(names) + [1.0] * len(symbols))
    sizes = [FREE] * len(names)
    found: list[list[float]] = place_labels(
        around, sizes, radii, (500.0, 500.0), sure=sure
    ).tolist()
    return found


@pytest.mark.parametrize("side", range(8))
def test_a_label_goes_to_the_best_side_that_is_free(side: int) -> None:
    """Whatever is worse is free as well, and does not tempt it."""
    only = placed([(250.0, 250.0)], crowd(SIDES[side]), sure=0)
    assert only == [pytest.approx(SIDES[side])]
    worse = placed([(250.0, 250.0)], crowd(*SIDES[side:]), sure=0)
    assert worse == [pytest.approx(SIDES[side])]


def test_a_label_that_finds_no_side_is_left_out() -> None:
    assert np.isnan(placed([(250.0, 250.0)], crowd(), sure=0)).all()


@pytest.mark.parametrize("off", [0.0, 12.0, 24.0, 36.0, 50.0])
def test_only_a_sure_label_stands_off_its_symbol(off: float) -> None:
    """Off by 0, 1.2, 2.4, 3.6 or 5 of its heights; one that is not sure is left out instead."""
    here, there = (257.0 + off, 95.0), (257.0 + off, 395.0)
    symbols = crowd(here, there)
    sure, unsure = placed([(250.0, 100.0), (250.0, 400.0)], symbols, sure=1)
    assert sure == pytest.approx(here)
    assert unsure == pytest.approx(there) if off == 0.0 else np.isnan(unsure).all()
