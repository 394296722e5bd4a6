from concurrent.futures import ThreadPoolExecutor

import pytest
from hypothesis import given, settings, strategies as st

from companion.advice import AdviceError
from companion.sky import Kind, Match, SearchIndex, hit_text, load_catalogue, load_search
from companion.sky.spelling import fold, nearest


@pytest.fixture(scope="module")
def search() -> SearchIndex:
    return load_search()


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("m31", "ngc:NGC0224"),
        ("M 31", "ngc:NGC0224"),
        ("messier 31", "ngc:NGC0224"),
        ("NGC 224", "ngc:NGC0224"),
        ("ngc224", "ngc:NGC0224"),
        ("NGC0224", "ngc:NGC0224"),
        ("ngc-224", "ngc:NGC0224"),
        ("ugc 454", "ngc:NGC0224"),
        ("PGC2557", "ngc:NGC0224"),
        ("andromeda galaxy", "ngc:NGC0224"),
        ("ANDROMEDA  GALAXY", "ngc:NGC0224"),
        ("galaxy andromeda", "ngc:NGC0224"),
        ("ic 434", "ngc:IC0434"),
        ("caldwell 14", "ngc:C014"),
        ("c14", "ngc:C014"),
        ("double cluster", "ngc:C014"),
        ("ngc 2244", "ngc:NGC2239"),
        ("mel 22", "ngc:Mel022"),
        ("pleiades", "ngc:Mel022"),
        ("47 tuc", "ngc:NGC0104"),
        ("omega centauri", "ngc:NGC5139"),
        ("bode's galaxy", "ngc:NGC3031"),
        ("bodes galaxy", "ngc:NGC3031"),
        ("vega", "hip:91262"),
        ("alp lyr", "hip:91262"),
        ("alf lyr", "hip:91262"),
        ("alpha lyrae", "hip:91262"),
        ("alpha lyra", "hip:91262"),
        ("α Lyr", "hip:91262"),
        ("αLyr", "hip:91262"),
        ("3 Lyr", "hip:91262"),
        ("HIP 91262", "hip:91262"),
        ("hip91262", "hip:91262"),
        ("61 cyg", "hip:104214"),
        ("61 Cygni", "hip:104214"),
        ("61cyg", "hip:104214"),
        ("pi3 ori", "hip:22449"),
        ("π³ Ori", "hip:22449"),
        ("alpha canis majoris", "hip:32349"),
        ("alpha cma", "hip:32349"),
        ("alfa centauri", "hip:71683"),
        ("β Böotis", "hip:73555"),
        ("gamma bootis", "hip:71075"),
        ("r leo", "hip:48036"),
        ("R Leonis", "hip:48036"),
        ("zubenelgenubi", "hip:72622"),
        ("barnards star", "hip:87937"),
        ("gienah", "hip:59803"),
        ("gienah corvi", "hip:59803"),
        ("big dipper", "group:dipper"),
        ("plough", "group:dipper"),
        ("coathanger", "ngc:Cl399"),
        ("saturn", "body:saturn"),
        ("the moon", "body:moon"),
        ("Sun", "body:sun"),
        ("body:saturn", "body:saturn"),
        ("ngc:NGC0224", "ngc:NGC0224"),
        ("icrs:83.82500-5.39000", "icrs:83.82500-5.39000"),
    ],
)
def test_what_people_type_is_understood(search: SearchIndex, text: str, key: str) -> None:
    assert search.find(text)[0].target.key == key
    assert search.resolve(text).key == key


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("saturm", "Saturn"),
        ("satrun", "Saturn"),
        ("jupitr", "Jupiter"),
        ("betelguese", "Betelgeuse"),
        ("betlegeuse", "Betelgeuse"),
        ("andromida galaxy", "M 31"),
        ("polars", "Polaris"),
        ("arcturos", "Arcturus"),
        ("aldeberan", "Aldebaran"),
        ("pleides", "M 45"),
        ("albiero", "Albireo"),
        ("fomalhautt", "Fomalhaut"),
        ("whirpool galaxy", "M 51"),
        ("alpha aquarri", "Sadalmelik"),
        ("triangullum galaxy", "M 33"),
    ],
)
def test_one_slip_in_a_longer_word_is_forgiven_and_said(
    search: SearchIndex, text: str, name: str
) -> None:
    best = search.find(text)[0]
    assert best.target.name == name
    assert best.match is Match.CORRECTED
    assert not best.at_once
    understood = search.understand(text)
    assert understood.target.name == name
    assert understood.taken_for == best.shown
    with pytest.raises(AdviceError, match=r"not known\. Near names"):
        search.resolve(text)


