"""One search over everything, that understands what people type."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from companion.sky.advice import AdviceError
from companion.sky.bayer import GREEK, LETTER_CODES, bayer_text, split_code
from companion.sky.borders import constellation_of
from companion.sky.catalogue import Catalogue, place_target
from companion.sky.constellation import CONSTELLATIONS
from companion.sky.direction import parse_direction
from companion.sky.search_entries import all_entries, fame
from companion.sky.search_index import Entry, TextIndex
from companion.sky.spelling import MOST_LETTERS, fold
from companion.sky.target import Target

# Scores: the kind of match decides, fame (0 to 10) orders within a kind.
_EXACT, _NUMBER, _PREFIX, _WORD, _SPELLING, _SLIP = 100.0, 85.0, 70.0, 50.0, 30.0, 5.0
_WHY = {_EXACT: "name", _NUMBER: "number", _PREFIX: "begins so", _WORD: "has the word"}
_LEAST_LEAD = 2.5  # by which a find that is no exact one has to lead to be taken without asking
_ENOUGH = 3  # with fewer finds, what was typed may be a misspelling
_PER_TARGET = 6  # most entries of one target that may come before the next one's
_SURVEY_NUMBER = re.compile(r"(hip|ugc|pgc) (\d{1,7})\Z")
_HIP_DIGITS = 6


@dataclass(frozen=True, slots=True)
class Hit:
    """One find: ``score`` up to 110, higher is better; ``why`` says in words how it was found."""

    target: Target
    score: float
    why: str


@dataclass(frozen=True, slots=True)
class _Found:
    """A find before its target is made."""

    key: str
    score: float
    why: str


class SearchIndex:
    """Finds targets by name, letter, number or position, forgiving spelling.

    Building it takes some tenths of a second, a keystroke a millisecond or two.
    """

    def __init__(self, catalogue: Catalogue) -> None:
        self._catalogue = catalogue
        self._index = TextIndex(all_entries(catalogue))
        # Read now what the first typed position and the first find would have to wait for.
        constellation_of(0.0, 0.0)
        catalogue.target("ngc:NGC0224")

    def find(self, text: str, limit: int = 12) -> list[Hit]:
        """Give what a text may mean, best first, each target once; nothing for nonsense.

        Parameters
        ----------
        text : str
            As typed so far; whatever comes after the first 80 characters is ignored.
        limit : int
            The most to give.
        """
        try:
            return self._find(text, limit)
        except AdviceError:  # a position that is not in the sky, perhaps still being typed
            return []

    def resolve(self, text: str) -> Target:
        """Give the one target that a text means.

        Raises
        ------
        AdviceError
            If nothing is called so, or several things may be meant: it names them then.
        """
        hits = self._find(text, 4)
        shown = _shown(text)
        if not hits:
            raise AdviceError(
                f"Nothing is called {shown}." if shown else "No target was given.",
                "Give a name, a number (M 31, NGC 224, HIP 91262), a letter (α Lyr) or a "
                'position ("05 35.3 -05 23").',
            )
        best = hits[0]
        rival = hits[1].score if len(hits) > 1 else 0.0
        if best.score < _NUMBER and rival > best.score - _LEAST_LEAD:
            names = ", ".join(hit.target.name for hit in hits)
            raise AdviceError(
                f"{shown} may mean several things.", f"Say which of these you mean: {names}."
            )
        return best.target

    def _find(self, text: str, limit: int) -> list[Hit]:
        start = text[:MOST_LETTERS]
        direction = parse_direction(start)
        if direction:
            return [Hit(place_target(*direction), _EXACT, "position")][: max(limit, 0)]
        query = fold(start).removeprefix("the ")
        if not query or limit < 1:
            return []
        most = limit * _PER_TARGET
        best: dict[str, _Found] = {}
        for found in self._by_key(start):
            _keep(best, found)
        for found in self._matches(query, most):
            _keep(best, found)
        sure = any(found.score >= _NUMBER for found in best.values())
        if len(best) < _ENOUGH and not sure:
            for found in self._misspelled(query, most):
                _keep(best, found)
        ranked = sorted(best.values(), key=lambda found: -found.score)[:limit]
        return [Hit(self._catalogue.target(f.key), round(f.score, 3), f.why) for f in ranked]

    def _by_key(self, text: str) -> Iterator[_Found]:
        """Understand a target's own key, as journals and queues keep it."""
        if text.startswith(("hip:", "ngc:", "body:", "group:", "icrs:")):
            try:
                key = self._catalogue.target(text.strip()).key
            except AdviceError:
                return
            yield _Found(key, _EXACT + 10.0, "key")

    def _matches(self, query: str, most: int) -> Iterator[_Found]:
        entries = self._index.entries
        for form in dict.fromkeys((query, *self._letter_forms(query))):
            for number in self._index.exact(form):
                entry = entries[number]
                yield _found(entry, _EXACT if entry.word else _NUMBER)
        yield from self._lettered(query)
        yield from self._named_within(query)
        yield from self._survey(query, most)
        if query.isdigit():
            for family in ("m", "ngc", "ic", "hip"):
                yield from self._bare_number(f"{family} {query}")
        for number in self._index.begins(query, most):
            yield _found(entries[number], _PREFIX)
        for number in self._index.holding(query.split(), most):
            yield _found(entries[number], _WORD)

    def _letter_forms(self, query: str) -> Iterator[str]:
        """Write a star's letter or number as the index does: ``alf lyra`` is ``alpha lyr``."""
        head, constellation = _split_constellation(query)
        if not head or not constellation:
            return
        first, _blank, rest = head.partition(" ")
        code = LETTER_CODES.get(first)
        letter = GREEK[code][1] if code else first
        yield " ".join(filter(None, (letter, rest, constellation.lower())))

    def _lettered(self, query: str) -> Iterator[_Found]:
        """Give all of ``pi Ori`` or ``alpha Cen``, whose letters carry numbers."""
        head, constellation = _split_constellation(query)
        code = LETTER_CODES.get(head)
        if code and constellation:
            for full_code, hip in self._numbered_letters.get((code, constellation), ()):
                why = f"{_WHY[_NUMBER]}: {bayer_text(full_code, constellation)}"
                yield _Found(f"hip:{hip}", _NUMBER + self._star_fame(hip), why)

    def _named_within(self, query: str) -> Iterator[_Found]:
        """Understand a name with its constellation, which tells two of a name apart."""
        name, constellation = _split_constellation(query)
        for number in self._index.exact(name) if name else ():
            entry = self._index.entries[number]
            if entry.word and self._catalogue.target(entry.key).constellation == constellation:
                yield _found(entry, _NUMBER)

    @cached_property
    def _numbered_letters(self) -> dict[tuple[str, str], list[tuple[str, int]]]:
        """Codes with their numbers, and HIP numbers, of each letter in each constellation."""
        found: dict[tuple[str, str], list[tuple[str, int]]] = {}
        for (code, constellation), hip in self._catalogue.names.by_letter.items():
            found.setdefault((split_code(code)[0], constellation), []).append((code, hip))
        return found

    def _star_fame(self, hip: int) -> float:
        row = self._catalogue.stars.row(hip)
        return 0.0 if row is None else fame(float(self._catalogue.stars.magnitude[row]), 0.0)

    def _bare_number(self, text: str) -> Iterator[_Found]:
        for number in self._index.exact(text):
            yield _found(self._index.entries[number], _WORD)
        for found in self._survey(text, 0):
            yield _Found(found.key, found.score - _NUMBER + _WORD, found.why)

    def _survey(self, query: str, most: int) -> Iterator[_Found]:
        """Understand numbers of the large catalogues: HIP, UGC, PGC."""
        match = _SURVEY_NUMBER.match(query)
        if not match:
            return
        family, number = match[1], int(match[2])
        if family == "hip":
            yield from self._hip(number, most)
            return
        deep_sky = self._catalogue.deep_sky
        rows = deep_sky.ugc_rows if family == "ugc" else deep_sky.pgc_rows
        if number in rows:
            name = deep_sky.columns.name[deep_sky.original(rows[number])]
            yield _Found(f"ngc:{name}", _NUMBER, f"{_WHY[_NUMBER]}: {family.upper()} {number}")

    def _hip(self, number: int, most: int) -> Iterator[_Found]:
        """Give the star of that number, and the brightest whose numbers begin with it."""
        stars = self._catalogue.stars
        if stars.row(number) is not None:
            why = f"{_WHY[_NUMBER]}: HIP {number}"
            yield _Found(f"hip:{number}", _NUMBER + self._star_fame(number), why)
        if not number or not most:
            return
        rows = np.concatenate(
            [
                np.arange(*np.searchsorted(stars.hip, [number * 10**n, (number + 1) * 10**n]))
                for n in range(1, _HIP_DIGITS)
            ]
        )
        for row in rows[np.argsort(stars.magnitude[rows], kind="stable")][:most].tolist():
            rank = fame(float(stars.magnitude[row]), 0.0)
            hip = int(stars.hip[row])
            yield _Found(f"hip:{hip}", _PREFIX + rank, f"{_WHY[_PREFIX]}: HIP {hip}")

    def _misspelled(self, query: str, most: int) -> Iterator[_Found]:
        for number, slips in self._index.alike(query, most):
            entry = self._index.entries[number]
            score = _SPELLING - _SLIP * slips + 0.4 * entry.fame
            yield _Found(entry.key, score, f"spelled like {entry.shown}")


