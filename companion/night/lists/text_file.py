"""Text that comes from anywhere: which encoding, which separator."""

import codecs

from companion.sky import AdviceError

LARGEST_BYTES = 50_000_000
_DELIMITERS = "\t;,"
_LOOKED_AT = 20  # lines


def decode(data: bytes | str) -> str:
    """Turn the bytes of a text file into text, whatever wrote it.

    UTF-8 and UTF-16 are recognised; everything else is taken as Latin-1, with the quotes and
    dashes that Windows puts into it. Zero bytes are dropped.

    Raises
    ------
    AdviceError
        If it is too large to be a list.
    """
    if len(data) > LARGEST_BYTES:
        raise AdviceError(
            f"This file holds more than {LARGEST_BYTES // 1_000_000} MB.",
            "Choose a list with one target a line; the largest catalogues fit.",
            "Nothing was read.",
        )
    text = data if isinstance(data, str) else _text_of(data)
    return text.replace("\0", "")


def _text_of(data: bytes) -> str:
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return data.decode("utf-16", errors="replace")
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    return data.decode("latin-1")


def sniffed_delimiter(text: str) -> str:
    """Find the separator that most of the first lines share; a comma if none does."""
    lines = [line for line in text.splitlines()[: _LOOKED_AT * 2] if line.strip()][:_LOOKED_AT]
    counts = {mark: sum(mark in line for line in lines) for mark in _DELIMITERS}
    best = max(_DELIMITERS, key=lambda mark: counts[mark])
    return best if counts[best] else ","
