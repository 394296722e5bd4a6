"""How long work says how far it is, and how it is stopped."""

from collections.abc import Callable

# Takes the part that is done, 0 to 1; gives False to stop the work.
Progress = Callable[[float], bool]


class Cancelled(Exception):  # noqa: N818 - it is no error: somebody asked for it
    """The person stopped a long computation; nothing was changed."""


def go_on(progress: Progress | None, done: float) -> None:
    """Say how far the work is.

    Raises
    ------
    Cancelled
        If it is no longer wanted.
    """
    if progress is not None and not progress(done):
        raise Cancelled
