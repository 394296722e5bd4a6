"""What holds in all nights, in little memory: read a part at a time, then only what is new."""

from collections.abc import Iterator, Sequence

from companion.journal.advice import advised
from companion.journal.errors import JournalError
from companion.journal.events import Did, Event
from companion.journal.held import Held, Lifetime, Night, SeenTarget
from companion.journal.history import WHAT_COUNTS, Entry, entry_of, holding
from companion.journal.journal import Journal
from companion.journal.open_file import NOTHING_CHANGED
from companion.journal.outcome import Outcome
from companion.journal.reading import COLUMNS, EventRow, event_of, read_event

_NIGHTS = "SELECT DISTINCT CAST(night AS BLOB) FROM event WHERE number > ?"
_LAST = "SELECT coalesce(max(number), 0) FROM event"
# SQLite looks into the values many times faster than we do; what it can't read is read here.
_LIGHT = f"""
SELECT number, utc, night, kind, subject, cancels, sound,
       CASE WHEN sound THEN json_extract(payload, '$.outcome') END,
       CASE WHEN sound THEN json_type(payload, '$.target') END,
       CASE WHEN sound THEN json_extract(payload, '$.note') END,
       CASE WHEN sound THEN json_extract(payload, '$.marked') END,
       CASE WHEN NOT sound THEN payload END
FROM (SELECT *, CASE WHEN typeof(payload) = 'text' AND json_valid(payload)
                     THEN json_type(payload) = 'object' ELSE 0 END AS sound
      FROM event WHERE night = CAST(? AS TEXT) AND {WHAT_COUNTS})
ORDER BY number
"""  # noqa: S608 - our own names
_ONE = f"SELECT {COLUMNS} FROM event WHERE number = ?"  # noqa: S608


class LifetimeReader:
    """Keeps in step with a journal: what was read once is read again only where it changed."""

    def __init__(self) -> None:
        self._journal: Journal | None = None
        self._last = 0
        self._waiting: set[bytes] = set()
        self._held: dict[str, tuple[Held, ...]] = {}
        self._nights: dict[str, Night] = {}
        self._keys: dict[str, str] = {}  # the same text is kept once

    def read_on(self, journal: Journal, outcomes: int) -> bool:
        """Read further nights, the latest first, until there are so many outcomes in them.

        Returns
        -------
        bool
            Whether everything is read.

        Raises
        ------
        JournalError
            If the file cannot be read.
        """
        with advised(journal.path, NOTHING_CHANGED):
            self._look_for_new(journal)
            for night in sorted(self._waiting, reverse=True):
                if outcomes <= 0:
                    break
                outcomes -= 1 + self._read_night(journal, night)
                self._waiting.discard(night)
        return not self._waiting

    def so_far(self) -> Lifetime:
        """Give what has been read."""
        latest = sorted(self._nights, reverse=True)
        seen: dict[str, SeenTarget] = {}
        for night in latest:
            remarks = _remarks(self._held[night])
            for held in reversed(self._held[night]):
                if held.outcome is Outcome.FOUND:
                    one = seen.get(held.key)
                    seen[held.key] = (
                        SeenTarget(held, 1, remarks.get(held.key, ()))
                        if one is None
                        else SeenTarget(one.last, one.count + 1, one.remarks)
                    )
        nights = tuple(self._nights[night] for night in latest)
        return Lifetime(nights, dict(self._held), tuple(seen.values()), not self._waiting)

    def _look_for_new(self, journal: Journal) -> None:
        if journal is not self._journal:  # opened afresh: it may be another file
            self._journal, self._last = journal, 0
            self._waiting.clear()
            self._held.clear()
            self._nights.clear()
        (last,) = journal.connection.execute(_LAST).fetchone()
        if last != self._last:
            found = journal.connection.execute(_NIGHTS, (self._last,))
            self._waiting |= {night for (night,) in found if isinstance(night, bytes)}
            self._last = last

    def _read_night(self, journal: Journal, night: bytes) -> int:
        rows = journal.connection.execute(_LIGHT, (night,))
        pairs = sorted(holding(list(_events(rows))), key=lambda pair: (pair[0].utc, pair[0].number))
        name = night.decode(errors="replace")
        self._held[name] = held = tuple(self._kept(*pair) for pair in pairs)
        self._nights[name] = _counted(name, held)
        return len(held)

    def _kept(self, event: Event, noted: Event | None) -> Held:
        key, values = self._keys.setdefault(event.subject, event.subject), event.payload
        if event.kind == Did.REMARKED:
            return Held(event.number, key, None, None, bool(key))  # its text stands below a name
        note = (values if noted is None else noted.payload).get("note")
        number = None if noted is None else noted.number
        return Held(event.number, key, Outcome(str(values["outcome"])), number, bool(note))


def lifetime(journal: Journal) -> Lifetime:
    """Give what holds in all nights, read at one go.

    Raises
    ------
    JournalError
        If the file cannot be read.
    """
    reader = LifetimeReader()
    while not reader.read_on(journal, 1_000_000):
        pass
    return reader.so_far()


def seen_keys(journal: Journal) -> frozenset[str]:
    """Give the keys of all targets that were ever found.

    Raises
    ------
    JournalError
        If the file cannot be read.
    """
    return lifetime(journal).found_keys


def entries_of(journal: Journal, held: Sequence[Held]) -> dict[Held, Entry | None]:
    """Give all about a few entries; None for those that cannot be read any more.

    Raises
    ------
    JournalError
        If the file cannot be read.
    """
    with advised(journal.path, NOTHING_CHANGED):
        return {one: _entry(journal, one) for one in held}


def _entry(journal: Journal, held: Held) -> Entry | None:
    event = _event(journal, held.number)
    noted = None if held.noted is None else _event(journal, held.noted)
    pairs = () if event is None else holding([event])
    return next((entry_of(one, noted) for one, _none in pairs), None)


def _remarks(night: Sequence[Held]) -> dict[str, tuple[Held, ...]]:
    """Give what was noted about each target."""
    about: dict[str, tuple[Held, ...]] = {}
    for one in night:
        if one.outcome is None:
            about[one.key] = *about.get(one.key, ()), one
    return about


def _event(journal: Journal, number: int) -> Event | None:
    row = journal.connection.execute(_ONE, (number,)).fetchone()
    return None if row is None else read_event(row)[0]


def _counted(night: str, held: Sequence[Held]) -> Night:
    outcomes = [one.outcome for one in held]
    wanted = Outcome.FOUND, Outcome.NOT_SEEN, Outcome.SKIPPED, None
    return Night(night, *map(outcomes.count, wanted))


def _events(rows: Iterator[tuple[object, ...]]) -> Iterator[Event]:
    """Make events that hold only what decides, as ``read_event`` would make them."""
    for number, utc, night, kind, subject, cancels, sound, *values, text in rows:
        if not sound:
            event = read_event((number, utc, night, kind, subject, text, cancels))[0]
        else:
            event = _light((number, utc, night, kind, subject, "", cancels), values)
        if event is not None:
            yield event


def _light(row: EventRow, values: Sequence[object]) -> Event | None:
    outcome, target, note, marked = values
    payload = {"outcome": outcome, "note": note, "marked": marked}
    if target == "object":
        payload["target"] = {}
    try:
        return event_of(row, payload)
    except JournalError:
        return None