@pytest.mark.parametrize(
    ("text", "near"),
    [("vgea", "Vega"), ("alpah lyrae", "Vega"), ("andromida", "M 31"), ("y eri", "y Eri"),
     ("zenth", ""), ("Leo II", "Leo I"), ("betlgese", "Betelgeuse"), ("MU Cep", "Garnet Star")],
)  # fmt: skip
def test_anything_else_is_a_guess_that_nobody_acts_on(
    search: SearchIndex, text: str, near: str
) -> None:
    hits = search.find(text)
    assert not any(hit.at_once for hit in hits)
    assert not near or near in {hits[0].target.name, *hits[0].target.aliases}
    for take in (search.resolve, search.understand):
        with pytest.raises(AdviceError, match="Give a name, a number"):
            take(text)


@pytest.mark.parametrize(
    "text", ["charon", "eris", "Titan", "io", "ganimede", "elektra", "ISS", "solaris"]
)
def test_what_is_not_carried_becomes_nothing_else(search: SearchIndex, text: str) -> None:
    assert not any(hit.at_once for hit in search.find(text))
    with pytest.raises(AdviceError):
        search.understand(text)


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("R Car", "hip:46806"),
        ("r Car", "hip:51849"),
        ("R Carinae", "hip:46806"),
        ("V* R Car", "hip:46806"),
        ("S Car", "hip:49751"),
        ("s Car", "hip:51232"),
        ("A Car", "hip:32761"),
        ("a Car", "hip:45080"),
        ("u Her", "hip:84573"),
        ("R LEO", "hip:48036"),
        ("p cyg", "hip:100044"),
        ("rr lyr", "hip:95497"),
        ("V460 Cyg", "hip:107129"),
        ("v460 cygni", "hip:107129"),
        ("mu Cep", "hip:107259"),
        ("Mu Cep", "hip:107259"),
        ("L2 Pup", "hip:34922"),
    ],
)
def test_case_counts_where_it_means_something(search: SearchIndex, text: str, key: str) -> None:
    assert search.resolve(text).key == key


@pytest.mark.parametrize("text", ["r car", "R CAR", "s carinae", "a car", "m vel", "pi ori"])
def test_what_may_be_two_stars_is_asked_about(search: SearchIndex, text: str) -> None:
    assert search.find(text)[0].match is Match.SEVERAL
    assert not search.find(text)[0].at_once
    with pytest.raises(AdviceError, match=r"may mean several things: .*, .*Say which"):
        search.understand(text)


@pytest.mark.parametrize(
    ("text", "at_once"),
    [("vega", True), ("alde", True), ("al", False), ("leo", False), ("io", False),
     ("hip 1200000", False),
     ("ngc 22", True), ("m 110", True), ("m 111", False), ("iota", False)],
)  # fmt: skip
def test_only_what_is_surely_meant_may_be_taken_at_once(
    search: SearchIndex, text: str, *, at_once: bool
) -> None:
    assert any(hit.at_once for hit in search.find(text)[:1]) is at_once


@pytest.mark.parametrize("text", ["05 35.3 -05 23", "5h35.3m −5°23′", "83.825 -5.38333 deg"])
def test_positions_become_places(search: SearchIndex, text: str) -> None:
    target = search.resolve(text)
    assert target.kind is Kind.PLACE
    assert target.key == "icrs:83.82500-5.38333"
    assert target.constellation == "Ori"
    assert target.name == "5h35.3m −5°23′"


@pytest.mark.parametrize(
    ("name", "from_letters"),
    [("Saturn", 1), ("Moon", 1), ("Vega", 2), ("Betelgeuse", 3), ("Arcturus", 2), ("Albireo", 4)],
)
def test_a_name_comes_up_while_it_is_typed(
    search: SearchIndex, name: str, from_letters: int
) -> None:
    for letters in range(from_letters, len(name) + 1):
        assert name in [hit.target.name for hit in search.find(name[:letters].lower())]


def test_better_kinds_of_match_come_first(search: SearchIndex) -> None:
    hits = search.find("m 3")
    assert hits[0].target.name == "M 3"  # the number itself, then numbers that begin so
    assert {hit.target.name for hit in hits[1:]} == {f"M {n}" for n in range(30, 40)} | {
        hit.target.name for hit in hits[1:] if not hit.target.name.startswith("M 3")
    }
    scores = [hit.score for hit in hits]
    assert scores == sorted(scores, reverse=True)
    orion = [hit.target.name for hit in search.find("orion")]
    assert orion[:2] == ["Orion's figure", "M 42"]  # the name itself, then what begins so