def _found(entry: Entry, kind: float) -> _Found:
    return _Found(entry.key, kind + max(entry.fame, 0.0), f"{_WHY[kind]}: {entry.shown}")


def _keep(best: dict[str, _Found], found: _Found) -> None:
    """Keep the better find of one target."""
    if found.key not in best or best[found.key].score < found.score:
        best[found.key] = found


def _split_constellation(query: str) -> tuple[str, str]:
    """Part ``alpha canis majoris`` into ``alpha`` and ``CMa``; both empty where there is none."""
    words = query.split()
    for count in (1, 2):
        tail = " ".join(words[-count:])
        if len(words) > count and tail in _CONSTELLATION_WORDS:
            return " ".join(words[:-count]), _CONSTELLATION_WORDS[tail]
    return "", ""


def _shown(text: str) -> str:
    """Quote what was typed, cut short and without anything that could upset a terminal."""
    start = "".join(char if char.isprintable() else " " for char in text[:MOST_LETTERS])
    line = " ".join(start.split())
    return (
        f'"{line[:40]}{"…" if len(line) > 40 or len(text) > MOST_LETTERS else ""}"' if line else ""
    )


_CONSTELLATION_WORDS = {
    fold(word): abbreviation
    for abbreviation, (name, genitive) in CONSTELLATIONS.items()
    for word in (abbreviation, name, genitive)
}
