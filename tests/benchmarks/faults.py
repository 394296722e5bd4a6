"""Let the disk fail in many ways, and count what was promised and is nowhere.

``python tests/benchmarks/faults.py [FAULTS]``. A journal's thread writes outcomes; one system call
of its files is made to fail by ``strace`` (``-e inject``): no space left, an input or output error,
a file system that may only be read, no permission, on opening, writing, syncing, cutting or
locking; short writes too. What the window would show as written must afterwards be in the journal,
in a file set aside, or in a file of what waits.
Linux only; where ``strace`` is missing or may not trace, that is said and nothing is counted.
"""

import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from contextlib import closing, suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from companion.journal import (
    FILE_NAME,
    Change,
    Journal,
    JournalError,
    KeptJournal,
    Mark,
    Outcome,
    mark_change,
    ticks,
)

UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)
NIGHT = "2026-10-10"
TICKS = 12
CALLS = {
    "pwrite64": ("ENOSPC", "EIO", "EROFS", "short"),
    "fdatasync": ("EIO", "ENOSPC"),
    "ftruncate": ("EIO", "ENOSPC"),
    "openat": ("EACCES", "EROFS", "EIO", "ENOSPC"),
    "fcntl": ("EIO", "EACCES"),
    "pread64": ("EIO",),
}


@dataclass
class Figures:
    """What the faults added up to."""

    faults: int = 0
    hit: int = 0
    promised: int = 0
    lost: int = 0
    tracebacks: int = 0
    unopened: int = 0
    kinds: Counter[str] = field(default_factory=Counter)

    def __str__(self) -> str:
        return (
            f"faults {self.faults}, of them met {self.hit}; ticks promised {self.promised}, "
            f"lost {self.lost}; tracebacks {self.tracebacks}; journals that did not open "
            f"{self.unopened}; {dict(sorted(self.kinds.items()))}"
        )


def write_ticks(home: Path) -> None:
    """Write outcomes as the journal's thread does, and say each one that is on the disk or beside.

    A change that fails waits and is tried again with the next one; at the end what still waits is
    kept beside the journal.
    """
    kept, waiting = KeptJournal(home, 0.2, lambda _text: None), list[Change]()
    for number in range(TICKS):
        key = f"own:{number}"
        waiting.append(mark_change(NIGHT, UTC_NOW, Mark({"key": key, "name": key}, Outcome.FOUND)))
        try:
            journal = kept.open_now or kept.file()
            while waiting:
                journal.do(waiting[0])
                _promise(waiting.pop(0))
        except JournalError as error:
            _say({"refused": error.wrong})
    left = kept.leave(waiting)
    if left.kept_in is not None:
        for change in waiting:
            _promise(change)
    kept.close()


def _promise(change: Change) -> None:
    _say({"promised": change.words.split()[-1]})


def _say(line: dict[str, str]) -> None:
    os.write(1, f"{json.dumps(line)}\n".encode())


def one_fault(home: Path, call: str, error: str, when: int) -> tuple[list[str], bool, bool]:
    """Run the writer with one call failing; give what it promised, whether it met it or broke."""
    # A write of nothing that succeeds is the shortest of short writes.
    how = "retval=0" if error == "short" else f"error={error}"
    trace = home.with_suffix(".trace")
    rule = ["-e", f"inject={call}:{how}:when={when}+7", "-e", "signal=none", "-qq"]
    watched = ["-P", str(home), *(part for name in _parts(home) for part in ("-P", str(name)))]
    traced = ["strace", "-f", "-o", str(trace), "-e", f"trace={call}"]
    done = subprocess.run(
        [*traced, *rule, *watched, sys.executable, __file__, "--child", str(home)],
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    lines = [json.loads(line) for line in done.stdout.splitlines() if line.startswith("{")]
    if "Traceback" in done.stderr:
        sys.stderr.write(done.stderr)
    met = "INJECTED" in trace.read_text(errors="replace")
    return (
        [line["promised"] for line in lines if "promised" in line],
        met,
        "Traceback" in done.stderr,
    )


def _parts(home: Path) -> list[Path]:
    return [home / f"{FILE_NAME}{end}" for end in ("", "-wal", "-shm", "-journal")]


def kept_keys(home: Path) -> set[str]:
    """Give what is in the journal, after what waits beside it has been read back."""
    with closing(KeptJournal(home, 1.0, lambda _text: None)) as kept:
        kept.file()
        kept.rescue()
    found: set[str] = set()
    for path in home.glob("*.sqlite"):
        with suppress(JournalError), closing(Journal(path)) as journal:
            found |= {tick.key for tick in ticks(journal)}
    return found


def run(faults: int, folder: Path) -> Figures:
    """Let so many faults happen."""
    figures = Figures()
    chance = random.Random(faults)  # noqa: S311 - moments, no secrets
    pairs = [(call, error) for call, errors in CALLS.items() for error in errors]
    for number in range(faults):
        call, error = pairs[number % len(pairs)]
        home = folder / f"home-{number}"
        home.mkdir()
        os.environ |= {"HOME": str(home), "TMPDIR": str(home)}  # what is kept beside stays there
        latest = 25 if call in {"pwrite64", "fdatasync"} else 8  # the others happen rarely
        promised, met, broke = one_fault(home, call, error, chance.randrange(1, latest))
        figures.faults += 1
        figures.hit += met
        figures.kinds[f"{call} {error}"] += met
        figures.promised += len(promised)
        figures.tracebacks += broke
        try:
            lost = set(promised) - kept_keys(home)
        except JournalError:
            figures.unopened += 1
            lost = set(promised)
        if lost or broke:
            print(f"{call} {error}: lost {sorted(lost)}, traceback {broke}", file=sys.stderr)
        figures.lost += len(lost)
        shutil.rmtree(home)
    return figures


def can_trace() -> bool:
    """Tell whether system calls can be made to fail here."""
    if shutil.which("strace") is None:
        return False
    tried = ["strace", "-o", os.devnull, "-e", "inject=getppid:error=EPERM", "true"]
    return subprocess.run(tried, capture_output=True, check=False).returncode == 0


def main(arguments: list[str]) -> int:
    """Run the child's part or the benchmark; give 1 if anything was lost."""
    if arguments[:1] == ["--child"]:
        write_ticks(Path(arguments[1]))
        return 0
    if not can_trace():
        print("strace is not here, or may not trace: nothing was tried.")
        return 0
    with tempfile.TemporaryDirectory() as folder:
        figures = run(int((arguments or ["200"])[0]), Path(folder))
    print(figures)
    return 1 if figures.lost or figures.tracebacks or figures.unopened else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
