"""Lengths in a group's own length: what is said, and what angle the words stand for."""

from dataclasses import dataclass
from typing import Final

from companion.sky import as_fists, fists_text

# What is said, and the multiple that it stands for; neighbours differ by at most a quarter.
_WORDS: Final = (
    (0.25, "a quarter of {the}"), (1 / 3, "a third of {the}"), (0.5, "half {a}"),
    (2 / 3, "two thirds of {the}"), (0.75, "three quarters of {the}"), (1.0, "{one}"),
    (1.125, "a good {x}"), (1.25, "{one} and a quarter"), (1.5, "{one} and a half"),
    (1.75, "{one} and three quarters"), (2.0, "two {x}s"), (2.25, "two and a quarter {x}s"),
    (2.5, "two and a half {x}s"), (3.0, "three {x}s"), (3.5, "three and a half {x}s"),
    (4.0, "four {x}s"), (4.5, "four and a half {x}s"), (5.0, "five {x}s"),
    (5.5, "five and a half {x}s"),
)  # fmt: skip
_MOST: Final = 5.75  # the eye counts no more
_LEAST: Final = 0.22
_JUDGED_PART: Final = 0.1  # coarser words are not said


@dataclass(frozen=True, slots=True)
class Length:
    """How far to go: ``multiple`` of the group's own length, 0 where only fists are said."""

    own_deg: float
    multiple: float
    extension_deg: float

    @property
    def said_deg(self) -> float:
        """The angle that the words stand for."""
        return self.multiple * self.own_deg if self.multiple else as_fists(self.extension_deg)

    def words(self, name: str) -> str:
        """Say it, the group's length being called ``name``: ``a good Dipper-length (a fist)``."""
        fists = fists_text(self.extension_deg)
        if not self.multiple:
            return f"about {fists}"
        words = next(words for value, words in _WORDS if value == self.multiple)
        x, of, rest = name.partition(" of ")
        a, one = f"{'an' if x[0] in 'AEIOU' else 'a'} {x}", f"one {x}"
        said = words.format(a=f"{a}{of}{rest}", one=f"{one}{of}{rest}", x=x, the=f"{a}{of}{rest}")
        tail = f"{of}{rest}" if "{x}" in words else ""
        return f"{said}{tail} ({fists})"


def length_of(extension_deg: float, own_deg: float) -> Length:
    """Give the multiple of a group's own length that comes nearest."""
    times = extension_deg / own_deg
    if not _LEAST <= times <= _MOST:
        return Length(own_deg, 0.0, extension_deg)
    nearest = min((value for value, _words in _WORDS), key=lambda value: abs(value - times))
    fits = abs(nearest - times) <= _JUDGED_PART * times
    return Length(own_deg, nearest if fits else 0.0, extension_deg)
