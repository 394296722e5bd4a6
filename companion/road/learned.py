"""What was learned and when it is asked again: Leitner's boxes.

S. Leitner, *So lernt man lernen*, Herder 1972: what was known moves on one box, what was not goes
back to the first; each box is asked half as often as the one before. Here a box is a number of
nights: 1, 2, 4, 8, 16 and 32.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

BOX_NIGHTS: Final = (1, 2, 4, 8, 16, 32)
_NIGHT: Final = timedelta(hours=12)  # tries farther apart are on different nights
GIVEN_UP: Final = 3  # times not found in a row
RESTS: Final = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Learned:
    """One try at an aim; ``subject`` is the key of what was to be found, empty where nothing is.

    ``practice`` was indoors: it counts for what is asked first outside, never as seen.
    """

    aim: str
    subject: str
    utc: datetime
    found: bool
    practice: bool = False


@dataclass(frozen=True, slots=True)
class Standing:
    """How somebody stands with one aim; ``box`` is 0 where it was never found."""

    aim: str
    subject: str
    box: int
    last_utc: datetime
    missed: int  # times not found in a row
    nights: int  # on which it was found

    def due(self, utc: datetime) -> bool:
        """Whether it is to be asked again."""
        if not self.box:
            return False
        wait = timedelta(days=BOX_NIGHTS[min(self.box, len(BOX_NIGHTS)) - 1])
        return utc - self.last_utc >= wait - _NIGHT

    def rests(self, utc: datetime) -> bool:
        """Whether it is left alone for a week: not found three times."""
        return self.missed >= GIVEN_UP and utc - self.last_utc < RESTS


def standings(tries: Iterable[Learned]) -> dict[tuple[str, str], Standing]:
    """Fold all tries outside into how somebody stands, by aim and subject; in order of time."""
    found: dict[tuple[str, str], Standing] = {}
    for one in sorted(tries, key=lambda one: one.utc):
        if one.practice:
            continue
        key = (one.aim, one.subject)
        found[key] = _after(found.get(key), one)
    return found


def _after(before: Standing | None, one: Learned) -> Standing:
    if before is None:
        box, missed, nights = (1, 0, 1) if one.found else (0, 1, 0)
        return Standing(one.aim, one.subject, box, one.utc, missed, nights)
    if not one.found:
        box = 1 if before.box else 0
        return Standing(one.aim, one.subject, box, one.utc, before.missed + 1, before.nights)
    another_night = one.utc - before.last_utc >= _NIGHT or before.missed > 0
    step = 1 if another_night or not before.box else 0
    box = min(before.box + step, len(BOX_NIGHTS))
    return Standing(one.aim, one.subject, box, one.utc, 0, before.nights + step)


def missed_in_practice(tries: Iterable[Learned]) -> tuple[str, ...]:
    """Give the subjects whose last answer indoors was wrong: they come first outside."""
    last: dict[str, bool] = {}
    for one in sorted(tries, key=lambda one: one.utc):
        last[one.subject] = one.found or not one.practice
    return tuple(subject for subject, found in last.items() if not found)
