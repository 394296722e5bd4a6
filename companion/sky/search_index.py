"""Texts that lead to targets, ordered so that a keystroke costs next to nothing."""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from companion.arrays import IntArray
from companion.sky.spelling import nearest, squeeze

_AFTER_ALL = "\U0010ffff"


@dataclass(frozen=True, slots=True)
class Entry:
    """One way to write one target. ``text`` is folded, ``fame`` higher for what people mean."""

    text: str
    shown: str
    key: str
    fame: float
    word: bool  # a name in words, whose misspellings are recognised
    cased: bool = False  # case means something in it, so folded text is not the whole of it


class TextIndex:
    """Entries by whole text, by beginning, by words and by likeness; answers are entry numbers."""

    def __init__(self, entries: Iterable[Entry]) -> None:
        self.entries = sorted(entries, key=lambda entry: entry.text)
        self._texts = [entry.text for entry in self.entries]
        self._fame = np.array([entry.fame for entry in self.entries])
        # Made now, so that the first keystroke does not wait for them.
        self._squeezed = self._make_squeezed()
        self._words = self._make_words()
        self._names = self._make_names()
        self._reordered = self._make_reordered()
        self.name_words = sorted({word for name in self._names[0] for word in name.split()})

    def _make_squeezed(self) -> dict[str, list[int]]:
        """Entries by their text without blanks."""
        found: dict[str, list[int]] = {}
        for number, text in enumerate(self._texts):
            if not self.entries[number].cased:
                found.setdefault(squeeze(text), []).append(number)
        return found

    def _make_reordered(self) -> dict[str, list[int]]:
        """Names of several words, no number among them, by their words in order."""
        found: dict[str, list[int]] = {}
        for text, number in zip(*self._names, strict=True):
            if " " in text and not any(char.isdigit() for char in text):
                found.setdefault(_in_order(text), []).append(int(number))
        return found

    def _make_words(self) -> tuple[list[str], IntArray, IntArray]:
        """Every word in order, where its entries begin, and all entries one after the other."""
        found: dict[str, list[int]] = {}
        for number, text in enumerate(self._texts):
            if self.entries[number].word or not text[-1].isdigit():
                for word in text.split():
                    found.setdefault(word, []).append(number)
        words = sorted(found)
        starts = np.cumsum([0, *(len(found[word]) for word in words)])
        return words, starts, np.array([n for word in words for n in found[word]], dtype=np.int64)

    def _make_names(self) -> tuple[list[str], IntArray]:
        """Names in words, and their entries."""
        numbers = [number for number, entry in enumerate(self.entries) if entry.word]
        return [self._texts[number] for number in numbers], np.array(numbers, dtype=np.int64)

    def exact(self, text: str) -> list[int]:
        """Give the entries that are this text, wherever blanks may stand but between figures."""
        return self._squeezed.get(squeeze(text), [])

    def reordered(self, text: str) -> list[int]:
        """Give the names in words that have exactly these words, in whatever order."""
        return self._reordered.get(_in_order(text), [])

    def begins(self, text: str, most: int) -> list[int]:
        """Give the entries that begin with this text, the most famous first."""
        low = bisect_left(self._texts, text)
        high = bisect_left(self._texts, text + _AFTER_ALL)
        return self._most_famous(np.arange(low, high), most)

    def holding(self, words: Sequence[str], most: int) -> list[int]:
        """Give the entries in which each of these begins a word, the most famous first.

        Beside a number every word has to stand whole: ``m 31`` is no beginning of ``31 majoris``.
        """
        if not words:
            return []
        whole = any(word.isdigit() for word in words)
        # The longest word leaves the fewest entries to compare.
        found = self._holding(max(words, key=len), whole=whole)
        for word in words:
            found = found[np.isin(found, self._holding(word, whole=whole))]
        return self._most_famous(found, most)

    def alike(self, text: str, most: int) -> list[tuple[int, int]]:
        """Give the names that this may be a misspelling of, as (entry, slips), fewest first."""
        names, numbers = self._names
        found = [(int(numbers[i]), slips) for i, slips in nearest(text, names, most)]
        words = text.split()
        if not found and words:
            found = [(number, 1) for number in self._respelled(words, most)]
        return found or self._alike_so_far(text, most)

    def _respelled(self, words: Sequence[str], most: int) -> list[int]:
        """Take unknown words for the nearest known ones."""
        right = []
        for word in words:
            if len(self._holding(word)):
                right.append(word)
            elif other := nearest(word, self.name_words, 1):
                right.append(self.name_words[other[0][0]])
            else:
                return []
        found = self.holding(right, most)
        return [number for number in found if self.entries[number].word] or found

    def _alike_so_far(self, text: str, most: int) -> list[tuple[int, int]]:
        """Give the names whose beginnings this may be a misspelling of."""
        names, numbers = self._names
        cut = [name[: len(text)] for name in names]
        return [(int(numbers[i]), slips) for i, slips in nearest(text, cut, most, fewer=1)]

    def _holding(self, word: str, *, whole: bool = False) -> IntArray:
        words, starts, numbers = self._words
        low = bisect_left(words, word)
        high = bisect_left(words, word + ("\0" if whole else _AFTER_ALL))
        return np.unique(numbers[starts[low] : starts[high]])

    def _most_famous(self, numbers: IntArray, most: int) -> list[int]:
        fame = self._fame[numbers]
        if len(numbers) > most:
            numbers = numbers[np.argpartition(-fame, most)[:most]]
            fame = self._fame[numbers]
        return [int(number) for number in numbers[np.argsort(-fame, kind="stable")]]


def _in_order(text: str) -> str:
    return " ".join(sorted(text.split()))
