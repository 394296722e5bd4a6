"""Damage journals at random and count what came back: ``python tests/benchmarks/corruptions.py N``.

Each is opened as the window opens it; one that can't be used is set aside and gone through. Every
event whose own bytes are still whole must be in the journal afterwards. One counts as missing, too,
whose transaction lost its end in a log that was cut short: SQLite takes it as never finished.
"""

import random
import shutil
import sys
import tempfile
import traceback
from collections import Counter
from contextlib import closing
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))  # for ``journal.damage``

from journal.damage import DAMAGES, cells_of, damage, make_journal, whole_numbers

from companion.journal import FILE_NAME, Journal, KeptJournal, lifetime

EVENTS = 100


def opened(home: Path) -> set[int]:
    """Open a journal as the window does, bring back what was set aside, and give what it holds."""
    with closing(KeptJournal(home, 1.0, lambda _text: None)) as kept:
        kept.file()
        kept.rescue()
    with closing(Journal(home / FILE_NAME)) as journal:
        lifetime(journal)
        return {number for (number,) in journal.connection.execute("SELECT number FROM event")}


def main(arguments: list[str]) -> int:
    """Damage so many; give 1 if a row is missing or anything was raised."""
    count = int((arguments or ["100"])[0])
    figures: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        killed = Path(folder) / "killed"
        killed.mkdir()
        make_journal(killed, EVENTS)
        shutil.copytree(killed, killed / "copy")
        cells = cells_of(killed / "copy" / FILE_NAME)
        for number in range(count):
            home = Path(folder) / f"home-{number}"
            home.mkdir()
            for part in killed.glob(FILE_NAME + "*"):
                shutil.copyfile(part, home / part.name)
            kind = list(DAMAGES)[number % len(DAMAGES)]
            damage(home / FILE_NAME, kind, random.Random(number))  # noqa: S311 - no secrets
            whole = whole_numbers(home / FILE_NAME, cells)
            try:
                missing = len(whole - opened(home))
            except Exception:  # noqa: BLE001 - that is what is counted
                traceback.print_exc()
                figures["raised"] += 1
                continue
            figures["whole"] += len(whole)
            figures["missing"] += missing
    print(
        f"{count} journals damaged: {figures['raised']} raised anything; of {figures['whole']} "
        f"entries that were whole {figures['missing']} are missing"
    )
    return 1 if figures["raised"] or figures["missing"] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
