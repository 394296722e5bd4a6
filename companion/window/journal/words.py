"""What the screen of the journal says: a line a night, a line a thing that was seen."""

from collections.abc import Callable
from datetime import date, tzinfo

from companion.advice import AdviceError
from companion.journal import Entry, Held, Lifetime, Night, Outcome, Remark, SeenTarget, Tick
from companion.live import FamousLists
from companion.sky import altitude_text, clock_text, compass_point, zone_of
from companion.window.kit.row_list import Progress, Row

_UNREADABLE = "This entry cannot be read."


def total(view: Lifetime, held: list[Night]) -> str:
    """Say how much there is, or how much of it has been read."""
    nights = "one night" if len(held) == 1 else f"{len(held):,} nights"
    found = sum(night.found for night in held)
    words = f"{nights} · {found:,} found · {len(view.seen):,} different"
    return words if view.whole else f"{words} so far · older nights are being read"


def lifetime_row(view: Lifetime, lists: FamousLists | None) -> Row:
    """Say how much was ever seen, and how far the famous lists are gone through."""
    if lists is None:
        return Row("A lifetime", right=f"{len(view.seen):,} seen")
    found = view.found_keys
    parts = (("Messier", lists.messier), ("Caldwell", lists.caldwell))
    progress = tuple(
        Progress(
            f"{name} {len(keys & found)} of {len(keys)}", len(keys & found) / max(1, len(keys))
        )
        for name, keys in parts
    )
    below = " · ".join(one.words for one in progress)
    return Row("A lifetime", right=f"{len(view.seen):,} seen", below=below, progress=progress)


def night_row(night: Night) -> Row:
    """Say what a night brought."""
    counts = (
        (night.found, "found"), (night.not_seen, "not seen"), (night.skipped, "skipped"),
        (night.notes, "note" if night.notes == 1 else "notes"),
    )  # fmt: skip
    return Row(
        _date(night.night), right=" · ".join(f"{count} {word}" for count, word in counts if count)
    )


def _date(night: str) -> str:
    """Write a night's date: "10 October 2026"."""
    try:
        day = date.fromisoformat(night)
    except ValueError:
        return night
    return f"{day.day} {day:%B %Y}"


def entry_row(held: Held, entry: Entry | None, *, known: bool) -> Row:
    """Say what was written at a moment of its night; nearly nothing until that is read."""
    if entry is None:
        return _blank(held, known=known)
    lead = clock_text(entry.utc.astimezone(_zone(entry)))
    if isinstance(entry, Tick):
        note = " ".join(entry.note.split())
        return Row(entry.name, _stood(entry), below=note, lead=lead, outcome=entry.outcome)
    text = " ".join(entry.text.split())
    if entry.name:
        return Row(entry.name, "a note", below=text, lead=lead)
    return Row(text, lead=lead)


def seen_row(seen: SeenTarget, entries: Callable[[Held], Entry | None], *, known: bool) -> Row:
    """Say of a target when it was found last, how often, and what was noted then."""
    last = entries(seen.last)
    if not isinstance(last, Tick):
        return _blank(seen.last, known=known)
    remarks = [one.text for one in map(entries, seen.remarks) if isinstance(one, Remark)]
    times = {1: "once", 2: "twice"}.get(seen.count, f"{seen.count:,} times")
    note = " ".join(" ".join([last.note, *remarks]).split())
    return Row(last.name, times, _date(last.night), note, outcome=Outcome.FOUND)


def _blank(held: Held, *, known: bool) -> Row:
    return Row("", below=_UNREADABLE if known else "", outcome=held.outcome)


def _stood(tick: Tick) -> str:
    if tick.altitude_deg is None or tick.azimuth_deg is None:
        return tick.instrument
    where = f"{altitude_text(tick.altitude_deg, 1.0)}° up, {compass_point(tick.azimuth_deg, 8)}"
    return " · ".join(part for part in (where, tick.instrument) if part)


def _zone(entry: Entry) -> tzinfo:
    """Give the zone of the site's clocks; UTC where the site is not known."""
    try:
        return zone_of(str((entry.site or {}).get("time_zone", "UTC")))
    except AdviceError:
        return zone_of("UTC")
