"""What the window's tests share."""

import os
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1]))  # for ``window.fakes``
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


@pytest.fixture(scope="session")
def qapp_cls() -> type:
    from companion.window.start import RedApplication

    return RedApplication


@pytest.fixture(scope="session")
def qapp_args() -> list[str]:
    return ["companion"]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    # The offscreen platform says of every window what it can't do; no other message is let pass.
    for item in items:
        item.add_marker(pytest.mark.qt_log_ignore("This plugin does not support"))
