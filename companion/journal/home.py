"""The folder that holds everything the person keeps."""

import errno
import os
from collections.abc import Mapping
from contextlib import closing
from pathlib import Path

import platformdirs

from companion.journal.advice import advised
from companion.journal.database import open_for_reading
from companion.journal.errors import Fault, JournalError
from companion.journal.journal import FILE_NAME, SELECT_SETTINGS
from companion.journal.settings import Settings, settings_of

VARIABLE = "COMPANION_HOME"
_BUSY_S = 2.0
_DO = "Start with another folder: --home DIR."
_FAULTS = {
    errno.ENOSPC: Fault.FULL,
    errno.EDQUOT: Fault.FULL,
    errno.EROFS: Fault.READ_ONLY,
    errno.EACCES: Fault.READ_ONLY,
    errno.EPERM: Fault.READ_ONLY,
}


def home_of(given: str | None, environment: Mapping[str, str]) -> Path:
    """Give the folder: the one given, else that of ``COMPANION_HOME``, else the usual one.

    Nothing is made or read; a ``~`` at the front is the person's own folder.

    Raises
    ------
    JournalError
        If the given name is empty or names the folder of a person who is not known here.
    """
    if given is not None and not given.strip():
        raise JournalError("--home names no folder.", "Give the name of a folder: --home DIR.")
    chosen = given or environment.get(VARIABLE, "").strip()
    if not chosen:
        return platformdirs.user_data_path("companion", appauthor=False)
    try:
        return Path(chosen).expanduser().absolute()
    except RuntimeError as error:
        raise JournalError(f"There is no folder {chosen[:200]!r}.", _DO) from error


def prepared_home(path: Path) -> Path:
    """Make the folder, for this person's eyes only, unless it is there; give it back.

    Raises
    ------
    JournalError
        If it is a file, cannot be made, or cannot be written into.
    """
    try:
        _make(path)
    except (FileExistsError, NotADirectoryError) as error:
        raise _unusable(path, "is not a folder", Fault.UNREACHABLE) from error
    except (OSError, ValueError) as error:
        code = error.errno if isinstance(error, OSError) else None
        why = f"cannot be made ({os.strerror(code) if code else error})"
        raise _unusable(path, why, _FAULTS.get(code or 0, Fault.UNREACHABLE)) from error
    effective = os.access in os.supports_effective_ids  # the rights that writing will be judged by
    if not os.access(path, os.W_OK | os.X_OK, effective_ids=effective):
        raise _unusable(path, "may only be read", Fault.READ_ONLY)
    return path


def _make(path: Path) -> None:
    """Make the folder and those above it that are missing, all of them for their owner alone."""
    for folder in reversed((path, *path.parents)):
        if not folder.is_dir():
            folder.mkdir(mode=0o700, exist_ok=True)


def read_settings(home: Path) -> Settings:
    """Give the settings without writing anything; the defaults where there is no journal.

    Raises
    ------
    JournalError
        If there is a journal that cannot be read.
    """
    path = home / FILE_NAME
    with advised(path):
        if not path.exists() or (path.is_file() and path.stat().st_size == 0):
            return Settings()
        with closing(open_for_reading(path, _BUSY_S)) as connection:
            return settings_of(connection.execute(SELECT_SETTINGS))


def _unusable(path: Path, what: str, fault: Fault) -> JournalError:
    return JournalError(f"The folder {path} {what}.", _DO, "Nothing was changed.", fault)
