"""How many notes are lost in 200 random stories on the real window: typed against kept on disk.

``python tests/benchmarks/notes_lost.py [STORIES]`` prints both and their ratio.
"""

import os
import sys
import tempfile
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).parents[1]))

from window.hands import pause
from window.note_stories import play_notes
from window.test_stories import Person

from companion.journal import FILE_NAME, Journal, Remark, entries
from companion.window import RedApplication


def main(stories: int) -> int:
    """Play, leave, and count what the file holds."""
    app = RedApplication(["companion"])
    with tempfile.TemporaryDirectory() as folder:
        person = Person(Path(folder), app)
        typed = play_notes(person.window, stories, seed=11)
        pause(500)
        person.leave()
        journal = Journal(Path(folder) / FILE_NAME)
        kept = {one.text for one in entries(journal) if isinstance(one, Remark)}
        journal.close()
    lost = [text for text in typed if text not in kept]
    sys.stdout.write(
        f"{stories} stories: {len(typed)} notes typed, {len(kept)} kept, {len(lost)} lost, "
        f"{len(lost) / len(typed):.3f} of them\n"
    )
    return 1 if lost else 0


if __name__ == "__main__":
    raise SystemExit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 200))
