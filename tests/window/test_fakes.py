"""The fakes of the model are what the model is: the same names, called in the same way."""

import inspect
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QObject, Signal

from companion.journal import Outcome, Settings
from companion.live import Evening, Queue
from companion.sky import LOON_BARRENS
from window.fakes import FakeEvening
from window.standing_in import StandIn

PARTS = (
    "",
    "queue",
    "offers",
    "guide_round",
    "clock",
    "sites",
    "mounts",
    "instruments",
    "night",
    "nights",
    "charts",
    "pages",
    "coming",
    "road",
    "host",
    "upkeep",
)


@pytest.fixture
def real(tmp_path: Path, qapp: object) -> Iterator[Evening]:
    evening = Evening(tmp_path, Settings(), site=LOON_BARRENS)
    yield evening
    evening.close()


def _public(one: object) -> set[str]:
    """Give the names that a class of ours or its object adds to Qt's."""
    ours = [
        kind for kind in type(one).__mro__ if kind.__module__.startswith(("window", "companion"))
    ]
    names = {name for kind in ours for name in vars(kind)} | set(vars(one))
    return {name for name in names if not name.startswith("_")} - set(dir(QObject))


def _shape(method: object) -> list[tuple[str, object, object]]:
    """Give names, kinds and defaults of what a method takes."""
    assert callable(method)
    taken = inspect.signature(method).parameters.values()
    return [(one.name, one.kind, one.default) for one in taken]


def differences(fake: StandIn, real: object) -> Iterator[str]:
    """Name everything in which a fake is not like what it stands for."""
    if type(real) is not fake.real:
        yield f"{type(fake).__name__} stands for {fake.real.__name__}, not {type(real).__name__}"
    for name in sorted(_public(fake) - fake.own - {"told", "real", "said", "own"}):
        if name not in _public(real):
            yield f"{fake.real.__name__} has no {name}"
            continue
        theirs = inspect.getattr_static(type(real), name, None)
        ours = inspect.getattr_static(type(fake), name, None)
        if inspect.isfunction(theirs) != inspect.isfunction(ours):
            yield f"{fake.real.__name__}.{name} is called in one of them only"
        elif inspect.isfunction(theirs) and _shape(theirs) != _shape(ours):
            yield f"{fake.real.__name__}.{name} takes {inspect.signature(theirs)}"
        elif isinstance(theirs, Signal) and str(theirs) != str(ours):
            yield f"{fake.real.__name__}.{name} is the signal {theirs}"


@pytest.mark.parametrize("part", PARTS)
def test_a_fake_has_the_names_and_signatures_of_the_real_one(part: str, real: Evening) -> None:
    fake = FakeEvening()
    one, other = (getattr(fake, part), getattr(real, part)) if part else (fake, real)
    assert list(differences(one, other)) == []


def test_every_part_that_is_faked_is_compared() -> None:
    fake = FakeEvening()
    assert {name for name, one in vars(fake).items() if isinstance(one, StandIn)} == {*PARTS} - {""}


def test_a_planted_difference_is_named(real: Evening) -> None:
    class Stale(StandIn):
        real = Queue
        changed = Signal(int)

        def add(self, target: object, aim: bool = True) -> None: ...

        def tick(self) -> None: ...

    assert [text.split(" takes")[0] for text in differences(Stale(), real.queue)] == [
        "Queue.add",
        "Queue.changed is the signal changed()",
        "Queue has no tick",
    ]


def test_a_call_that_the_real_one_would_refuse_fails() -> None:
    queue = FakeEvening().queue
    queue.mark(Outcome.FOUND)
    with pytest.raises(TypeError, match="unexpected keyword"):
        queue.mark(Outcome.FOUND, remark="")
    with pytest.raises(AttributeError):
        queue.tick()
