"""What all fakes of the model share: a call that the real one would refuse fails here, too."""

import inspect
from collections.abc import Callable
from typing import Any, ClassVar

from PySide6.QtCore import QObject

Told = list[tuple[Any, ...]]


class StandIn(QObject):
    """Takes the place of ``real``; a call that it has no method for is only written down.

    ``said`` gives other words for what is written down, ``own`` names what only tests use.
    """

    real: ClassVar[type]
    said: ClassVar[dict[str, str]] = {}
    own: ClassVar[frozenset[str]] = frozenset()

    def __init__(self, told: Told | None = None) -> None:
        super().__init__()
        self.told: Told = [] if told is None else told

    def __getattr__(self, name: str) -> Callable[..., None]:
        method = inspect.getattr_static(self.real, name, None)
        if name.startswith("_") or not inspect.isfunction(method):
            raise AttributeError(name)
        signature = inspect.signature(method)

        def tell(*args: Any, **named: Any) -> None:
            signature.bind(self, *args, **named)
            self.told.append((self.said.get(name, name), *args, *named.values()))

        return tell
