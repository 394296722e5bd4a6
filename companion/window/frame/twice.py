"""Actions that need two presses, since a stray key in the dark must not do them."""

from time import monotonic


class Twice:
    """Remembers a first press, and of what, for some seconds."""

    def __init__(self, within_s: float) -> None:
        self.within_s = within_s
        self._first: tuple[str, float] | None = None

    def asked(self, what: str) -> bool:
        """Say whether one press of this has been made and still counts."""
        first = self._first
        return first is not None and first[0] == what and monotonic() - first[1] <= self.within_s

    def press(self, what: str) -> bool:
        """Press; True if this was the second press."""
        second = self.asked(what)
        self._first = None if second else (what, monotonic())
        return second
