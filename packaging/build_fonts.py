#!/usr/bin/env python3
"""Make the two font files that the window carries, from two packages of the npm registry.

``npm pack @expo-google-fonts/barlow @expo-google-fonts/fira-sans``, unpack both, then
``python packaging/build_fonts.py BARLOW_DIR FIRA_DIR`` (needs ``fonttools``). Barlow gives the
letters and figures; its tabular figures become the ordinary ones, so that a digit never moves its
neighbours in any widget. Fira Sans gives the Greek letters, fractions and arrows that Barlow lacks.
"""

import sys
from pathlib import Path

from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

TO = Path(__file__).resolve().parent.parent / "resources" / "fonts"
FAMILY = "Companion Sans"
WEIGHTS = {"Regular": ("400Regular", "300Light"), "Medium": ("500Medium", "400Regular")}
DIGITS = "0123456789"
# Greek with accents, primes, fractions, arrows, comparisons, square root, infinity.
WANTED = [*range(0x370, 0x400), 0x2032, 0x2033, *range(0x2150, 0x215F), *range(0x2190, 0x219A)]
WANTED += [0x221A, 0x221E, 0x2248, 0x2264, 0x2265]


def make_figures_tabular(font: TTFont) -> None:
    """Let every digit stand for its tabular form."""
    swaps: dict[str, str] = {}
    table = font["GSUB"].table
    for record in table.FeatureList.FeatureRecord:
        if record.FeatureTag == "tnum":
            for index in record.Feature.LookupListIndex:
                for subtable in table.LookupList.Lookup[index].SubTable:
                    swaps |= getattr(subtable, "ExtSubTable", subtable).mapping
    for cmap in font["cmap"].tables:
        if cmap.isUnicode():
            for digit in DIGITS:
                cmap.cmap[ord(digit)] = swaps.get(cmap.cmap[ord(digit)], cmap.cmap[ord(digit)])


def borrow(font: TTFont, lender: TTFont, wanted: list[int]) -> None:
    """Copy the outlines of characters that ``font`` lacks; both have 1,000 units to the em."""
    has, theirs, outlines = font.getBestCmap(), lender.getBestCmap(), lender.getGlyphSet()
    for code in wanted:
        if code in has or code not in theirs:
            continue
        name, recorded, pen = f"uni{code:04X}", DecomposingRecordingPen(outlines), TTGlyphPen(None)
        outlines[theirs[code]].draw(recorded)
        recorded.replay(pen)
        font["glyf"][name] = pen.glyph()
        font["hmtx"][name] = lender["hmtx"][theirs[code]]
        for cmap in font["cmap"].tables:
            if cmap.isUnicode():
                cmap.cmap[code] = name
    font.setGlyphOrder(list(font["glyf"].glyphOrder))


def narrow_the_prime(font: TTFont) -> None:
    """Give the mark of minutes an advance that suits it: Barlow's leaves a hole after it."""
    name = font.getBestCmap()[0x2032]
    _advance, left = font["hmtx"][name]
    font["hmtx"][name] = (font["glyf"][name].xMax + 25, left)


def rename(font: TTFont, weight: str) -> None:
    """Give the changed font a name of its own, and say whose work it is."""
    texts = {
        0: "Copyright 2017 The Barlow Project Authors; Greek, fractions and arrows copyright "
        "2012-2015 The Mozilla Foundation and Telefonica S.A.",
        1: f"{FAMILY} {weight}" if weight != "Regular" else FAMILY,
        2: "Regular",
        3: f"{FAMILY} {weight} 1.0",
        4: f"{FAMILY} {weight}",
        5: "Version 1.000",
        6: f"CompanionSans-{weight}",
        16: FAMILY,
        17: weight,
    }
    for number, text in texts.items():
        font["name"].removeNames(nameID=number)
        font["name"].setName(text, number, 3, 1, 0x409)


def build(barlow: Path, fira: Path, weight: str) -> None:
    """Write one weight; Fira Sans is the heavier design, so it lends the next lighter one."""
    font = TTFont(next((barlow / WEIGHTS[weight][0]).glob("*.ttf")))
    make_figures_tabular(font)
    narrow_the_prime(font)
    borrow(font, TTFont(next((fira / WEIGHTS[weight][1]).glob("*.ttf"))), WANTED)
    options = Options(
        layout_features=["ccmp", "kern", "locl", "mark", "mkmk"],
        hinting=False,
        name_IDs=["*"],
        notdef_outline=True,
    )
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=font.getBestCmap())
    subsetter.subset(font)
    rename(font, weight)
    font.save(TO / f"CompanionSans-{weight}.ttf")


def main() -> int:
    """Write both weights and their licences."""
    barlow, fira = Path(sys.argv[1]), Path(sys.argv[2])
    for weight in WEIGHTS:
        build(barlow, fira, weight)
    licences = TO.parent / "licences"
    (licences / "Barlow-OFL.txt").write_bytes((barlow / "LICENSE_FONT").read_bytes())
    (licences / "FiraSans-OFL.txt").write_bytes((fira / "LICENSE_FONT").read_bytes())
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
