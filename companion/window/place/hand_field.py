"""The field of one's own fist, by which all lengths by eye are told."""

import re
from typing import TYPE_CHECKING

from companion.advice import AdviceError
from companion.sky import HAND, USUAL_FIST_DEG
from companion.window.forms.prompt_sheet import Prompt

if TYPE_CHECKING:
    from companion.live import Evening

_HELP = (
    "Stretch the arm, one eye closed. Type how many fists fit between two stars that you know: "
    "2½ from Dubhe to Alkaid. Or the width of your fist in degrees: 9.4. Empty: the usual 10°."
)
_BETWEEN = re.compile(
    r"(?P<count>\d+(?:[.,]\d+)?[¼½¾]?|[¼½¾])\s*(?:fists?)?\s*(?:from|between)?\s+"
    r"(?P<first>\S.*?)\s+(?:to|and)\s+(?P<second>\S.*)\Z",
    re.IGNORECASE,
)
_PARTS = {"¼": 0.25, "½": 0.5, "¾": 0.75}


def fist_words() -> tuple[str, str]:
    """Say how wide the fist is, and whether it was measured."""
    usual = HAND.fist_deg == USUAL_FIST_DEG
    return f"{HAND.fist_deg:.1f}°", "as most people's" if usual else "as you measured"


def fist_prompt(evening: "Evening") -> Prompt:
    """Ask for the width of the fist, or for a measure of it."""

    def take(typed: str, _choice: int) -> None:
        text = " ".join(typed.split())
        if not text:
            evening.road.set_fist(USUAL_FIST_DEG)
            return
        between = _BETWEEN.match(text)
        if between is not None:
            count = _number(between["count"])
            evening.road.measure_fist(count, between["first"], between["second"])
            return
        evening.road.set_fist(_number(text.rstrip("°")))

    shown = "" if HAND.fist_deg == USUAL_FIST_DEG else f"{HAND.fist_deg:.1f}"
    return Prompt("Your fist at arm's length", _HELP, shown, take)


def _number(text: str) -> float:
    plain = text.strip().replace(",", ".")
    part = _PARTS.get(plain[-1:], 0.0)
    try:
        return (float(plain[:-1]) if plain[:-1] else 0.0) + part if part else float(plain)
    except ValueError:
        raise AdviceError(
            f"“{text[:40]}” is not the width of a fist.",
            "Type degrees, or 2½ from Dubhe to Alkaid.",
            "The width of before is kept.",
        ) from None
