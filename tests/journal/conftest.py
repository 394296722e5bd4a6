"""What the journal's tests share."""

import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from companion.journal import FILE_NAME, Journal

NOBODY = 65534


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / FILE_NAME


@pytest.fixture
def open_journal(path: Path) -> Iterator[Callable[[], Journal]]:
    """Open the same file again and again, as other programs would; closed at the end."""
    opened: list[Journal] = []

    def open_one() -> Journal:
        opened.append(Journal(path, busy_s=0.1))
        return opened[-1]

    yield open_one
    for journal in opened:
        journal.close()


@pytest.fixture
def journal(open_journal: Callable[[], Journal]) -> Journal:
    return open_journal()


@pytest.fixture
def plain_folder() -> Iterator[Path]:
    """A folder which a person without privileges reaches; tests may run as root."""
    folder = Path(tempfile.mkdtemp(prefix="companion-test-"))
    folder.chmod(0o755)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)


@pytest.fixture
def unprivileged() -> Iterator[None]:
    """Root may write anywhere; nobody may not."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def sealed(plain_folder: Path, request: pytest.FixtureRequest) -> Path:
    """A folder that may only be read, seen by somebody without privileges."""
    plain_folder.chmod(0o555)
    request.getfixturevalue("unprivileged")
    return plain_folder
