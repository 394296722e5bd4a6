"""Stars and deep sky: distances with errors, pairs, periods, and what nobody knows."""

from datetime import UTC, datetime, timedelta

import pytest

from companion.about import About, AboutQuestion, about
from companion.about.tables import Epoch, load_tables
from companion.finding import Instrument, InstrumentKind
from companion.night import Conditions, find_instrument, ready_instruments
from companion.sky import DRY_PAN, LOON_BARRENS, Ephemeris, Site, load_catalogue, load_search

UTC_NOW = datetime(2026, 10, 18, 23, 14, tzinfo=UTC)


def ask(
    ephemeris: Ephemeris,
    name: str,
    instrument: str | Instrument = "150",
    site: Site = LOON_BARRENS,
    utc: datetime = UTC_NOW,
) -> About:
    used = find_instrument(instrument) if isinstance(instrument, str) else instrument
    target = load_search().resolve(name)
    question = AboutQuestion(target, site, utc, used, Conditions(), ready_instruments())
    return about(ephemeris, question)


def test_a_near_star(ephemeris: Ephemeris) -> None:
    """Vega: 130.23 ± 0.36 mas (van Leeuwen 2007), so 25.04 ± 0.07 light years."""
    figures = ask(ephemeris, "vega").figures
    assert figures.distance_ly == pytest.approx(25.04, abs=0.02)
    assert figures.distance_error_ly == pytest.approx(0.07, abs=0.01)
    # The Sun's 4.83 and Vega's 0.03 (Bessell 1990, from memory): 49 Suns.
    assert figures.luminosity_suns == pytest.approx(49.0, abs=2.0)


def test_a_star_too_far_for_its_parallax_has_no_distance(ephemeris: Ephemeris) -> None:
    stars = load_catalogue().stars
    rows = (stars.parallax_mas < stars.parallax_error_mas).nonzero()[0]
    page = ask(ephemeris, f"hip {int(stars.hip[rows[0]])}")
    assert page.figures.distance_ly is None
    assert page.figures.light_time_s is None
    assert "too far for a sure measure" in page.says[1]


def test_a_pair_stands_where_its_orbit_has_it_this_year(ephemeris: Ephemeris) -> None:
    """Porrima about 2020: 3.0″ at 358° (observers' tables, from memory)."""
    then = ask(ephemeris, "porrima", utc=datetime(2020, 4, 1, tzinfo=UTC)).double
    now = ask(ephemeris, "porrima").double
    assert then is not None
    assert now is not None
    assert then.separation_arcsec == pytest.approx(3.0, abs=0.1)
    assert then.position_angle_deg == pytest.approx(358.0, abs=2.0)
    assert now.separation_arcsec > then.separation_arcsec + 0.5
    assert now.year == pytest.approx(2026.8, abs=0.01)


def test_orbits_agree_with_the_table_of_pairs() -> None:
    """The table is for about 2020."""
    doubles = load_catalogue().names.doubles
    for hip, (orbit, _source) in load_tables().orbits.items():
        separations, angles = zip(*(orbit.place(year) for year in (2012.0, 2027.0)), strict=True)
        pair = doubles[hip]
        assert min(separations) - 0.5 <= pair.separation_arcsec <= max(separations) + 0.5, hip
        middle = orbit.place(2020.0)[1]
        spread = max(abs((angle - middle + 180.0) % 360.0 - 180.0) for angle in angles)
        apart = abs((pair.position_angle_deg - middle + 180.0) % 360.0 - 180.0)
        assert apart <= spread + 4.0, hip


def test_who_parts_albireo(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, "albireo", "eye").double
    assert page is not None
    assert "eye" not in page.splits_with
    assert page.magnification is None
    assert page.spare < 1.0
    assert {"80 mm f/5", "250 mm f/5"} <= set(page.splits_with)


def test_an_unequal_pair_asks_for_more(ephemeris: Ephemeris) -> None:
    """Rigel's companion, 6.6 magnitudes fainter at 9.4″, is no easy pair (common practice)."""
    rigel, albireo = ask(ephemeris, "rigel").double, ask(ephemeris, "albireo").double
    assert rigel is not None
    assert albireo is not None
    assert albireo.spare / rigel.spare > 34.7 / 9.4 * 2.0


