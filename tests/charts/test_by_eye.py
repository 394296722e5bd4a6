"""What the charts by eye show and name: this sky's own stars, and those that the words speak of."""

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from companion.charts import (
    GLOW_CELL,
    ChartKind,
    ChartView,
    Lens,
    Scene,
    SkyFrame,
    around,
    glow_of,
    lens_of,
    place_labels,
    scene_of,
)
from companion.finding import ViewFrame
from companion.night import naked_eye_limit
from companion.sky import DRY_PAN, LOON_BARRENS, Site, load_catalogue, milky_way

from .test_charts import UP, UTC_DARK, sky_of, view_of

NEW_MOON = datetime(2026, 10, 11, 2, tzinfo=UTC)
FULL_MOON = datetime(2026, 10, 26, 4, tzinfo=UTC)
DUSK = datetime(2026, 10, 10, 22, 20, tzinfo=UTC)
NOON = datetime(2026, 10, 10, 16, tzinfo=UTC)
SIDES = {"above": (0, 1), "below": (0, -1), "to the right of": (1, 0), "to the left of": (-1, 0)}


def under(mag_per_arcsec2: float, site: Site = LOON_BARRENS) -> Site:
    return replace(site, sky_brightness_mag_per_arcsec2=mag_per_arcsec2)


def shown(sky: SkyFrame, kind: ChartKind = ChartKind.WHOLE) -> tuple[Lens, Scene]:
    lens = lens_of(sky, kind)
    return lens, scene_of(sky, view_of(sky, kind, np.array([0.2, 0.0, 0.98])), lens)


def _of_the_whole_sky(sky: SkyFrame) -> Scene:
    """Lay a sky onto an area so large that none of it is cut off."""
    kind = ChartKind.WHOLE
    view = replace(view_of(sky, kind, np.array([0.2, 0.0, 0.98])), width=1e4, height=1e4)
    return scene_of(sky, view, lens_of(sky, kind))


@pytest.mark.parametrize("kind", [ChartKind.WHOLE, ChartKind.WIDE])
def test_a_chart_by_eye_shows_what_this_sky_lets_the_eye_find(kind: ChartKind) -> None:
    """A sky of 18.0 shows a magnitude and a half less than one of 21.5 does."""
    faintest = {}
    for brightness in (21.5, 18.0):
        sky = sky_of(site=under(brightness), utc=NEW_MOON)
        lens, scene = shown(sky, kind)
        faintest[brightness] = float(sky.index.star_magnitude[scene.stars.rows].max())
        assert faintest[brightness] <= lens.star_limit == sky.eye_limit
        assert sky.eye_limit - faintest[brightness] < 0.3
        assert sky.eye_limit == pytest.approx(float(naked_eye_limit(brightness)), abs=0.02)
    assert faintest[18.0] < faintest[21.5] - 1.5


def test_the_full_moon_hides_stars_most_around_itself() -> None:
    dark, moonlit = (sky_of(site=under(21.5), utc=utc) for utc in (NEW_MOON, FULL_MOON))
    assert moonlit.eye_limit < dark.eye_limit - 1.0
    moon = next(body.vector for body in moonlit.bodies if body.body == "moon")
    count = len(moonlit.by_eye)
    near = moonlit.stars[:count] @ moon.astype(np.float32) > np.cos(np.radians(25.0))
    magnitude = moonlit.index.star_magnitude[:count]
    assert magnitude[near & moonlit.by_eye].max() < magnitude[moonlit.by_eye].max() - 0.3


def test_in_haze_only_bright_stars_are_shown() -> None:
    sky = sky_of(utc=NEW_MOON)
    altitude = np.degrees(np.arcsin(sky.stars[: len(sky.by_eye), 2]))
    low = sky.by_eye & (altitude < 6.0)
    assert sky.index.star_magnitude[: len(sky.by_eye)][low].max() < sky.eye_limit - 1.0


