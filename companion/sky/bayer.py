"""Bayer letters and Flamsteed numbers: how they are written and read."""

import re

from companion.sky.constellation import CONSTELLATIONS

# Three-letter code of the data tables -> (Greek letter, its name).
GREEK: dict[str, tuple[str, str]] = {
    "alp": ("α", "alpha"),
    "bet": ("β", "beta"),
    "gam": ("γ", "gamma"),
    "del": ("δ", "delta"),
    "eps": ("ε", "epsilon"),
    "zet": ("ζ", "zeta"),
    "eta": ("η", "eta"),
    "tet": ("θ", "theta"),
    "iot": ("ι", "iota"),
    "kap": ("κ", "kappa"),
    "lam": ("λ", "lambda"),
    "mu": ("μ", "mu"),
    "nu": ("ν", "nu"),
    "xi": ("ξ", "xi"),
    "omi": ("ο", "omicron"),
    "pi": ("π", "pi"),
    "rho": ("ρ", "rho"),
    "sig": ("σ", "sigma"),
    "tau": ("τ", "tau"),
    "ups": ("υ", "upsilon"),
    "phi": ("φ", "phi"),
    "chi": ("χ", "chi"),
    "psi": ("ψ", "psi"),
    "ome": ("ω", "omega"),
}
_SUPERSCRIPTS = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
_CODE = re.compile(r"([A-Za-z]+?)(\d*)\Z")
# What people write -> code: names, codes, symbols, the other spelling of θ and ξ.
LETTER_CODES: dict[str, str] = {
    **{code: code for code in GREEK},
    **{name: code for code, (_symbol, name) in GREEK.items()},
    "alf": "alp",
    "alfa": "alp",
    "the": "tet",
    "ksi": "xi",
    "lamda": "lam",
}


def split_code(code: str) -> tuple[str, str]:
    """Split ``pi3`` into ``("pi", "3")``; the number may be empty."""
    match = _CODE.match(code)
    return (match[1], match[2]) if match else (code, "")


def bayer_text(code: str, constellation: str) -> str:
    """Write a Bayer designation: ``("pi3", "Ori")`` becomes ``π³ Ori``."""
    letter, number = split_code(code)
    symbol = GREEK[letter][0] if letter in GREEK else letter
    return f"{symbol}{number.translate(_SUPERSCRIPTS)} {constellation}"


def spoken_bayer(code: str, constellation: str) -> str:
    """Write a Bayer designation in words: ``("pi3", "Ori")`` becomes ``Pi3 Orionis``."""
    letter, number = split_code(code)
    name = GREEK[letter][1].capitalize() if letter in GREEK else letter
    return f"{name}{number} {CONSTELLATIONS[constellation][1]}"
