"""Which event a change becomes, given the evening as it is on disk at that moment."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from companion.journal.changes import WHATEVER_STANDS, Change, What, mark_of
from companion.journal.events import Did, clean_text
from companion.journal.outcome import Outcome
from companion.journal.plain import Plain, to_plain
from companion.journal.state import EveningState, QueueEntry


@dataclass(frozen=True, slots=True)
class Draft:
    """An event that is about to be written.

    ``horizon`` belongs to it, and is kept once for all events.
    """

    kind: Did
    subject: str = ""
    payload: Plain | None = None
    cancels: int | None = None
    horizon: object = None


class StandsOtherwise(Exception):  # noqa: N818 - a finding, not an error
    """Somebody else has written another outcome than the person saw there."""

    def __init__(self, entry: QueueEntry) -> None:
        super().__init__(entry.key)
        self.entry = entry


def draft_of(change: Change, state: EveningState) -> Draft | None:
    """Give the event of a change; None if there is nothing to do.

    Raises
    ------
    JournalError
        If a text of it is too long to be kept.
    StandsOtherwise
        If a mark would silently replace what somebody else wrote.
    """
    return _DRAFTS[change.what](change, state)


def _queued(change: Change, _state: EveningState) -> Draft | None:
    targets = [_checked(target) for target in _list(change, "targets")]
    if not targets:
        return None
    subject = str(targets[0]["key"]) if len(targets) == 1 else ""
    place = change.values.get("place")
    return Draft(Did.QUEUED, subject, {"targets": targets, "place": place})


def _carried(change: Change, state: EveningState) -> Draft | None:
    targets = [_checked(target) for target in _list(change, "targets")]
    if state.carried or not targets:
        return None
    return Draft(Did.CARRIED, "", {"targets": targets, "night": change.values.get("night")})


def _removed(change: Change, state: EveningState) -> Draft | None:
    key = str(change.values["key"])
    return Draft(Did.REMOVED, key) if state.entry(key) else None


def _ordered(change: Change, state: EveningState) -> Draft | None:
    known = [key for key in _list(change, "keys") if state.entry(str(key))]
    same = known == [entry.key for entry in state.queue][: len(known)]
    return None if same else Draft(Did.ORDERED, "", {"keys": known})


def _marked(change: Change, state: EveningState) -> Draft | None:
    mark = mark_of(change)
    target = _checked(mark.target)
    entry = state.entry(str(target["key"]))
    standing = None if entry is None else entry.marked
    if mark.outcome == Outcome.WAITING:
        return None if standing is None else Draft(Did.TAKEN_BACK, _key(target), None, standing)
    known = change.values.get("known")
    if entry is not None and standing is not None and known not in {WHATEVER_STANDS, standing}:
        if mark.outcome == entry.outcome and not mark.note:
            return None
        raise StandsOtherwise(entry)
    if entry is not None and standing is not None:
        if mark.outcome == entry.outcome and not mark.note:
            return None  # it stands so already
        mark = replace(mark, note=_both(entry.mark_note, mark.note))
    payload = to_plain(mark) | {
        "target": target,
        "note": clean_text("note", mark.note),
        "instrument": clean_text("name of the instrument", mark.instrument),
        "eyepiece": clean_text("name of the eyepiece", mark.eyepiece),
    }
    site = dict(mark.site or {})
    horizon = site.pop("horizon", None)  # takes most of the room
    if mark.site is not None:
        payload["site"] = site
    return Draft(Did.MARKED, _key(target), payload, standing, horizon or None)


def _both(old: str, new: str) -> str:
    """Keep what was noted before beside what is noted now."""
    lines = [old, new] if new not in old else [old]
    return "\n".join(line for line in lines if line)


def _noted(change: Change, state: EveningState) -> Draft | None:
    text = clean_text("note", str(change.values["text"]))
    if not text.strip():
        return None
    target, site = change.values.get("target"), change.values.get("site")
    key = str(change.values.get("key") or "")
    entry = state.entry(key)
    if target is None and entry is not None:
        target = entry.target
    payload = {
        "text": text,
        "target": None if target is None else _checked(target),
        "site": _without_horizon(site) if isinstance(site, Mapping) else None,
    }
    return Draft(Did.REMARKED, key, payload)


def _without_horizon(site: Plain) -> Plain:
    return {name: value for name, value in site.items() if name != "horizon"}


def _learned(change: Change, _state: EveningState) -> Draft | None:
    values = change.values
    payload: dict[str, object] = {
        "aim": clean_text("step", str(values["aim"])),
        "subject": clean_text("step", str(values["subject"])),
        "found": bool(values["found"]),
        "practice": bool(values["practice"]),
    }
    return Draft(Did.LEARNED, "", payload)


def _sighted(change: Change, _state: EveningState) -> Draft | None:
    mount = clean_text("name of the mount", str(change.values["mount"]))
    return Draft(Did.SIGHTED, "", {"mount": mount, "sighting": change.values["sighting"]})


def _turned(change: Change, state: EveningState) -> Draft | None:
    aside, wanted = change.what == What.SET_ASIDE, set(_list(change, "numbers"))
    turned = [
        entry.number
        for entry in state.sightings
        if entry.number in wanted and entry.set_aside != aside
    ]
    kind = Did.SET_ASIDE if aside else Did.BROUGHT_BACK
    return Draft(kind, "", {"numbers": turned}) if turned else None


def _kept(change: Change, state: EveningState) -> Draft | None:
    wanted = set(_list(change, "numbers"))
    fresh = [one.number for one in state.sightings if one.number in wanted and not one.kept]
    return Draft(Did.KEPT, "", {"numbers": fresh}) if fresh else None


def _went(change: Change, _state: EveningState) -> Draft | None:
    site, before = (_place(change.values.get(name)) for name in ("site", "before"))
    if site == before:
        return None
    same = site.get("horizon") == before.get("horizon")
    if same:  # it takes most of the room
        site.pop("horizon", None)
        before.pop("horizon", None)
    return Draft(Did.WENT, "", {"site": site, "before": before, "same_horizon": same})


def _place(value: object) -> dict[str, object]:
    return dict(value) if isinstance(value, Mapping) else {}


def _undone(_change: Change, state: EveningState) -> Draft | None:
    event = state.undo
    return None if event is None else Draft(Did.UNDONE, event.subject, None, event.number)


def _redone(_change: Change, state: EveningState) -> Draft | None:
    event = state.redo
    return None if event is None else Draft(Did.REDONE, event.subject, None, event.number)


_DRAFTS: Mapping[What, Callable[[Change, EveningState], Draft | None]] = {
    What.QUEUE: _queued,
    What.CARRY: _carried,
    What.REMOVE: _removed,
    What.ORDER: _ordered,
    What.MARK: _marked,
    What.NOTE: _noted,
    What.SIGHT: _sighted,
    What.LEARN: _learned,
    What.SET_ASIDE: _turned,
    What.BRING_BACK: _turned,
    What.KEEP: _kept,
    What.GO: _went,
    What.UNDO: _undone,
    What.REDO: _redone,
}


def _list(change: Change, name: str) -> Sequence[object]:
    value = change.values.get(name)
    return value if isinstance(value, list) else []


def _key(target: Plain) -> str:
    return str(target["key"])


def _checked(target: object) -> dict[str, object]:
    """Give a plain target whose key and name are text of a sensible length.

    Raises
    ------
    TypeError
        If it has none, which is a bug of the caller.
    """
    values = target if isinstance(target, Mapping) else {}
    key, name = values.get("key"), values.get("name")
    if not isinstance(key, str) or not key or not isinstance(name, str):
        raise TypeError(f"a target without key or name: {target!r:.200}")
    clean = {"key": clean_text("key of the target", key)}
    return dict(values) | clean | {"name": clean_text("name of the target", name)}
