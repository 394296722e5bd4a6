"""What a row of the queue says: pure text of the facts, without a widget."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import tzinfo

from companion.instant import RowFacts
from companion.journal import Outcome, outcome_text
from companion.live import QueueItem
from companion.sky import angle_text, clock_text, duration_text


@dataclass(frozen=True, slots=True)
class RowWords:
    """One row: four figures, or a sentence in their place."""

    key: str
    name: str
    outcome: Outcome
    figures: tuple[str, str, str, str] = ("", "", "", "")  # altitude, azimuth, time left, Moon
    instead: str = ""  # "found 19:42"
    noted: bool = False
    current: bool = False


def row_words(
    item: QueueItem,
    facts: RowFacts | None,
    zone: tzinfo | None,
    uncovered: frozenset[str],
    current_key: str | None,
) -> RowWords:
    """Give what a row says."""
    key = item.target.key
    figures, instead = ("", "", "", ""), ""
    if item.outcome is not Outcome.WAITING:
        at = "" if item.utc is None else clock_text(item.utc.astimezone(zone))
        instead = f"{outcome_text(item.outcome)} {at}".strip()
    elif facts is not None and facts.sun_danger and key not in uncovered:
        instead = "too near the Sun"
    elif facts is not None:
        figures = _figures(facts)
    return RowWords(
        key, item.target.name, item.outcome, figures, instead, bool(item.note), key == current_key
    )


def _figures(facts: RowFacts) -> tuple[str, str, str, str]:
    moon = "" if facts.moon_distance_deg is None else angle_text(round(facts.moon_distance_deg))
    return (f"{facts.altitude_text}°", f"{facts.azimuth_text}°", time_words(facts), moon)


def time_words(facts: RowFacts) -> str:
    """Say how long a row can be used, or when it comes up."""
    if facts.altitude_deg < 0.0:
        return "down" if facts.rises_in_s is None else f"in {duration_text(facts.rises_in_s)}"
    if facts.time_left_s is None:
        return "stays up"
    return "low" if facts.time_left_s <= 0.0 else duration_text(facts.time_left_s)


def progress(items: Sequence[QueueItem]) -> str:
    """Say how far the evening has come: "7 of 12 seen, 3 waiting"."""
    if not items:
        return "nothing in the queue yet"
    found = sum(item.outcome is Outcome.FOUND for item in items)
    waiting = sum(item.outcome is Outcome.WAITING for item in items)
    return f"{found} of {len(items)} seen, {waiting or 'none'} waiting"
