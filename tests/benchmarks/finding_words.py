"""How many sentences mislead whoever takes them at their word.

Run ``python tests/benchmarks/finding_words.py``. 500 steps of ways by eye, half at each demo site,
to Messier's and Caldwell's objects, bright stars and planets at random dark moments; each is read
again from its words alone and followed with trigonometry of its own. No asserts.
"""

import sys
from collections import Counter
from itertools import islice
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from finding.spoken import MISLEADS_DEG, spoken

from companion.sky import Ephemeris, load_catalogue

SENTENCES = 500


def main() -> None:
    """Count."""
    ephemeris = Ephemeris.load()
    steps = spoken(load_catalogue(), ephemeris)
    heard = list(islice((one for one in steps if one.can_be_followed), SENTENCES))
    ephemeris.close()
    misled = [one for one in heard if one.misled_deg > MISLEADS_DEG]
    print(f"misled by more than {MISLEADS_DEG:g}°: {len(misled)} of {len(heard)}")
    print(f"the worst by {max(one.misled_deg for one in heard):.2f}°")
    for names in ((one.site.name for one in heard), (str(one.way.kind) for one in heard)):
        print(", ".join(f"{name} {count}" for name, count in Counter(names).items()))


if __name__ == "__main__":
    main()
