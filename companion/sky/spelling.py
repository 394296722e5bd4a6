"""How typed text is made comparable, and how likely misspellings are found."""

import re
import unicodedata
from collections.abc import Sequence
from functools import lru_cache

from companion.sky.bayer import GREEK

MOST_LETTERS = 80  # nothing in the sky has a longer name; the rest of a pasted book is ignored
_GREEK_NAMES = {ord(symbol): f" {name} " for symbol, name in GREEK.values()} | {
    ord("ς"): " sigma ",
    ord("ϑ"): " theta ",
    ord("ϕ"): " phi ",
    ord("ϵ"): " epsilon ",
}
# Letters that Unicode does not take apart into a plain letter and a mark.
_PLAIN = str.maketrans(
    {"ß": "ss", "ø": "o", "đ": "d", "ð": "d", "ł": "l", "æ": "ae", "œ": "oe", "þ": "th", "ı": "i"}
)
_APOSTROPHES = re.compile(r"['’ʻʼ`´]")
_BREAKS = re.compile(r"[^\w]+|_+")
_LETTERS_THEN_DIGITS = re.compile(r"(?<=[^\W\d])(?=\d)")
_LEADING_ZEROS = re.compile(r"\b0+(?=\d)")
_IDLE_BLANKS = re.compile(r"(?<!\d) | (?!\d)")
LEAST_CORRECTED = 6  # letters of a word of which one slip is forgiven without asking


@lru_cache(maxsize=8192)
def _folded(text: str) -> str:
    lowered = text.casefold().translate(_GREEK_NAMES).translate(_PLAIN)
    marked = unicodedata.normalize("NFKD", lowered)
    bare = "".join(char for char in marked if not unicodedata.combining(char))
    # Compatibility forms may decompose into capitals or Greek again.
    again = _APOSTROPHES.sub("", bare.casefold().translate(_GREEK_NAMES))
    parted = _LETTERS_THEN_DIGITS.sub(" ", _BREAKS.sub(" ", again))
    return " ".join(_LEADING_ZEROS.sub("", parted).split())


def fold(text: str) -> str:
    """Write text in plain small letters, figures and single blanks, so that it can be compared.

    Case, accents, apostrophes and punctuation go; Greek letters become their names, raised
    figures plain ones; a figure after a letter is set apart, zeros before it go (``M031`` becomes
    ``m 31``). Whatever comes after the first ``MOST_LETTERS`` characters is ignored.
    """
    return _folded(text[:MOST_LETTERS])


def squeeze(folded: str) -> str:
    """Leave the blanks out of folded text, except between figures: ``m 2 9`` is not ``m 29``."""
    return _IDLE_BLANKS.sub("", folded)


def one_slip(word: str, words: Sequence[str]) -> list[str]:
    """Give the longer words of which a longer word may be a misspelling by one slip.

    The slips are those of ``nearest``; a word is longer with ``LEAST_CORRECTED`` letters.
    """
    if len(word) < LEAST_CORRECTED:
        return []
    return [
        other for other, _slips, _index in _alike(word, words, 1) if len(other) >= LEAST_CORRECTED
    ]


def tolerance(letters: int) -> int:
    """Give how many slips a word of that length may hold and still be recognised."""
    if letters < 4:
        return 0
    return 1 if letters < 6 else 2 if letters < 11 else 3


def nearest(text: str, names: Sequence[str], limit: int, fewer: int = 0) -> list[tuple[int, int]]:
    """Give the names that a misspelling may mean, as (index, slips), fewest slips first.

    Slips are letters left out, put in, changed or swapped with their neighbour (optimal string
    alignment distance: Damerau 1964, CACM 7, 171).

    Parameters
    ----------
    text : str
        Folded text.
    names : Sequence[str]
        Folded names.
    limit : int
        The most to give.
    fewer : int, optional
        How many slips fewer than usual to allow.
    """
    allowed = tolerance(len(text)) - fewer
    if allowed < 1:
        return []
    return [(index, int(slips)) for _name, slips, index in _alike(text, names, allowed, limit)]


def _alike(
    text: str, names: Sequence[str], slips: int, limit: int | None = None
) -> list[tuple[str, int, int]]:
    from rapidfuzz.distance import OSA  # not before the first frame: nobody misspells that early
    from rapidfuzz.process import extract

    return extract(text, names, scorer=OSA.distance, score_cutoff=slips, limit=limit)
