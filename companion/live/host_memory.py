"""How a host's evening was left, as a plain record: for when the program ends in the middle."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from companion.finding import InstrumentKind
from companion.live.host_questions import HostWishes

_MOST = 60  # targets: what clouds brought in among them


@dataclass(frozen=True, slots=True)
class HostMemory:
    """The night that it belongs to, keys in their order, which is shown and since when."""

    night: str
    keys: tuple[str, ...]
    at: int | None
    began_utc: datetime | None
    wishes: HostWishes

    def record(self) -> dict[str, object]:
        """Give the plain record."""
        wishes = self.wishes
        return {
            "name": self.night,
            "keys": list(self.keys),
            "at": self.at,
            "began_utc": None if self.began_utc is None else self.began_utc.isoformat(),
            "targets": wishes.targets,
            "minutes": wishes.minutes,
            "through": str(wishes.through),
            "axis_m": wishes.axis_m,
        }

    @classmethod
    def of(cls, record: Mapping[str, object] | None) -> "HostMemory | None":
        """Read a record, None where it is none: nothing of it is worth a warning."""
        if record is None:
            return None
        try:
            return cls._read(record)
        except (KeyError, TypeError, ValueError):
            return None

    @classmethod
    def _read(cls, record: Mapping[str, object]) -> "HostMemory":
        keys, at, began, axis = (record[name] for name in ("keys", "at", "began_utc", "axis_m"))
        if not isinstance(keys, list | tuple) or not 0 < len(keys) <= _MOST:
            raise ValueError("no keys")
        wishes = HostWishes(
            int(_number(record["targets"], 1, 20)),
            _number(record["minutes"], 1, 120),
            InstrumentKind(str(record["through"])),
            None if axis is None else _number(axis, 0.1, 5.0),
        )
        began_utc = None if began is None else datetime.fromisoformat(str(began))
        if began_utc is not None and began_utc.tzinfo is None:
            raise ValueError("no offset")
        shown = None if at is None or began is None else int(_number(at, 0, len(keys) - 1))
        return cls(str(record["name"]), tuple(map(str, keys)), shown, began_utc, wishes)


def _number(value: object, low: float, high: float) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
        raise ValueError("out of range")
    return float(value)
