"""What moves by elements that a person brought: known in the whole process once it is told where.

The program names the source when it starts. Ephemerides, the catalogue and the search ask it for
what they do not know themselves, so that a comet is a target like any other.
"""

from typing import TYPE_CHECKING, Protocol

from companion.sky.target import Target

if TYPE_CHECKING:  # it brings numpy, which the first frame does not wait for
    from companion.sky.movers import Mover


class Source(Protocol):
    """Whoever keeps elements; may be asked by several threads."""

    def mover(self, key: str) -> "Mover | None":
        """Give what moves under a key, None where it is not kept."""
        ...

    def called(self, text: str) -> tuple[Target, ...]:
        """Give what is called exactly so."""
        ...

    def beginning(self, text: str, limit: int) -> tuple[Target, ...]:
        """Give what is called so, or begins so."""
        ...


class _Nothing:
    def mover(self, key: str) -> "Mover | None":  # noqa: ARG002
        return None

    def called(self, text: str) -> tuple[Target, ...]:  # noqa: ARG002
        return ()

    def beginning(self, text: str, limit: int) -> tuple[Target, ...]:  # noqa: ARG002
        return ()


class Carried:
    """The source of this process; nothing is carried until one is named."""

    def __init__(self) -> None:
        self._source: Source = _Nothing()

    def use(self, source: Source) -> None:
        """Take what is kept there."""
        self._source = source

    def mover(self, key: str) -> "Mover | None":
        """Give what moves under a key."""
        return self._source.mover(key)

    def target(self, key: str) -> Target | None:
        """Give the target of a key."""
        found = self._source.mover(key)
        return None if found is None else found.target

    def called(self, text: str) -> tuple[Target, ...]:
        """Give what is called exactly so, whole or for short."""
        return self._source.called(text)

    def beginning(self, text: str, limit: int) -> tuple[Target, ...]:
        """Give what is called so or begins so, at most so many."""
        return self._source.beginning(text, limit)


CARRIED = Carried()
