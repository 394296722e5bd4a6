"""Lists from anywhere in, and lists and calendars out."""

import csv
import io
from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import icalendar
import pytest
from hypothesis import given, settings, strategies as st

from companion.advice import AdviceError
from companion.night.lists.export import order_calendar, order_csv
from companion.night.lists.reader import ImportedList, read_list
from companion.night.order.order import NightOrder, PlannedStop
from companion.night.progress import Cancelled
from companion.sky import LOON_BARRENS, Kind, SearchIndex, Target, load_catalogue

START = datetime(2026, 10, 11, 1, 0, tzinfo=UTC)


@pytest.fixture
def read(search: SearchIndex) -> "Reader":
    return Reader(search)


class Reader:
    def __init__(self, search: SearchIndex) -> None:
        self._search = search

    def __call__(self, data: bytes | str) -> ImportedList:
        return read_list(data, self._search)

    def keys(self, data: bytes | str) -> list[str]:
        return [target.key for target in self(data).targets]


@pytest.mark.parametrize(
    ("line", "key"),
    [
        ("M31", "ngc:NGC0224"),
        ("Messier 31", "ngc:NGC0224"),
        ("ngc0224", "ngc:NGC0224"),
        ('"Andromeda Galaxy"', "ngc:NGC0224"),
        ("caldwell 14", None),
        ("α Lyr", "hip:91262"),
        ("alpha lyrae", "hip:91262"),
        ("HIP 91262", "hip:91262"),
        ("hip:91262", "hip:91262"),
        ("saturn", "body:saturn"),
        ("05 35.3 -05 23", "icrs:83.82500-5.38333"),
        ("05 35.3, -05 23", "icrs:83.82500-5.38333"),
        ("83.825;-5.38333", "icrs:83.82500-5.38333"),
        ("5h35.3m\t+10", None),
        ("M 31, galaxy, Andromeda", "ngc:NGC0224"),
        ("mine, 10.5, 41.2", "own:mine"),
        ("M 31, 10.68, 41.27", "ngc:NGC0224"),
        ("M 31, 200.0, -41.27", "own:M 31"),
    ],
)
def test_a_line_is_understood(read: Reader, line: str, key: str | None) -> None:
    found = read(line)
    assert found.report == ()
    assert len(found.entries) == 1
    assert key is None or found.targets[0].key == key


def test_a_misspelling_is_taken_and_said(read: Reader) -> None:
    found = read("vega\nbetelguese\nname\n")
    assert [target.name for target in found.targets] == ["Vega", "Betelgeuse"]
    assert found.report[0] == "Line 2: “betelguese” taken for Betelgeuse."


@pytest.mark.parametrize("name", ["vgea", "Melotte 250", "T Boo", "charon", "Leo II", "r car"])
def test_a_guess_is_reported_and_not_taken(read: Reader, name: str) -> None:
    found = read(f"M 31\n{name}\n")
    assert [target.name for target in found.targets] == ["M 31"]
    assert len(found.report) == 1
    assert f"Line 2: “{name}” left out." in found.report[0]


def test_several_names_may_share_a_line(read: Reader) -> None:
    assert read.keys("M 1, M 2, M 3\nM4;M5") == [
        "ngc:NGC1952",
        "ngc:NGC7089",
        "ngc:NGC5272",
        "ngc:NGC6121",
        "ngc:NGC5904",
    ]


def test_columns_are_found_by_their_names(read: Reader) -> None:
    found = read(
        "Type;Name;RA_h;Dec;Mag;Minutes;Value;Notes\n"
        "galaxy;My galaxy;5,5;-5,25;11,2;12;3;near the fence\n"
        "cluster;M 13;;;;;2,5;\n"
        ";M 92;;;;soon;;\n"
    )
    mine, m13, m92 = found.entries
    assert mine.target.kind is Kind.GALAXY
    assert mine.target.ra_deg == pytest.approx(82.5)
    assert mine.target.dec_deg == pytest.approx(-5.25)
    assert mine.target.constellation == "Ori"
    assert (mine.minutes, mine.value, mine.note) == (12.0, 3.0, "near the fence")
    assert mine.target.magnitude == pytest.approx(11.2)
    assert (m13.target.name, m13.value) == ("M 13", 2.5)
    assert m92.minutes is None
    assert found.report == ("Line 4: minutes “soon” is not a number; not used.",)


def test_nothing_is_dropped_silently(read: Reader) -> None:
    found = read(
        "# my list\nM 31\nqqqq zzzz\n\n  \nNGC 224\n400.0, 10.0\n05 75.3 -05 23\n"
        '"half a quote\nvega,,\n\x1b[31mred\n'
    )
    assert [target.name for target in found.targets] == ["M 31", "Vega"]
    report = "\n".join(found.report)
    for number, text in ((3, "qqqq zzzz"), (7, "400.0"), (8, "05 75.3"), (9, "half a quote")):
        assert f"Line {number}: “{text}" in report
    assert "Line 6: M 31 is in line 2 already; left out." in found.report
    assert "\x1b" not in report
    assert found.lines == 11
    assert len(found.report) == 6


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "latin-1", "utf-16"])
def test_any_encoding_is_read(read: Reader, encoding: str) -> None:
    text = "name,ra,dec\nGaläxie à côté,10.0,20.0\n"
    assert [t.name for t in read(text.encode(encoding)).targets] == ["Galäxie à côté"]


