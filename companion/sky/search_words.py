"""What is said of a search: why a find answers, and why nothing is taken."""

from collections.abc import Sequence

from companion.advice import AdviceError
from companion.sky.hit import Hit, Match
from companion.sky.search_exact import Called
from companion.sky.spelling import MOST_LETTERS
from companion.sky.target import Target

_WHY = {
    Match.EXACT: "called",
    Match.SEVERAL: "one of several called",
    Match.BEGINS: "begins so:",
    Match.HOLDS: "has the word:",
    Match.CORRECTED: "a guess, one slip from",
    Match.LIKE: "a guess, spelled like",
}
_HOW = (
    "Give a name, a number (M 31, NGC 224, HIP 91262), a letter (α Lyr) or a "
    'position ("05 35.3 -05 23").'
)


def hit_text(hit: Hit) -> str:
    """Say how a find answers to what was typed: "called Andromeda Galaxy"."""
    return f"{_WHY[hit.match]} {hit.shown}"


def unknown(text: str, elsewhere: str, near: Sequence[str]) -> AdviceError:
    """Say that nothing is called so, what it is where that is known, and what is near.

    Parameters
    ----------
    text : str
        As typed.
    elsewhere : str
        What it is although it is not carried: "a moon of Pluto"; often empty.
    near : Sequence[str]
        Names that may have been meant.
    """
    shown = quoted(text)
    if not shown:
        return AdviceError("No target was given.", _HOW)
    guess = f" Near names: {', '.join(near)}." if near else ""
    return AdviceError(f"{shown} is {elsewhere or 'not known'}.{guess}", _HOW)


def ambiguous(text: str, targets: Sequence[Target], called: Sequence[Called]) -> AdviceError:
    """Say that several things are called so, and how to tell them apart."""
    names = [
        one.shown if one.shown == target.name else f"{one.shown} ({target.name})"
        for one, target in zip(called, targets, strict=True)
    ]
    return AdviceError(
        f"{quoted(text)} may mean several things: {', '.join(names)}.",
        "Say which of these you mean.",
    )


def quoted(text: str) -> str:
    """Quote what was typed, cut short and without anything that could upset a terminal."""
    start = "".join(char if char.isprintable() else " " for char in text[:MOST_LETTERS])
    line = " ".join(start.split())
    more = len(line) > 40 or len(text) > MOST_LETTERS
    return f'"{line[:40]}{"…" if more else ""}"' if line else ""
