"""Text with separators: which one it is."""

from companion.untrusted import Limits, check_size, text_of

LIST_LIMITS = Limits(
    "a list",
    50_000_000,
    do="Choose a list with one target a line; the largest catalogues fit.",
)
_DELIMITERS = "\t;,"
_LOOKED_AT = 20  # lines


def decode(data: bytes | str, limits: Limits) -> str:
    """Turn the bytes of a text file into text, whatever wrote it.

    Raises
    ------
    AdviceError
        If it is too large.
    """
    check_size(data, limits)
    return text_of(data)


def sniffed_delimiter(text: str) -> str:
    """Find the separator that most of the first lines share; a comma if none does."""
    lines = [line for line in text.splitlines()[: _LOOKED_AT * 2] if line.strip()][:_LOOKED_AT]
    counts = {mark: sum(mark in line for line in lines) for mark in _DELIMITERS}
    best = max(_DELIMITERS, key=lambda mark: counts[mark])
    return best if counts[best] else ","
