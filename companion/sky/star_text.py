"""A star's letter or variable name with its constellation, in which case means something.

``R Car`` is a variable star and ``r Car`` another star, which Lacaille lettered. Variables are
named R to Z, RR to ZZ, AA to QZ (no J, the second letter never before the first), then V335 and
on (Samus et al. 2017, *General Catalogue of Variable Stars*, Astronomy Reports 61, 80).
"""

import re
import unicodedata
from dataclasses import dataclass

from companion.sky.bayer import LETTER_CODES
from companion.sky.constellation import CONSTELLATIONS
from companion.sky.spelling import MOST_LETTERS, fold

CONSTELLATION_WORDS = {
    fold(word): abbreviation
    for abbreviation, (name, genitive) in CONSTELLATIONS.items()
    for word in (abbreviation, name, genitive)
}
_MARK = re.compile(r"(?:V\*|\*\*?|NAME)\s+")  # before a star's name in lists of observatories
_LETTER = re.compile(r"([A-Za-z])[ -]?(\d?)\Z")
_TWO_AT_MOST = re.compile(r"[A-Za-z]{1,2}\Z")
_FIRST_NUMBER = 335  # the letters give 334 names
_NUMBERED = re.compile(r"[Vv] ?0*([1-9]\d{2,4})\Z")


@dataclass(frozen=True, slots=True)
class StarText:
    """What stands before a constellation, as typed, and the constellation's abbreviation."""

    head: str
    constellation: str
    caseless: bool  # all in one case, which then says nothing

    @property
    def letters(self) -> tuple[str, ...]:
        """Latin letters that may be meant: ``L2`` of L² Pup; both cases where case says nothing."""
        match = _LETTER.match(self.head)
        if not match:
            return ()
        letter, number = match[1], match[2]
        if not self.caseless:
            return (letter + number,)
        return letter.lower() + number, letter.upper() + number

    @property
    def variable(self) -> str:
        """The variable star's name without constellation, such as ``RR``; empty if it is none."""
        if number := _NUMBERED.match(self.head):
            return f"V{number[1]}" if int(number[1]) >= _FIRST_NUMBER else ""
        if not _TWO_AT_MOST.match(self.head):
            return ""
        small = self.head != self.head.upper()
        if small and (self.greek or (len(self.head) == 1 and not self.caseless)):
            return ""  # "mu Cep" and "r Car" are lettered stars, "MU Cep" and "R Car" are not
        first, last = self.head[0].upper(), self.head[-1].upper()
        one = len(self.head) == 1 and first >= "R"
        two = len(self.head) == 2 and first <= last and "J" not in {first, last}
        return self.head.upper() if one or two else ""

    @property
    def name(self) -> str:
        """The variable star's whole name, in its proper case."""
        return f"{self.variable} {self.constellation}"

    @property
    def greek(self) -> bool:
        """Whether the whole is the name of a Greek letter, or its usual short form."""
        return self.head.lower() in LETTER_CODES

    @property
    def decides(self) -> bool:
        """Whether this is a star's designation by its form, and so nothing else."""
        lettered = bool(self.letters) or bool(_TWO_AT_MOST.match(self.head))
        return bool(self.variable) or (lettered and not self.greek)


def read_star_text(text: str) -> StarText | None:
    """Part a text into a star's designation and its constellation; None without one."""
    line = unicodedata.normalize("NFKC", text[:MOST_LETTERS]).replace("_", " ").strip()
    words = _MARK.sub("", line, count=1).split()
    for count in (1, 2):
        tail = " ".join(words[-count:])
        if len(words) > count and fold(tail) in CONSTELLATION_WORDS:
            head = " ".join(words[:-count])
            letters = "".join(c for c in head + tail if c.isalpha())
            return StarText(
                head,
                CONSTELLATION_WORDS[fold(tail)],
                letters == letters.lower() or letters == letters.upper(),
            )
    return None


def named(text: str) -> str:
    """Fold a text and leave an article out: "the Moon", but θ in "the Tri"."""
    query = fold(text)
    bare = query.removeprefix("the ")
    return query if bare in CONSTELLATION_WORDS else bare
