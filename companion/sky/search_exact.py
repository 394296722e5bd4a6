"""What is called exactly so: names, numbers, letters and keys in any usual form, never a guess."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from companion.advice import AdviceError
from companion.sky.bayer import GREEK, LETTER_CODES, bayer_text, split_code
from companion.sky.catalogue import Catalogue
from companion.sky.moon_features import load_moon_features
from companion.sky.moon_places import MoonNames, moon_target
from companion.sky.search_entries import fame
from companion.sky.search_index import Entry, TextIndex
from companion.sky.star_text import CONSTELLATION_WORDS, StarText, named, read_star_text
from companion.sky.vectors import separation_deg, unit_vectors

_KEY = re.compile(r"(?:hip|ngc|body|point|group|icrs|moon):")
_SURVEY_NUMBER = re.compile(r"(hip|ugc|pgc|leda) (\d{1,7})\Z")
_ONE_TO_THE_EYE_DEG = 2.0 / 60.0  # stars of one letter that stand closer are aimed at as one


@dataclass(frozen=True, slots=True)
class Called:
    """A target's key, and the name by which it answers."""

    key: str
    shown: str
    fame: float


class ExactNames:
    """Looks up what a text says, letter by letter and figure by figure."""

    def __init__(self, catalogue: Catalogue, index: TextIndex) -> None:
        self._catalogue = catalogue
        self._index = index

    def called(self, text: str) -> list[Called]:
        """Give everything that is called exactly so, best known first; mostly one or nothing."""
        if _KEY.match(text):
            return list(self._by_key(text.strip()))
        query = named(text)
        if not query:
            return []
        star = read_star_text(text)
        if star and star.decides:
            found = [] if star.greek else self._by_text(query, blanks=True)
            found = found or self._by_letter(star)
        else:
            found = self._by_text(query, blanks=False) or [
                *self._by_numbered_letter(query),
                *self._named_within(query),
                *self._by_survey(query),
            ]
        return self._one_place(_once(found)) or list(self._on_the_moon(query))

    def _on_the_moon(self, query: str) -> Iterator[Called]:
        """Give the Moon's feature of that name, where nothing in the sky is called so."""
        row = self.moon.called(query)
        if row is not None:
            target = moon_target(row)
            yield Called(target.key, target.name, self.moon.fame(row))

    @cached_property
    def moon(self) -> MoonNames:
        """The names on the Moon."""
        return MoonNames(load_moon_features())

    def star_fame(self, hip: int) -> float:
        """Give how well a star is known, by its brightness."""
        row = self._catalogue.stars.row(hip)
        return 0.0 if row is None else fame(float(self._catalogue.stars.magnitude[row]), 0.0)

    def _by_key(self, key: str) -> Iterator[Called]:
        """Understand a target's own key, as journals and queues keep it."""
        try:
            target = self._catalogue.target(key)
        except AdviceError:
            return
        yield Called(target.key, target.name, 10.0)

    def _by_text(self, query: str, *, blanks: bool) -> list[Called]:
        """Give what has this name or number; with ``blanks`` they count, lest AN Ser be Anser."""
        entries = self._index.entries
        forms = dict.fromkeys((query, *_letter_forms(query)))
        found = [entries[number] for form in forms for number in self._index.exact(form)]
        if blanks:
            found = [entry for entry in found if entry.text == query]
        if not found:
            found = [entries[number] for number in self._index.reordered(query)]
        return [_called(entry) for entry in found]

    def _by_letter(self, star: StarText) -> list[Called]:
        """Give the stars of a Latin letter or a variable star's name; case counts."""
        names, where = self._catalogue.names, star.constellation
        lettered = [
            self._star(names.by_letter[letter, where], bayer_text(letter, where))
            for letter in star.letters
            if (letter, where) in names.by_letter
        ]
        hip = names.by_variable.get((star.variable, where))
        if hip is not None:
            return [*lettered, self._star(hip, star.name)]
        if star.variable and star.caseless:
            return []  # "u her" may as well be U Her, which is not carried
        return lettered

    def _by_numbered_letter(self, query: str) -> Iterator[Called]:
        """Give all of ``pi Ori`` or ``alpha Cen``, whose letters carry numbers."""
        head, constellation = _parted(query)
        code = LETTER_CODES.get(head)
        if code and constellation:
            for full_code, hip in self._numbered_letters.get((code, constellation), ()):
                yield self._star(hip, bayer_text(full_code, constellation))

    def _named_within(self, query: str) -> Iterator[Called]:
        """Understand a name with its constellation, which tells two of a name apart."""
        name, constellation = _parted(query)
        for number in self._index.exact(name) if name else ():
            entry = self._index.entries[number]
            if entry.word and self._catalogue.target(entry.key).constellation == constellation:
                yield _called(entry)

    def _by_survey(self, query: str) -> Iterator[Called]:
        """Understand numbers of the large catalogues: HIP, UGC, PGC."""
        match = _SURVEY_NUMBER.match(query)
        if not match:
            return
        family, number = match[1], int(match[2])
        if family == "hip":
            if self._catalogue.stars.row(number) is not None:
                yield self._star(number, f"HIP {number}")
            return
        deep_sky = self._catalogue.deep_sky
        rows = deep_sky.ugc_rows if family == "ugc" else deep_sky.pgc_rows
        if number in rows:
            name = deep_sky.columns.name[deep_sky.original(rows[number])]
            yield Called(f"ngc:{name}", f"{family.upper()} {number}", 0.0)

    def _star(self, hip: int, shown: str) -> Called:
        return Called(f"hip:{hip}", shown, self.star_fame(hip))

    @cached_property
    def _numbered_letters(self) -> dict[tuple[str, str], list[tuple[str, int]]]:
        """Codes with their numbers, and HIP numbers, of each letter in each constellation."""
        found: dict[tuple[str, str], list[tuple[str, int]]] = {}
        for (code, constellation), hip in self._catalogue.names.by_letter.items():
            found.setdefault((split_code(code)[0], constellation), []).append((code, hip))
        return found

    def _one_place(self, found: list[Called]) -> list[Called]:
        """Leave the best known one where all the others lie on it, or as good as."""
        if len(found) < 2:
            return found
        targets = [self._catalogue.target(one.key) for one in found]
        if any(target.ra_deg is None or target.dec_deg is None for target in targets):
            return found
        ra, dec = zip(*((target.ra_deg, target.dec_deg) for target in targets), strict=True)
        vectors = unit_vectors(list(ra), list(dec))
        reach_deg = max((targets[0].major_arcmin or 0.0) / 120.0, _ONE_TO_THE_EYE_DEG)
        apart_deg = separation_deg(vectors[0], vectors)
        return found[:1] if float(apart_deg.max()) <= reach_deg else found


def _called(entry: Entry) -> Called:
    return Called(entry.key, entry.shown, entry.fame)


def _once(found: list[Called]) -> list[Called]:
    """Give each target once, the best known first."""
    ranked = sorted(found, key=lambda one: -one.fame)
    return list({one.key: one for one in reversed(ranked)}.values())[::-1]


def _letter_forms(query: str) -> Iterator[str]:
    """Write a star's letter or number as the index does: ``alf lyra`` is ``alpha lyr``."""
    head, constellation = _parted(query)
    if not head or not constellation:
        return
    first, _blank, rest = head.partition(" ")
    code = LETTER_CODES.get(first)
    letter = GREEK[code][1] if code else first
    yield " ".join(filter(None, (letter, rest, constellation.lower())))


def _parted(query: str) -> tuple[str, str]:
    """Part ``alpha canis majoris`` into ``alpha`` and ``CMa``; both empty where there is none."""
    words = query.split()
    for count in (1, 2):
        tail = " ".join(words[-count:])
        if len(words) > count and tail in CONSTELLATION_WORDS:
            return " ".join(words[:-count]), CONSTELLATION_WORDS[tail]
    return "", ""