def test_of_many_thousand_lines_the_search_is_asked_about_the_first_only(
    search: SearchIndex, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def understand(text: str) -> None:
        asked.append(text)
        raise AdviceError(f"Nothing is called {text}.", "Give another.")

    monkeypatch.setattr(search, "understand", understand)
    lines = [f"NGC {i % 7840 + 1}" if i % 2 else f"unknown {i}" for i in range(20_000)]
    found = read_list("\n".join(lines), search)
    assert found.lines == 20_000
    assert len(found.entries) + len(found.report) == 20_000
    assert len(asked) == 200
    assert "Nothing is called exactly so." in found.report[-2]


def test_too_much_is_refused_and_reading_is_stopped(search: SearchIndex) -> None:
    with pytest.raises(AdviceError, match="more than 200000"):
        read_list("M 31\n" * 200_001, search)
    with pytest.raises(AdviceError, match="more than 50 MB"):
        read_list(b"x" * 50_000_001, search)
    with pytest.raises(Cancelled):
        read_list("M 31\n" * 5000, search, lambda done: done < 0.5)


def test_an_empty_list_is_an_empty_list(read: Reader) -> None:
    for data in ("", "\n\n", b"", "# nothing\n", "name,ra,dec\n"):
        assert read(data) == ImportedList((), (), len(data.splitlines()))


@given(st.text(max_size=300))
@settings(max_examples=150, deadline=None)
def test_whatever_is_in_a_file_it_is_answered(search: SearchIndex, text: str) -> None:
    found = read_list(text, search)
    assert all("\n" not in line for line in found.report)


def written_as_csv(targets: Iterable[Target]) -> str:
    stream = io.StringIO()
    table = csv.writer(stream)
    table.writerow(["key", "name", "ra_deg", "dec_deg", "magnitude", "kind", "constellation"])
    for one in targets:
        place = (one.ra_deg, one.dec_deg, one.magnitude)
        table.writerow([one.key, one.name, *place, one.kind.value, one.constellation])
    return stream.getvalue()


@given(
    st.lists(
        st.builds(
            Target,
            key=st.just(""),
            name=st.text("abcdefgh ÄÖ,;'", min_size=1, max_size=12).map(lambda s: f"x{s.strip()}x"),
            kind=st.sampled_from([Kind.GALAXY, Kind.NEBULA, Kind.OTHER]),
            ra_deg=st.floats(0.0, 359.99),
            dec_deg=st.floats(-89.99, 89.99),
            magnitude=st.none() | st.floats(-1.0, 15.0),
        ),
        max_size=5,
        unique_by=lambda t: t.name,
    )
)
@settings(max_examples=30, deadline=None)
def test_own_objects_come_back(search: SearchIndex, targets: list[Target]) -> None:
    written = [replace(t, key=f"own:{t.name}") for t in targets]
    found = read_list(written_as_csv(written), search).targets
    assert [t.key for t in found] == [" ".join(t.key.split()) for t in written]
    for old, new in zip(written, found, strict=True):
        assert new.ra_deg == pytest.approx(old.ra_deg, abs=1e-6)
        assert new.dec_deg == pytest.approx(old.dec_deg, abs=1e-6)
        assert new.kind is old.kind
        assert (new.magnitude is None) == (old.magnitude is None)


def test_the_catalogue_comes_back(search: SearchIndex) -> None:
    catalogue = load_catalogue()
    some = (*catalogue.bodies, *catalogue.deep_sky.targets[::500], *catalogue.bright_stars(1.0))
    assert read_list(written_as_csv(some), search).targets == some


def order() -> NightOrder:
    target = load_catalogue().target("ngc:NGC0224")
    stop = PlannedStop(
        target=target,
        value=2.0,
        turn_begins_utc=START,
        start_utc=START + timedelta(minutes=2),
        end_utc=START + timedelta(minutes=10),
        waits_s=0.0,
        turn_deg=30.0,
        azimuth_deg=85.0,
        altitude_deg=61.0,
        closes_utc=START + timedelta(hours=5),
        spare_s=600.0,
        gain=0.9,
    )
    own = replace(target, key="own:=1+1; \r\nX", name='Äh, "one"; two\nthree')
    return NightOrder((stop, replace(stop, target=own)), (), 4.0, 3.6, 60.0, exact=True)


def test_a_plan_is_a_calendar_that_others_read() -> None:
    data = order_calendar(order(), LOON_BARRENS, START)
    calendar = icalendar.Calendar.from_ical(data)
    first, second = calendar.walk("VEVENT")
    assert str(first["summary"]) == "M 31"
    assert first.decoded("dtstart") == START + timedelta(minutes=2)
    assert first.decoded("dtend") == START + timedelta(minutes=10)
    assert str(first["location"]) == "Loon Barrens"
    assert "61° up in the east" in str(first["description"])
    assert str(second["summary"]) == 'Äh, "one"; two\nthree'
    assert first["uid"] != second["uid"]
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    assert order_calendar(order(), LOON_BARRENS, START) == data


def test_a_plan_is_a_table() -> None:
    lines = order_csv(order()).split("\r\n")
    assert lines[0].startswith("number,key,name,start_utc")
    assert lines[1] == (
        "1,ngc:NGC0224,M 31,2026-10-11T01:02:00Z,2026-10-11T01:10:00Z,2026-10-11T06:00:00Z,"
        "85.00,61.00,2"
    )
