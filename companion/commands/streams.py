"""Standard output and error as they are found: any encoding, full, closed, unread."""

import codecs
import errno
import io
import os
import sys
import unicodedata
from typing import Final

_ERRORS: Final = "companion-plain"
# What every terminal can show, for what not every encoding has.
_PLAIN: Final = {
    "°": " deg", "′": "'", "″": '"', "×": "x", "½": ".5", "¼": ".25", "¾": ".75", "−": "-",
    "–": "-", "—": "-", "…": "...", "“": '"', "”": '"', "‘": "'", "’": "'", "·": ".", "²": "2",
    "³": "3", "⁻": "-", "λ": "lambda", "σ": "sigma", "Δ": "Delta", "→": "->", "←": "<-",
    "↑": "up", "↓": "down", "▸": ">", "≥": ">=", "≤": "<=", "ß": "ss", "ø": "o", "Ø": "O",
    "æ": "ae", "Æ": "AE", "œ": "oe", "đ": "d", "ł": "l", "Ł": "L", "ı": "i",
}  # fmt: skip


class OutputGone(Exception):  # noqa: N818 - it is an end, not always an error
    """Nothing more can be written to standard output.

    ``quietly`` is true where the reader has simply gone, as in ``companion aim … | head``.
    """

    def __init__(self, error: OSError | ValueError) -> None:
        code = error.errno if isinstance(error, OSError) else None
        self.quietly = isinstance(error, BrokenPipeError) or code == errno.EPIPE
        self.why = getattr(error, "strerror", None) or "it is closed"
        super().__init__(self.why)


def plain_form(char: str) -> str:
    """Give letters of ASCII for a character, or a question mark.

    Greek letters are written out (Unicode names them), accents are left away.
    """
    if char in _PLAIN:
        return _PLAIN[char]
    name = unicodedata.name(char, "")
    if name.startswith("GREEK"):
        return name.split(" WITH ")[0].rsplit(" ", 1)[-1].lower()
    bare = unicodedata.normalize("NFKD", char).encode("ascii", "ignore").decode()
    return bare or "?"


def _plain_errors(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return "".join(map(plain_form, error.object[error.start : error.end])), error.end


def prepare_streams() -> None:
    """See that no character stops an answer, and that a closed stream can be written to."""
    codecs.register_error(_ERRORS, _plain_errors)
    if sys.stdout is None:
        sys.stdout = _Closed()
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115 - to the end
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors=_ERRORS)


class _Closed(io.StringIO):
    """Standard output that the caller closed: whoever writes hears of it."""

    def write(self, _text: str) -> int:
        raise OutputGone(ValueError())


def flush_output() -> None:
    """Write what is still held back.

    Raises
    ------
    OutputGone
        If that fails: a full disk is found out only now.
    """
    try:
        sys.stdout.flush()
    except (OSError, ValueError) as error:
        raise OutputGone(error) from error


def leave_output(gone: OutputGone) -> int:
    """End where nothing more can be written; give the exit code."""
    if not gone.quietly:
        sys.stderr.write(
            f"companion: The answer could not be written to standard output ({gone.why}). What "
            "was to be kept is kept; send the output somewhere else.\n"
        )
    try:  # what is left in the buffer must not be tried again when Python ends
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except (OSError, ValueError):
        sys.stdout = io.StringIO()
    return 1
