"""The write-ahead log beside the journal, as SQLite defines it.

https://www.sqlite.org/fileformat2.html, section 4. SQLite takes the first frame that does not
check for the end of the log, so that one damaged byte silently takes all that was written after
it. What stands behind such a frame and belongs to the same log tells that this has happened.
"""

import struct
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

_MAGIC = 0x377F0682  # its last bit tells whether checksums are of big-endian words
_HEADER_BYTES = 32
_FRAME_BYTES = 24


@dataclass(frozen=True, slots=True)
class Frame:
    """One page as the log holds it.

    ``ours`` tells that it carries the marks of this log, ``checked`` that it and all before it are
    whole, ``commits`` that a transaction ends with it.
    """

    page: int
    data: bytes
    ours: bool
    checked: bool
    commits: bool


def log_of(path: Path) -> Path:
    """Give the path of the log of a database."""
    return path.with_name(path.name + "-wal")


def log_is_damaged(path: Path) -> bool:
    """Tell whether the log of a database holds more than SQLite would read out of it.

    Raises
    ------
    OSError
        If it cannot be read.
    """
    data = log_bytes(path)
    if len(data) < _HEADER_BYTES + _FRAME_BYTES:
        return False  # empty, or killed before the first commit
    if _header(data) is None:
        return True
    frames = list(frames_of(data))
    return any(frame.ours and frame.commits and not frame.checked for frame in frames)


def log_bytes(path: Path) -> bytes:
    """Read the log of a database; empty if there is none."""
    try:
        return log_of(path).read_bytes()
    except FileNotFoundError:
        return b""


def frames_of(data: bytes) -> Iterator[Frame]:
    """Give the frames of a log in their order, also those that SQLite would not believe."""
    header = _header(data)
    size, salts, sums, order = header or (4096, b"", (0, 0), "<")
    whole = header is not None
    for at in range(_HEADER_BYTES, len(data) - _FRAME_BYTES - size + 1, _FRAME_BYTES + size):
        head, page = data[at : at + _FRAME_BYTES], data[at + _FRAME_BYTES :][:size]
        number, after, stored = *struct.unpack(">II", head[:8]), struct.unpack(">II", head[16:24])
        if whole:
            sums = _checksum(head[:8] + page, sums, order)
            whole = head[8:16] == salts and sums == stored
        yield Frame(number, page, not salts or head[8:16] == salts, whole, after > 0)


def _header(data: bytes) -> tuple[int, bytes, tuple[int, int], str] | None:
    """Read page size, salts, checksum and byte order; None if the header is not whole."""
    if len(data) < _HEADER_BYTES:
        return None
    magic, _version, size = struct.unpack(">III", data[:12])
    order = ">" if magic & 1 else "<"
    sums = _checksum(data[:24], (0, 0), order)
    if magic & ~1 != _MAGIC or size not in _SIZES or sums != struct.unpack(">II", data[24:32]):
        return None
    return size, data[16:24], sums, order


_SIZES = {1 << power for power in range(9, 17)}


def _checksum(data: bytes, before: tuple[int, int], order: str) -> tuple[int, int]:
    """Add words up as section 4.2 says."""
    first, second = before
    words = struct.unpack(f"{order}{len(data) // 4}I", data)
    for one, other in zip(words[::2], words[1::2], strict=True):
        first = (first + one + second) & 0xFFFFFFFF
        second = (second + other + first) & 0xFFFFFFFF
    return first, second
