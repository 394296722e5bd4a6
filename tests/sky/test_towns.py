from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings, strategies as st

from companion.advice import AdviceError
from companion.sky import TownIndex, time_zone_at


@pytest.fixture(scope="module")
def towns() -> TownIndex:
    return _shared()


_made: list[TownIndex] = []


def _shared() -> TownIndex:
    """One index for the fixture and for the properties, which take no fixtures."""
    if not _made:
        _made.append(TownIndex())
    return _made[0]


@pytest.mark.parametrize(
    ("text", "name", "country"),
    [
        ("paris", "Paris", "France"),
        ("PARIS", "Paris", "France"),
        ("par", "Paris", "France"),
        ("paris, texas", "Paris", "United States"),
        ("paris tx", "Paris", "United States"),
        ("london ca", "London", "Canada"),
        ("halifax", "Halifax", "Canada"),
        ("halifax, ns", "Halifax", "Canada"),
        ("halifax, united kingdom", "Halifax", "United Kingdom"),
        ("zurich", "Zürich", "Switzerland"),
        ("Zürich", "Zürich", "Switzerland"),
        ("munchen", "Munich", "Germany"),
        ("são paulo", "São Paulo", "Brazil"),
        ("sao paulo", "São Paulo", "Brazil"),
        ("st louis", "St. Louis", "United States"),
        ("cape town", "Cape Town", "South Africa"),
        ("kaapstad", "Cape Town", "South Africa"),
        ("tokyo", "Tokyo", "Japan"),
    ],
)
def test_towns_are_found(towns: TownIndex, text: str, name: str, country: str) -> None:
    best = towns.find(text)[0]
    assert (best.name, best.country) == (name, country)


def test_a_town_carries_what_a_site_needs(towns: TownIndex) -> None:
    halifax = towns.find("halifax")[0]
    assert halifax.latitude_deg == pytest.approx(44.65, abs=0.05)
    assert halifax.longitude_deg == pytest.approx(-63.57, abs=0.05)
    assert halifax.time_zone == "America/Halifax"
    assert (halifax.name, halifax.region, halifax.country) == ("Halifax", "", "Canada")


def test_larger_towns_come_first_and_each_once(towns: TownIndex) -> None:
    found = towns.find("springfield", 8)
    assert len({(town.name, town.region, town.country) for town in found}) == 8
    columns = towns._columns
    places = zip(columns["latitude"].tolist(), columns["longitude"].tolist(), strict=True)
    count = dict(zip(places, columns["population"].tolist(), strict=True))
    people = [
        count[round(town.latitude_deg * 1e4), round(town.longitude_deg * 1e4)]
        for town in found
        if town.name == "Springfield"
    ]
    assert people == sorted(people, reverse=True)
    assert found[0].region == "Missouri"


def test_words_within_a_name_count_after_beginnings(towns: TownIndex) -> None:
    names = [town.name for town in towns.find("springs", 12)]
    begin = [name.startswith("Springs") for name in names]
    assert begin == sorted(begin, reverse=True)
    assert True in begin
    assert "Colorado Springs" in names


@pytest.mark.parametrize(
    "text", ["", "  ", "\0", "qqqqqq", "'; drop table", ",", ",,, texas", "\t"]
)
def test_nonsense_finds_nothing(towns: TownIndex, text: str) -> None:
    assert towns.find(text) == []


def test_ten_megabytes_are_cut_down(towns: TownIndex) -> None:
    assert towns.find("x" * 10_000_000) == []
    assert towns.find("paris" + " " * 10_000_000)[0].name == "Paris"


def test_the_limit_holds(towns: TownIndex) -> None:
    assert len(towns.find("a", 5)) == 5
    assert towns.find("a", 0) == []


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=40))
def test_no_text_breaks_it(text: str) -> None:
    found = _shared().find(text, 5)
    assert len(found) == len(set(found)) <= 5


def test_the_nearest_town(towns: TownIndex) -> None:
    town, distance_km = towns.nearest(44.65, -63.57)
    assert (town.name, town.country) == ("Downtown Halifax", "Canada")
    assert distance_km < 5.0
    # Across the date line the short way counts.
    assert towns.nearest(-16.8, -179.9)[0].name == "Savusavu"


@pytest.mark.parametrize(
    ("latitude_deg", "longitude_deg", "zone"),
    [
        (-32.4, 20.8, "Africa/Johannesburg"),
        (44.65, -63.57, "America/Halifax"),
        (51.5, -0.1, "Europe/London"),
        (28.6, 77.2, "Asia/Kolkata"),
        (0.0, -150.0, "Etc/GMT+10"),
        (0.0, 180.0, "Etc/GMT-12"),
        (0.0, -180.0, "Etc/GMT+12"),
        (90.0, 0.0, "UTC"),
        (-90.0, 135.0, "UTC"),
    ],
)
def test_time_zones(latitude_deg: float, longitude_deg: float, zone: str) -> None:
    assert time_zone_at(latitude_deg, longitude_deg) == zone


def test_an_unknown_zone_falls_back_to_the_ships(monkeypatch: pytest.MonkeyPatch) -> None:
    for answer in ("", "Mars/Olympus"):
        monkeypatch.setattr("tzfpy.get_tz", lambda _lon, _lat, answer=answer: answer)
        assert time_zone_at(10.0, -62.3) == "Etc/GMT+4"
        assert time_zone_at(10.0, 3.0) == "Etc/GMT"
        assert time_zone_at(10.0, 179.0) == "Etc/GMT-12"


@given(st.floats(-90.0, 90.0), st.floats(-180.0, 180.0))
def test_every_place_has_a_zone_that_this_machine_knows(lat_deg: float, lon_deg: float) -> None:
    assert ZoneInfo(time_zone_at(lat_deg, lon_deg)).key


@pytest.mark.parametrize("place", [(91.0, 0.0), (0.0, 400.0), (float("nan"), 0.0)])
def test_a_place_that_is_not_on_earth_is_refused(
    towns: TownIndex, place: tuple[float, float]
) -> None:
    with pytest.raises(AdviceError, match="not on Earth"):
        time_zone_at(*place)
    with pytest.raises(AdviceError, match="not on Earth"):
        towns.nearest(*place)
