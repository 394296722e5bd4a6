"""What all tests share: one application of the product's own class, without a display."""

import os

import pytest
from hypothesis import settings

# How long an example takes is no result: a busy machine is not a fault.
settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


@pytest.fixture(scope="session")
def qapp_cls() -> type:
    """Give the class of the one application of a test process, whichever test makes it first."""
    from companion.window.frame.start import RedApplication

    return RedApplication


@pytest.fixture(scope="session")
def qapp_args() -> list[str]:
    return ["companion"]
