import ephem
import ephem.stars
import pytest
from skyfield.named_stars import named_star_dict

from companion.advice import AdviceError
from companion.finding import Hemisphere, find_group, load_groups
from companion.sky import Catalogue, separation_deg, unit_vectors


def test_forty_groups_and_more_for_both_halves_of_the_earth() -> None:
    groups = load_groups()
    assert len(groups) >= 40
    for half in Hemisphere:
        assert sum(group.hemisphere is half for group in groups) >= 10
    assert len({group.key for group in groups}) == len(groups)


def test_every_line_joins_two_catalogued_stars_of_its_group(catalogue: Catalogue) -> None:
    for group in load_groups():
        assert {hip for line in group.lines for hip in line} == set(group.stars), group.key
        for first, second in group.lines:
            a, b = catalogue.star(first), catalogue.star(second)
            length = separation_deg(
                unit_vectors(a.ra_deg or 0.0, a.dec_deg or 0.0),
                unit_vectors(b.ra_deg or 0.0, b.dec_deg or 0.0),
            )
            assert 0.01 < length < 70.0, (group.key, a.name, b.name)
            assert (a.magnitude or 0.0) < 6.0


def test_names_come_with_the_groups_that_can_be_searched(catalogue: Catalogue) -> None:
    shared = [g for g in load_groups() if f"group:{g.key}" in catalogue.names.groups]
    assert len(shared) > 30
    for group in shared:
        target = catalogue.target(f"group:{group.key}")
        assert group.name == target.name
        assert set(group.stars) == set(catalogue.names.members[f"group:{group.key}"])


# Independent positions: ephem's star list (XEphem/Hipparcos data); names to numbers: skyfield's.
@pytest.mark.parametrize(
    ("key", "names"),
    [
        ("dipper", ("Alkaid", "Mizar", "Alioth", "Megrez", "Phecda", "Merak", "Dubhe")),
        ("summer-triangle", ("Vega", "Deneb", "Altair")),
        ("winter-triangle", ("Sirius", "Procyon", "Betelgeuse")),
        ("winter-hexagon", ("Sirius", "Rigel", "Aldebaran", "Capella", "Pollux", "Procyon")),
        ("orion-belt", ("Mintaka", "Alnilam", "Alnitak")),
        ("orion", ("Betelgeuse", "Bellatrix", "Rigel", "Saiph", "Alnilam")),
        ("spring-triangle", ("Arcturus", "Spica", "Regulus")),
        ("andromeda-row", ("Alpheratz", "Mirach", "Almach")),
        ("twins", ("Castor", "Pollux")),
        ("great-dog", ("Sirius", "Adhara", "Wezen", "Mirzam")),
        ("lion-haunch", ("Denebola",)),
        ("fish-hook", ("Antares", "Shaula")),
        ("southern-cross", ("Acrux", "Gacrux", "Mimosa")),
        ("southern-pointers", ("Hadar",)),
        ("southern-triangle", ("Atria",)),
        ("false-cross", ("Avior",)),
        ("diamond-cross", ("Miaplacidus",)),
        ("ram-horn", ("Hamal",)),
        ("teapot", ("Kaus Australis", "Nunki")),
        ("perseus-arc", ("Mirfak", "Algol")),
    ],
)
def test_the_named_stars_of_a_group_stand_where_other_lists_have_them(
    key: str, names: tuple[str, ...], catalogue: Catalogue
) -> None:
    group = find_group(key)
    at = {hip: catalogue.star(hip) for hip in group.stars}
    by_name = {star.name: star for star in at.values()}
    for name in names:
        star = by_name[name]
        other = ephem.stars.stars.get(name)
        if other is None:
            assert star.key == f"hip:{named_star_dict[name]}"
            continue
        other.compute("2000/1/1", epoch="2000")
        apart = separation_deg(
            unit_vectors(star.ra_deg or 0.0, star.dec_deg or 0.0),
            unit_vectors(float(other.a_ra) * 57.29578, float(other.a_dec) * 57.29578),
        )
        assert apart < 0.02, name


def test_letters_and_boundaries_agree(catalogue: Catalogue) -> None:
    """A star's letter names the constellation that its position lies in."""
    for hip in {hip for group in load_groups() for hip in group.stars}:
        called = catalogue.names.stars.get(hip)
        if called is not None and called.constellation:
            assert catalogue.star(hip).constellation == called.constellation


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("the big dipper", "dipper"),
        ("Plough", "dipper"),
        ("group:teapot", "teapot"),
        ("orion's belt", "orion-belt"),
        ("summer", "summer-triangle"),
        ("Crux", "southern-cross"),
    ],
)
def test_a_group_is_found_by_what_people_call_it(text: str, key: str) -> None:
    assert find_group(text).key == key


@pytest.mark.parametrize("text", ["", "triangle", "nothing such", "x" * 100_000])
def test_an_unknown_group_is_refused_with_examples(text: str) -> None:
    with pytest.raises(AdviceError, match="instance") as caught:
        find_group(text)
    assert "called" in caught.value.wrong
    assert len(str(caught.value)) < 400