def test_beginnings_are_ranked_by_brightness(search: SearchIndex) -> None:
    names = [hit.target.name for hit in search.find("al")]
    assert names.index("Altair") < names.index("Algieba") < names.index("Almach")
    assert search.find("hip 912")[1].target.name == "Vega"


def test_letters_with_numbers_come_together(search: SearchIndex) -> None:
    assert {hit.target.name for hit in search.find("alpha cen")[:2]} == {
        "Rigil Kentaurus",
        "Toliman",
    }
    assert len([hit for hit in search.find("pi ori") if hit.shown.startswith("π")]) == 6


def test_a_target_comes_once(search: SearchIndex) -> None:
    for text in ("alpha", "ngc", "orion", "m", "a"):
        keys = [hit.target.key for hit in search.find(text, 50)]
        assert len(keys) == len(set(keys)) == 50 or text == "orion"


def test_a_find_says_why(search: SearchIndex) -> None:
    assert hit_text(search.find("andromeda galaxy")[0]) == "called Andromeda Galaxy"
    assert hit_text(search.find("alp lyr")[0]) == "called α Lyr"
    assert hit_text(search.find("sat")[0]) == "begins so: Saturn"
    assert hit_text(search.find("pi ori")[0]) == "one of several called π³ Ori"
    assert hit_text(search.find("05 35.3 -05 23")[0]) == "called 5h35.3m −5°23′"


def test_the_limit_holds(search: SearchIndex) -> None:
    assert len(search.find("a", 3)) == 3
    assert search.find("a", 0) == []
    assert search.find("05 35 -5 10", 0) == []


@pytest.mark.parametrize(
    "text", ["", "   ", "'", '"', "\0\1\2", "\ud800", "'; drop table stars; --", "qqqqqqqq", "%%"]
)
def test_nonsense_finds_nothing_and_says_what_to_do(search: SearchIndex, text: str) -> None:
    assert search.find(text) == []
    with pytest.raises(AdviceError, match="Give a name, a number") as caught:
        search.resolve(text)
    assert str(caught.value).isprintable()


def test_ten_megabytes_are_cut_down(search: SearchIndex) -> None:
    assert search.find("vega" + " " * 10_000_000)[0].target.name == "Vega"
    with pytest.raises(AdviceError) as caught:
        search.resolve("x" * 10_000_000)
    assert len(str(caught.value)) < 300


def test_a_beginning_is_no_name_and_is_answered_with_names(search: SearchIndex) -> None:
    with pytest.raises(AdviceError, match=r"not known. Near names: .*Altair.*Aldebaran"):
        search.resolve("al")


def test_a_position_outside_the_sky_is_no_find_and_is_explained(search: SearchIndex) -> None:
    assert search.find("05 35.3 -95 23") == []
    with pytest.raises(AdviceError, match="declination from −90° to 90°"):
        search.resolve("05 35.3 -95 23")


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=100))
def test_no_text_breaks_the_search(text: str) -> None:
    scores = [hit.score for hit in load_search().find(text)]
    assert scores == sorted(scores, reverse=True)
    assert len(scores) <= 12


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=60))
def test_folding_twice_changes_nothing(text: str) -> None:
    assert fold(fold(text)) == fold(text)


def test_every_name_and_number_of_a_target_leads_to_it(search: SearchIndex) -> None:
    catalogue = load_catalogue()
    some = [*catalogue.bodies, *catalogue.names.groups.values(), *catalogue.deep_sky.targets[::211]]
    some += [catalogue.star(hip) for hip in list(catalogue.names.stars)[::23]]
    for target in some:
        for text in (target.name, *target.aliases):
            assert target.key in [hit.target.key for hit in search.find(text, 20)], text


def test_slips_are_counted() -> None:
    assert nearest("saturm", ["saturn", "sun"], 5) == [(0, 1)]
    assert nearest("sta", ["star"], 5) == []  # too short to guess
    assert nearest("satrun", ["saturn"], 5) == [(0, 1)]  # neighbours swapped count once


def test_one_search_serves_all_threads() -> None:
    with ThreadPoolExecutor(4) as pool:
        assert len({id(made) for made in pool.map(lambda _: load_search(), range(8))}) == 1
