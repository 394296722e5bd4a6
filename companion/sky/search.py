"""One search over everything, that understands what people type."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from threading import Lock

import numpy as np

from companion.advice import AdviceError
from companion.sky.borders import constellation_of
from companion.sky.carried import CARRIED
from companion.sky.catalogue import Catalogue, load_catalogue, place_target
from companion.sky.direction import parse_direction
from companion.sky.hit import Hit, Match, Understood
from companion.sky.moon_places import moon_target
from companion.sky.not_carried import not_carried
from companion.sky.search_entries import all_entries
from companion.sky.search_exact import Called, ExactNames
from companion.sky.search_index import Entry, TextIndex
from companion.sky.search_words import ambiguous, unknown
from companion.sky.spelling import MOST_LETTERS, fold, one_slip
from companion.sky.star_text import CONSTELLATION_WORDS, named, read_star_text
from companion.sky.target import Target

# The kind of match decides, fame (0 to 10) orders within a kind.
_SCORES = {
    Match.EXACT: 100.0,
    Match.SEVERAL: 85.0,
    Match.BEGINS: 70.0,
    Match.HOLDS: 50.0,
    Match.CORRECTED: 35.0,
    Match.LIKE: 30.0,
}
_SLIP = 5.0
_ENOUGH = 3  # with fewer finds, what was typed may be a misspelling
_PER_TARGET = 6  # most entries of one target that may come before the next one's
_LEAST_BEGINNING = 3  # letters of a name that need not be typed to its end
_MOST_NAMED = 4  # near names in a refusal
_HIP_DIGITS = 6


@dataclass(frozen=True, slots=True)
class _Found:
    """A find before its target is made."""

    key: str
    score: float
    match: Match
    shown: str
    word: bool = False


class SearchIndex:
    """Finds targets by name, letter, number or position.

    Building it takes some tenths of a second, a keystroke a millisecond or two; afterwards several
    threads may ask it. Use ``load_search``: a second index would only cost memory.
    """

    def __init__(self, catalogue: Catalogue) -> None:
        self._catalogue = catalogue
        self._index = TextIndex(all_entries(catalogue))
        self._exact = ExactNames(catalogue, self._index)
        self._vocabulary = sorted({*self._index.name_words, *_words_of(CONSTELLATION_WORDS)})
        self._known_words = frozenset(self._vocabulary)
        # Read now what the first typed position and the first find would have to wait for.
        constellation_of(0.0, 0.0)
        catalogue.target("ngc:NGC0224")

    def resolve(self, text: str) -> Target:
        """Give the one target that is called exactly so, in any usual form.

        Raises
        ------
        AdviceError
            If nothing is, or several things are: it names near names then.
        """
        direction = parse_direction(text[:MOST_LETTERS])
        if direction:
            return place_target(*direction)
        called = self._called(text)
        if not called:
            raise unknown(text, *self._instead(text))
        if len(called) > 1:
            raise ambiguous(text, [self._catalogue.target(one.key) for one in called], called)
        return self._catalogue.target(called[0].key)

    def _called(self, text: str) -> list[Called]:
        """Give what is called exactly so: ours, or else what a person brought."""
        return self._exact.called(text) or [
            Called(one.key, one.name, 0.0) for one in CARRIED.called(text)
        ]

    def understand(self, text: str) -> Understood:
        """Give the target that a text means, one slip in a longer word forgiven.

        What was corrected has to be said to the person; where nobody would see it, or it is
        written down, ``resolve`` is the call.

        Raises
        ------
        AdviceError
            If nothing is called so, or several things may be meant.
        """
        try:
            return Understood(self.resolve(text))
        except AdviceError:
            corrected = self._corrected(text)
            if len(corrected) != 1:
                raise
        return Understood(self._catalogue.target(corrected[0].key), corrected[0].shown)

    def on_the_moon(self, text: str) -> Target | None:
        """Give the Moon's feature of a name, whatever else is called so; None where none is."""
        row = self._exact.moon.called(named(text))
        return None if row is None else moon_target(row)

    def lookup(self, text: str) -> Target | None:
        """Give the one target of an exact name, number or key; None where there is none."""
        called = self._called(text)
        return self._catalogue.target(called[0].key) if len(called) == 1 else None

    def find(self, text: str, limit: int = 12) -> list[Hit]:
        """Give what a text may mean, best first, each target once; nothing for nonsense.

        Parameters
        ----------
        text : str
            As typed so far; whatever comes after the first 80 characters is ignored.
        limit : int
            The most to give.
        """
        if limit < 1:
            return []
        try:
            direction = parse_direction(text[:MOST_LETTERS])
            if direction:
                place = place_target(*direction)
                return [Hit(place, _SCORES[Match.EXACT], Match.EXACT, place.name, at_once=True)]
        except AdviceError:  # a position that is not in the sky, perhaps still being typed
            return []
        ranked = sorted(self._found(text, limit), key=lambda found: -found.score)[:limit]
        at_once = {Match.EXACT, Match.BEGINS} if _is_beginning(text) else {Match.EXACT}
        return [self._hit(found, at_once) for found in ranked]

    def _hit(self, found: _Found, at_once: set[Match]) -> Hit:
        return Hit(
            self._catalogue.target(found.key),
            round(found.score, 3),
            found.match,
            found.shown,
            found.match in at_once and (found.word or found.match is Match.EXACT),
        )

    def _found(self, text: str, limit: int) -> list[_Found]:
        """Give finds of every kind, each target once."""
        query = named(text)
        if not query:
            return []
        best: dict[str, _Found] = {}
        for target in CARRIED.beginning(text, limit):
            _keep(best, _Found(target.key, _SCORES[Match.BEGINS], Match.BEGINS, target.name))
        called = self._called(text)
        match = Match.EXACT if len(called) == 1 else Match.SEVERAL
        for one in called:
            _keep(best, _Found(one.key, _SCORES[match] + max(one.fame, 0.0), match, one.shown))
        for found in self._matches(query, limit * _PER_TARGET):
            _keep(best, found)
        if len(best) < _ENOUGH and not called:
            for found in self._guesses(text, query, limit):
                _keep(best, found)
        return list(best.values())

    def _matches(self, query: str, most: int) -> Iterator[_Found]:
        """Give what begins so or has these words, and what bears the bare number."""
        yield from self._hip_beginnings(query, most)
        if query.isdigit():
            for family in ("m", "ngc", "ic", "hip"):
                for one in self._exact.called(f"{family} {query}"):
                    score = _SCORES[Match.HOLDS] + max(one.fame, 0.0)
                    yield _Found(one.key, score, Match.HOLDS, one.shown)
        for at in self._exact.moon.beginning(query, most):
            score = _SCORES[Match.BEGINS] + self._exact.moon.fame(at)
            target = moon_target(at)
            yield _Found(target.key, score, Match.BEGINS, target.name)
        entries = self._index.entries
        for number in self._index.begins(query, most):
            yield _found(entries[number], Match.BEGINS)
        for number in self._index.holding(query.split(), most):
            yield _found(entries[number], Match.HOLDS)

    def _hip_beginnings(self, query: str, most: int) -> Iterator[_Found]:
        """Give the brightest stars whose Hipparcos numbers begin so."""
        family, _blank, digits = query.partition(" ")
        if family != "hip" or not digits.isdigit() or not 0 < len(digits) < _HIP_DIGITS:
            return
        number, stars = int(digits), self._catalogue.stars
        spans = [
            np.arange(*np.searchsorted(stars.hip, [number * 10**n, (number + 1) * 10**n]))
            for n in range(1, _HIP_DIGITS)
        ]
        rows = np.concatenate(spans)
        for row in rows[np.argsort(stars.magnitude[rows], kind="stable")][:most].tolist():
            hip = int(stars.hip[row])
            score = _SCORES[Match.BEGINS] + self._exact.star_fame(hip)
            yield _Found(f"hip:{hip}", score, Match.BEGINS, f"HIP {hip}")

    def _guesses(self, text: str, query: str, limit: int) -> Iterator[_Found]:
        """Give what may be misspelled here: numbers and stars' designations never are."""
        if not _may_be_misspelled(text):
            return
        for one in self._corrected(text):
            score = _SCORES[Match.CORRECTED] + 0.4 * one.fame
            yield _Found(one.key, score, Match.CORRECTED, one.shown)
        for number, slips in self._index.alike(query, limit * _PER_TARGET):
            entry = self._index.entries[number]
            score = _SCORES[Match.LIKE] - _SLIP * slips + 0.4 * entry.fame
            yield _Found(entry.key, score, Match.LIKE, entry.shown)

    def _corrected(self, text: str) -> list[Called]:
        """Give what is called so with one slip of one longer word put right.

        Several answers, one of them perhaps not carried, mean that nobody can tell.
        """
        words = named(text).split()
        strange = [word for word in words if word not in self._known_words]
        if len(strange) != 1 or not _may_be_misspelled(text):
            return []
        found: dict[str, Called] = {}
        for right in one_slip(strange[0], self._vocabulary):
            better = " ".join(right if word == strange[0] else word for word in words)
            found |= {one.key: one for one in self._exact.called(better)}
        return [] if not_carried(text, slips=1) else list(found.values())

    def _instead(self, text: str) -> tuple[str, list[str]]:
        """Give what a text is though it is not carried, and names of what may have been meant."""
        if elsewhere := not_carried(text):
            return f"{elsewhere}, which is not carried", []
        star = read_star_text(text)
        if star and star.variable:
            return f"a variable star's name, {star.name}, which is not carried", self._near(text)
        return "", self._near(text)

    def _near(self, text: str) -> list[str]:
        """Give names of what may have been meant."""
        ranked = sorted(self._found(text, _MOST_NAMED), key=lambda found: -found.score)
        return list(dict.fromkeys(found.shown for found in ranked))[:_MOST_NAMED]


def _found(entry: Entry, match: Match) -> _Found:
    score = _SCORES[match] + max(entry.fame, 0.0)
    return _Found(entry.key, score, match, entry.shown, entry.word)


def _keep(best: dict[str, _Found], found: _Found) -> None:
    """Keep the better find of one target."""
    if found.key not in best or best[found.key].score < found.score:
        best[found.key] = found


def _words_of(texts: dict[str, str]) -> list[str]:
    return [word for text in texts for word in text.split()]


def _may_be_misspelled(text: str) -> bool:
    """Tell whether this is words: a number or a star's letter is right, or unknown."""
    star = read_star_text(text)
    decided = star is not None and star.decides
    return not decided and not any(char.isdigit() for char in fold(text))


def _is_beginning(text: str) -> bool:
    """Tell whether a name may be taken for which this is the beginning."""
    query = fold(text)
    return (
        len(query) >= _LEAST_BEGINNING
        and query not in CONSTELLATION_WORDS
        and not not_carried(text)
        and _may_be_misspelled(text)
    )


_making = Lock()


def load_search() -> SearchIndex:
    """Give the one search of this process, to whichever thread asks."""
    with _making:
        return _made()


@cache
def _made() -> SearchIndex:
    return SearchIndex(load_catalogue())
