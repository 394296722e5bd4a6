"""What is remembered between evenings, checked on the way in and again on the way out."""

import dataclasses
import json
import re
import reprlib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from companion.journal.errors import JournalError
from companion.journal.events import clean_text
from companion.journal.plain import Plain
from companion.journal.reading import Mended

MOST_RECORDS = 200  # sites, mounts or instruments; one person has a handful
LONGEST_SETTING = 2_000_000  # characters as stored; a surveyed horizon takes about 20,000
LONGEST_NAME = 200

_CLOCK = re.compile(r"([01]\d|2[0-3]):[0-5]\d")

_Check = Callable[[str, object], object]


# How the window was left: it keeps that by itself, and nobody misses it.
WINDOW_SETTINGS = frozenset({"brightness_step", "window_size", "screen", "target"})


@dataclass(frozen=True, slots=True)
class Settings:
    """What the person keeps; sites, mounts and instruments are plain records with a ``name``.

    ``sites`` has the last used first. ``compass_deviations_deg`` tells by the site's name what
    the compass adds there. ``hours`` are the person's own, two clock times like ``20:30``, or
    nothing. ``fist_deg`` is what the person's fist covers at arm's length. ``brightness_step``,
    ``window_size`` in pixels, ``screen`` and ``target``, a key, are how the window was left.
    ``host`` is how a host's evening was left, named by its night.
    ``unusable`` names what was on disk but could not be used; it has its default here.
    ``mended`` names what held bytes that are no text; they were replaced.
    """

    site: Plain | None = None
    sites: tuple[Plain, ...] = ()
    mount: str = ""
    mounts: tuple[Plain, ...] = ()
    instrument: str = ""
    instruments: tuple[Plain, ...] = ()
    clock_correction_s: float = 0.0
    compass_deviations_deg: Mapping[str, float] = field(
        default_factory=lambda: MappingProxyType({})
    )
    low_limit_deg: float = 10.0
    fist_deg: float = 10.0
    hours: tuple[str, ...] = ()
    rate_hz: float = 2.0
    brightness_step: float = 0.0
    window_size: tuple[float, ...] = ()
    screen: str = ""
    target: str = ""
    host: Plain | None = None
    unusable: tuple[str, ...] = ()
    mended: tuple[str, ...] = ()

    def compass_deviation_deg(self, site_name: str) -> float | None:
        """Give what the compass adds at a site, None where nobody measured it."""
        return self.compass_deviations_deg.get(site_name)

    def record(self, records: str, name: str) -> Plain | None:
        """Give the record of a name out of ``"sites"``, ``"mounts"`` or ``"instruments"``."""
        kept: tuple[Plain, ...] = getattr(self, records)
        return next((record for record in kept if record["name"] == name), None)


def checked_setting(name: str, value: object) -> object:
    """Give a value as it is stored.

    Parameters
    ----------
    name : str
        A field of ``Settings``, other than ``unusable`` and ``mended``.
    value : object
        A plain value for it.

    Raises
    ------
    JournalError
        If there is no such setting, or the value is of the wrong kind, out of range or too long.
    """
    check = _CHECKS.get(name)
    if check is None:
        raise JournalError(
            f"There is no setting {name[:60]!r}.", f"Choose one of: {', '.join(sorted(_CHECKS))}."
        )
    checked = check(name.replace("_", " "), value)
    _check_length(name, checked)
    return checked


def settings_of(rows: Iterable[tuple[str, object]]) -> Settings:
    """Add up the stored rows of name and text; what cannot be used is named in the answer."""
    values: dict[str, object] = {}
    unusable: list[str] = []
    mended: list[str] = []
    for name, text in rows:
        if name not in _CHECKS:
            continue  # of a newer version that did not change the format
        try:
            values[name] = _frozen(checked_setting(name, _decoded(name, text)))
        except JournalError:
            unusable.append(name)
        else:
            mended += [name] if isinstance(text, Mended) else []
    told = Settings(unusable=tuple(unusable), mended=tuple(mended))
    return dataclasses.replace(told, **values)  # type: ignore[arg-type]  # checked by name


def _decoded(name: str, text: object) -> object:
    """Give the value out of ``{"value": ...}`` as ``Journal.set`` wrote it."""
    try:
        return json.loads(text)["value"]  # type: ignore[arg-type]  # whatever it is, it is caught
    except (ValueError, TypeError, KeyError, RecursionError) as error:
        raise _misfit(name, text, "readable") from error


