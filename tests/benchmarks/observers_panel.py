#!/usr/bin/env python3
"""How much of what observers look at stands among the first forty of tonight's list.

``python -m tests.benchmarks.observers_panel`` prints the share for every evening of the panel with
what is missing, and the whole; it asserts nothing.
"""

import sys
from pathlib import Path

from companion.sky import load_catalogue

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from reference.observers_panel import PANEL, Panel  # found only after the line above


def main() -> int:
    """Print all evenings."""
    panel = Panel(load_catalogue())
    met = wanted = 0
    for hemisphere, season, through in PANEL:
        share = panel.share(hemisphere, season, through)
        met, wanted = met + share.met, wanted + share.wanted
        missing = ", ".join(share.missing) or "nothing"
        print(f"{hemisphere} {season} {through}: {share.met} of {share.wanted}; missing {missing}")
    print(f"all: {met} of {wanted}, {100.0 * met / wanted:.1f}%")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