def test_dusk_shows_its_few_stars_and_noon_those_of_the_dark() -> None:
    dusk, noon = sky_of(utc=DUSK), sky_of(utc=NOON)
    assert 0.0 < dusk.eye_limit == dusk.drawn_limit < 4.0
    assert noon.eye_limit < -3.0
    assert noon.drawn_limit > 5.0
    assert noon.by_eye.sum() > 1000
    assert 0 < dusk.by_eye.sum() < 200


def test_figures_and_their_names_need_stars_that_show() -> None:
    dark, bright = (sky_of(site=under(value), utc=NEW_MOON) for value in (21.5, 14.0))
    lines = [len(_of_the_whole_sky(sky).lines) for sky in (dark, bright)]
    assert 0 < lines[1] < lines[0] / 2
    names = [int(np.isfinite(sky.groups[:, 0]).sum()) for sky in (dark, bright)]
    assert 0 < names[1] < names[0]


def test_a_chart_is_complete_as_far_as_the_catalogue_is() -> None:
    sky = sky_of(utc=NEW_MOON)
    finder, eyepiece = (lens_of(sky, kind) for kind in (ChartKind.FINDER, ChartKind.EYEPIECE))
    assert eyepiece.star_limit > finder.star_limit > 7.3
    assert eyepiece.complete_to == 10.0 >= finder.complete_to
    wide = lens_of(sky, ChartKind.WIDE)
    assert wide.complete_to == min(wide.star_limit, 7.3)


def ways_over_the_sky() -> Iterator[SkyFrame]:
    deep = load_catalogue().deep_sky
    keys = [deep.target(row).key for row in deep.messier_rows.values()][::9]
    for site, utc in ((LOON_BARRENS, UTC_DARK), (DRY_PAN, datetime(2027, 4, 3, 19, tzinfo=UTC))):
        for brightness in (21.5, 18.5):
            for key in keys:
                sky = sky_of(key, utc, site=under(brightness, site))
                if sky.paths.ways:
                    yield sky


def wide_view(sky: SkyFrame, stars: tuple[np.ndarray, ...]) -> tuple[Lens, ChartView]:
    assert sky.target is not None
    lens = lens_of(sky, ChartKind.WIDE)
    middle, reach = around([sky.target.vector, *stars])
    frame = ViewFrame(middle, UP, lens.viewing)
    return lens, ChartView(frame, 900.0, 700.0, 350.0 / frame.radius(max(1.2 * reach, 21.0)))


def test_stars_that_the_words_name_are_on_the_chart_with_their_names() -> None:
    count = 0
    for sky in ways_over_the_sky():
        for way in sky.paths.ways:
            lens, view = wide_view(sky, way.stars)
            marked = tuple(zip(way.names, way.stars, strict=True))
            scene = scene_of(sky, view, lens, marked=marked)
            drawn = sky.stars[scene.stars.rows]
            labels = {label.text for label in scene.labels}
            for name, vector in marked:
                count += 1
                assert name in way.sentence or "of the" in way.sentence
                assert name in labels
                assert np.linalg.norm(drawn - vector, axis=1).min() < 1e-4
            sure = [label for label in scene.labels if label.rank in {"target", "way"}]
            assert scene.labels[: len(sure)] == tuple(sure)
            corners = place_labels(
                np.vstack([[label.place for label in scene.labels], scene.stars.places[:90]]),
                [(70.0, 16.0)] * len(scene.labels),
                np.full(len(scene.labels) + len(scene.stars.places[:90]), 6.0),
                (view.width, view.height),
                sure=len(sure),
            )
            assert np.isfinite(corners[: len(sure)]).all()
    assert count > 80