@pytest.mark.parametrize("aperture_mm", [20.0, 1000.0])
def test_pairs_in_the_smallest_and_largest_instrument(
    ephemeris: Ephemeris, aperture_mm: float
) -> None:
    tube = Instrument("tube", InstrumentKind.TELESCOPE, aperture_mm, focal_mm=8.0 * aperture_mm)
    page = ask(ephemeris, "castor", tube).double
    assert page is not None
    assert ("tube" in page.splits_with) == (aperture_mm > 100.0)


def test_algol_by_its_epoch(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, "algol").variable
    assert page is not None
    assert page.next_maximum_utc is None
    assert page.next_minimum_utc is not None
    at = ask(ephemeris, "algol", utc=page.next_minimum_utc).variable
    assert at is not None
    assert at.magnitude_now == pytest.approx(3.4, abs=0.1)
    between = ask(ephemeris, "algol", utc=page.next_minimum_utc + timedelta(days=1.4)).variable
    assert between is not None
    assert between.magnitude_now == pytest.approx(2.1)


def test_a_cepheid_rises_faster_than_it_falls(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, "delta cep").variable
    assert page is not None
    assert page.next_minimum_utc is not None
    assert page.next_maximum_utc is not None
    assert page.magnitude_now is not None
    assert 3.5 <= page.magnitude_now <= 4.4


def test_of_a_pulsating_giant_only_the_date_is_foretold(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, "mira")
    assert page.variable is not None
    assert page.variable.magnitude_now is None
    assert page.variable.next_maximum_utc is not None
    assert any(said.endswith("give or take 20 days.") for said in page.says)


def test_what_never_rises_has_no_minimum_to_see(ephemeris: Ephemeris) -> None:
    far_south = Site("south", -60.0, 0.0)
    page = ask(ephemeris, "algol", site=far_south).variable
    assert page is not None
    assert page.next_minimum_utc is None


def test_epochs_run_both_ways() -> None:
    epoch = Epoch("minimum", 2450000.0, 10.0, 0.0, None, 0.1, None, "")
    assert epoch.after(2449985.0) == (2449980.0, 2449990.0)
    assert epoch.after(2450000.0) == (2450000.0, 2450010.0)


def test_a_galaxy(ephemeris: Ephemeris) -> None:
    figures = ask(ephemeris, "m 31").figures
    assert figures.distance_ly == pytest.approx(2.54e6)
    assert figures.true_size_ly == pytest.approx(140_000.0, rel=0.05)
    assert figures.light_time_s == pytest.approx(2.54e6 * 31557600.0)


def test_every_messier_and_caldwell_object_has_a_distance() -> None:
    """Save pairs and chance groupings of stars, and what is told too differently to be given."""
    deep_sky, known = load_catalogue().deep_sky, load_tables().distances_ly
    missing = [
        f"{letter} {number}"
        for letter, rows in (("M", deep_sky.messier_rows), ("C", deep_sky.caldwell_rows))
        for number, row in rows.items()
        if deep_sky.target(row).key not in known
    ]
    assert sorted(missing) == [
        "C 109", "C 2", "C 22", "C 55", "C 59", "C 6", "C 8", "C 90", "C 97", "M 40", "M 73",
    ]  # fmt: skip


def test_what_has_no_data_says_only_what_it_is(ephemeris: Ephemeris) -> None:
    page = ask(ephemeris, "05 35.3 -05 23", site=DRY_PAN)
    assert page.figures.distance_ly is None
    assert page.figures.magnitude is None
    assert len(page.says) == 1


def test_a_cluster_resolves_by_aperture(ephemeris: Ephemeris) -> None:
    assert "a glow without single stars" in ask(ephemeris, "m 13", "10x50").look_for
    large = Instrument("large", InstrumentKind.TELESCOPE, 500.0, focal_mm=2000.0)
    assert "resolved into many stars" in ask(ephemeris, "m 13", large).look_for
