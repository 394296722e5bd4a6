"""All the ways to write what the catalogue holds, and how likely each is meant."""

from collections.abc import Iterator

from companion.sky.bayer import GREEK, bayer_text, split_code, spoken_bayer
from companion.sky.catalogue import Catalogue
from companion.sky.constellation import CONSTELLATIONS
from companion.sky.names import StarName, written_out
from companion.sky.search_index import Entry
from companion.sky.sky_points import FAME, SKY_POINTS
from companion.sky.solar_system import SOLAR_SYSTEM
from companion.sky.spelling import fold

_FAINT = 14.0  # taken for what has no known magnitude
# How many magnitudes brighter something counts for having a name or a number that people know.
_NAMED_STAR, _COMMON_NAME, _MESSIER, _CALDWELL, _GROUP, _SHOWPIECE = 2.0, 3.0, 6.0, 4.0, 3.0, 0.5
# A star's letters and numbers are meant less often than a name that begins so.
_AS_LETTER = 3.0
_SHORT_FORMS = {
    "melotte": ("mel",),
    "collinder": ("cr", "col", "cl"),
    "barnard": ("b",),
    "trumpler": ("tr",),
    "stock": ("st",),
    "abell": ("a",),
    "minkowski": ("m",),
    "gliese": ("gj", "gl"),
    "sh": ("sharpless",),
}
_LONG_FORMS = {"m": ("messier",), "c": ("caldwell",)}


def fame(magnitude: float | None, bonus: float) -> float:
    """Give a number from 0 to 10 that is higher for what is brighter or better known."""
    value = _FAINT if magnitude is None or magnitude != magnitude else magnitude  # noqa: PLR0124 - NaN
    return min(max(0.3 * (20.0 + bonus - value), 0.0), 9.9)


def all_entries(catalogue: Catalogue) -> Iterator[Entry]:
    """Give every entry of the search; Hipparcos numbers of stars that have a name only."""
    yield from _bodies()
    yield from _groups(catalogue)
    yield from _stars(catalogue)
    yield from _deep_sky(catalogue)


def _bodies() -> Iterator[Entry]:
    for body in SOLAR_SYSTEM:
        target = body.target
        for name in (target.name, *target.aliases):
            yield Entry(fold(name), name, target.key, body.fame, word=True)
    for point in SKY_POINTS:
        for name in (point.target.name, *point.target.aliases):
            yield Entry(fold(name), name, point.target.key, FAME, word=True)


def _groups(catalogue: Catalogue) -> Iterator[Entry]:
    for group in catalogue.names.groups.values():
        rank = fame(3.0, _GROUP)
        for name in (group.name, *group.aliases):
            for text in dict.fromkeys(_numbers(fold(name))):
                yield Entry(text, name, group.key, rank, word=True)


def _stars(catalogue: Catalogue) -> Iterator[Entry]:
    names, columns = catalogue.names, catalogue.stars
    for hip, star in names.stars.items():
        row = columns.row(hip)
        if row is None:
            continue
        bonus = _NAMED_STAR if star.name else 0.0
        bonus += _SHOWPIECE if hip in names.doubles or hip in names.variables else 0.0
        rank, key = fame(float(columns.magnitude[row]), bonus), f"hip:{hip}"
        for name in filter(None, (star.name, *star.also)):
            for text in _numbers(fold(name)):
                yield Entry(text, name, key, rank, word=True)
        for text, shown in _letters(star):
            yield Entry(text, shown, key, rank - _AS_LETTER, word=False)
        for text, shown in _cased(star):
            yield Entry(text, shown, key, rank - _AS_LETTER, word=False, cased=True)


def _letters(star: StarName) -> Iterator[tuple[str, str]]:
    """Give a star's Greek letter and number, short and long."""
    if star.constellation:
        short = star.constellation.lower()
        long = fold(CONSTELLATIONS[star.constellation][1])
    letter, number = split_code(star.bayer)
    if letter in GREEK:
        shown = bayer_text(star.bayer, star.constellation)
        yield fold(shown), shown
        yield fold(spoken_bayer(star.bayer, star.constellation)), shown
        yield " ".join(filter(None, (letter, number, short))), shown
    if star.flamsteed:
        shown = f"{star.flamsteed} {star.constellation}"
        yield f"{star.flamsteed} {short}", shown
        yield f"{star.flamsteed} {long}", shown
    yield f"hip {star.hip}", f"HIP {star.hip}"


def _cased(star: StarName) -> Iterator[tuple[str, str]]:
    """Give a star's Latin letter and variable name, in which case means something."""
    if star.bayer and split_code(star.bayer)[0] not in GREEK:
        shown = bayer_text(star.bayer, star.constellation)
        yield fold(shown), shown
        yield fold(spoken_bayer(star.bayer, star.constellation)), shown
    for name in star.variable:
        yield fold(name), name
        yield fold(written_out(name)), name


def _deep_sky(catalogue: Catalogue) -> Iterator[Entry]:
    deep_sky, columns = catalogue.deep_sky, catalogue.deep_sky.columns
    magnitudes, messier = columns.magnitude.tolist(), columns.messier.tolist()
    caldwell, names = columns.caldwell.tolist(), columns.name.tolist()
    for row in range(len(names)):
        it = deep_sky.original(row)
        if not deep_sky.has_place(it):
            continue
        common = deep_sky.names.get(names[row], [])
        bonus = _MESSIER if messier[it] else _CALDWELL if caldwell[it] else 0.0
        bonus = max(bonus, _COMMON_NAME if common else 0.0)
        rank, key = fame(magnitudes[it], bonus), f"ngc:{names[it]}"
        for name in common:
            yield Entry(fold(name), name, key, rank, word=True)
        for shown in deep_sky.designations(row):
            for text in _numbers(fold(shown)):
                yield Entry(text, shown, key, rank, word=False)


def _numbers(text: str) -> Iterator[str]:
    """Give a catalogue number with its catalogue's name short and long."""
    yield text
    head, _blank, tail = text.partition(" ")
    if head == "sh":  # "Sh2-155" is number 155 of the second list
        yield f"sharpless {tail.removeprefix('2 ')}"
    for other in (*_SHORT_FORMS.get(head, ()), *_LONG_FORMS.get(head, ())):
        yield f"{other} {tail}"