def _frozen(value: object) -> object:
    if isinstance(value, list):
        return tuple(value)
    return MappingProxyType(value) if isinstance(value, dict) else value


def _check_length(name: str, value: object) -> None:
    """Refuse what JSON cannot hold and what would fill the disk."""
    try:
        length = len(json.dumps(value, ensure_ascii=False, allow_nan=False))
    except (ValueError, TypeError, RecursionError) as error:
        raise _misfit(name, value, "made of text, finite numbers, lists and objects") from error
    if length > LONGEST_SETTING:
        raise JournalError(
            f"The setting {name} has {length:,} characters; at most {LONGEST_SETTING:,} are kept.",
            "Shorten it, a long horizon first.",
            "The earlier value stays.",
        )


def _number(low: float, high: float) -> Callable[[str, object], float]:
    def check(what: str, value: object) -> float:
        if isinstance(value, int | float) and not isinstance(value, bool) and low <= value <= high:
            return float(value)
        raise _misfit(what, value, f"a number from {low:g} to {high:g}")

    return check


def _name(what: str, value: object) -> str:
    if not isinstance(value, str) or len(value) > LONGEST_NAME:
        raise _misfit(what, value, f"text of at most {LONGEST_NAME} characters")
    return clean_text(what, value)


def _record(what: str, value: object) -> dict[str, object]:
    """Check a plain record: an object with a name; its fields are their owner's business."""
    if not isinstance(value, Mapping) or not all(isinstance(key, str) for key in value):
        raise _misfit(what, value, "a record with a name")
    name = _name(f"name of the {what}", value.get("name"))
    if not name.strip():
        raise _misfit(f"name of the {what}", name, "some text")
    return dict(value) | {"name": name}


def _record_or_none(what: str, value: object) -> dict[str, object] | None:
    return None if value is None else _record(what, value)


def _records(what: str, value: object) -> list[dict[str, object]]:
    """Check a list of records; of two with the same name the first one stays."""
    if not isinstance(value, list | tuple) or len(value) > MOST_RECORDS:
        raise _misfit(what, value, f"a list of at most {MOST_RECORDS} records")
    named: dict[object, dict[str, object]] = {}
    for item in value:
        record = _record(what.removesuffix("s"), item)
        named.setdefault(record["name"], record)
    return list(named.values())


def _hours(what: str, value: object) -> list[str]:
    """Check two clock times, or none."""
    if isinstance(value, list | tuple) and len(value) in {0, 2}:
        texts = [text for text in value if isinstance(text, str) and _CLOCK.fullmatch(text)]
        if len(texts) == len(value) and len(set(texts)) == len(texts):
            return texts
    raise _misfit(what, value, "two different clock times such as 20:30, or nothing")


def _size(what: str, value: object) -> list[float]:
    """Check width and height, or nothing."""
    if isinstance(value, list | tuple) and len(value) in {0, 2}:
        return [_number(1.0, 100_000.0)(what, one) for one in value]
    raise _misfit(what, value, "width and height, or nothing")


def _deviations(what: str, value: object) -> dict[str, float]:
    if not isinstance(value, Mapping) or len(value) > MOST_RECORDS:
        raise _misfit(what, value, f"at most {MOST_RECORDS} numbers by name of site")
    check = _number(-180.0, 180.0)
    return {
        _name("name of the site", name): check("compass deviation", degrees)
        for name, degrees in value.items()
    }


def _misfit(what: str, value: object, wanted: str) -> JournalError:
    return JournalError(
        f"The {what} is {reprlib.repr(value)}.", f"It must be {wanted}.", "The earlier value stays."
    )


_CHECKS: Mapping[str, _Check] = {
    "site": _record_or_none,
    "sites": _records,
    "mount": _name,
    "mounts": _records,
    "instrument": _name,
    "instruments": _records,
    "clock_correction_s": _number(-366 * 86400.0, 366 * 86400.0),
    "compass_deviations_deg": _deviations,
    "low_limit_deg": _number(0.0, 60.0),
    "fist_deg": _number(5.0, 16.0),
    "hours": _hours,
    "rate_hz": _number(0.1, 20.0),
    "brightness_step": _number(0.0, 100.0),
    "window_size": _size,
    "screen": _name,
    "target": _name,
    "host": _record_or_none,
}
SETTING_NAMES = frozenset(_CHECKS)