def test_a_side_that_is_said_is_the_side_on_the_chart() -> None:
    """Right is right and above is above on the upright chart, within what eight words can say."""
    count = 0
    for sky in ways_over_the_sky():
        for way in sky.paths.ways:
            side = re.search(r" ((?:above|below|to the)[a-z ]*) the line\.$", way.sentence)
            if side is None or sky.target is None:
                continue
            _lens, view = wide_view(sky, way.stars)
            foot, place = view.places(way.traces[-1][-1]), view.places(sky.target.vector)
            step = (place - foot) * (1.0, -1.0)
            words = [word for word in SIDES if word.split(" of")[0] in side[1]]
            towards = np.sum([SIDES[word] for word in words], axis=0)
            cosine = step @ towards / np.linalg.norm(step) / np.linalg.norm(towards)
            # Away from the middle the chart's up leans from the zenith's: as much as that more.
            leaning = np.degrees(np.arccos(_up_at(view, way.traces[-1][-1])[1]))
            assert np.degrees(np.arccos(cosine)) < 22.6 + leaning + 1.0, way.sentence
            count += 1
    assert count > 15


def _up_at(view: ChartView, vector: np.ndarray) -> np.ndarray:
    """Give the direction on the chart, y upwards, in which the zenith lies from a place."""
    higher = vector + 1e-4 * (UP - vector[2] * vector)
    step = (view.places(higher / np.linalg.norm(higher)) - view.places(vector)) * (1.0, -1.0)
    return np.asarray(step / np.linalg.norm(step))


@pytest.mark.parametrize("key", ["ngc:NGC0224", "ngc:NGC6205"])
def test_the_stars_of_a_route_bear_their_names_in_the_finder(key: str) -> None:
    sky = sky_of(key)
    lens = lens_of(sky, ChartKind.FINDER)
    for hop in sky.paths.hops:
        view = view_of(sky, ChartKind.FINDER, hop.start)
        reach = float(np.degrees(np.arccos(hop.start @ hop.end)))
        view = replace(view, scale=min(view.scale, 400.0 / reach))  # as the chart widens for a hop
        marked = tuple(zip(hop.names, (hop.start, hop.end), strict=True))
        scene = scene_of(sky, view, lens, marked=marked)
        assert set(hop.names) <= {label.text for label in scene.labels}
        assert hop.names[0] in hop.sentence


def test_what_the_eye_finds_follows_the_sky() -> None:
    """It is weighed anew as the sky turns, at another site, and where brightness is told anew."""
    first = sky_of(site=under(20.0), utc=NEW_MOON)
    assert sky_of(site=under(20.0), utc=NEW_MOON + timedelta(seconds=5)).by_eye is first.by_eye
    later = sky_of(site=under(20.0), utc=NEW_MOON + timedelta(minutes=30))
    assert (later.by_eye != first.by_eye).sum() > 10
    assert len(sky_of(site=under(19.0), utc=NEW_MOON).by_eye) < len(first.by_eye)


def test_the_milky_way_shows_under_a_dark_sky_and_nowhere_else() -> None:
    dark = sky_of(site=under(21.8), utc=NEW_MOON)
    view, lens = view_of(dark, ChartKind.WHOLE, UP), lens_of(dark, ChartKind.WHOLE)
    glow = glow_of(dark, view, lens)
    assert glow is not None
    assert glow.max() > 0.3
    assert glow.min() == 0.0
    assert glow_of(dark, view, lens_of(dark, ChartKind.FINDER)) is None
    bright = replace(dark, eye_limit=4.5)
    assert glow_of(bright, view, lens) is None
    half = glow_of(replace(dark, eye_limit=5.65), view, lens)
    assert half is not None
    assert half.max() < 0.6 * glow.max() + 0.01


def test_each_cell_of_the_glow_is_as_bright_as_the_sky_behind_it() -> None:
    sky = sky_of(site=under(21.9), utc=NEW_MOON)
    view, lens = view_of(sky, ChartKind.WHOLE, UP), lens_of(sky, ChartKind.WHOLE)
    glow = glow_of(sky, view, lens)
    assert glow is not None
    for row, column in ((3, 5), (18, 20), (30, 11), (9, 33)):
        place = np.array([(column + 0.5) * GLOW_CELL, (row + 0.5) * GLOW_CELL])
        seen = view.direction(place)
        behind = float(milky_way((seen @ sky.turn)[None])[0]) if seen[2] > 0.0 else 0.0
        assert glow[row, column] == pytest.approx(behind, abs=1e-6)
