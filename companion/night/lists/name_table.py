"""Exact names of everything, for lists: a look-up where the search would weigh and guess."""

import re
from collections.abc import Iterator

from companion.sky import AdviceError, Catalogue, Target

_ZEROS = re.compile(r"(?<=[^\d])0+(?=\d)")
_HIP = re.compile(r"hip(\d{1,6})\Z")
_LONG_FORMS = (("messier", "m"), ("caldwell", "c"))


def plain_name(text: str) -> str:
    """Bring a name to the form in which names are compared: ``NGC 0224`` is ``ngc224``."""
    letters = "".join(character for character in text.casefold() if character.isalnum())
    for long, short in _LONG_FORMS:
        if letters.startswith(long) and letters[len(long) :].isdigit():
            letters = short + letters[len(long) :]
    return _ZEROS.sub("", letters)


class NameTable:
    """Every name and number of the catalogue; built once, read 100,000 times a second."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._catalogue = catalogue
        self._known: dict[str, Target] = {}
        self._stars: dict[str, int] = {}
        for target in _targets(catalogue):
            for name in (target.name, *target.aliases):
                self._known.setdefault(plain_name(name), target)
        for hip, star in catalogue.names.stars.items():
            for name in star.all():
                self._stars.setdefault(plain_name(name), hip)

    def find(self, text: str) -> Target | None:
        """Give the target of a name, a number or a key; None where nothing is called exactly so."""
        name = plain_name(text)
        if not name:
            return None
        known = self._known.get(name)
        if known is not None:
            return known
        hip = self._stars.get(name)
        if hip is None and (match := _HIP.match(name)):
            hip = int(match[1])
        try:
            if hip is not None:
                return self._catalogue.star(hip)
            return self._catalogue.target(text.strip()) if ":" in text else None
        except AdviceError:
            return None


def _targets(catalogue: Catalogue) -> Iterator[Target]:
    yield from catalogue.bodies
    yield from catalogue.names.groups.values()
    yield from catalogue.deep_sky.targets
