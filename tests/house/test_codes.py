"""Codes are stable: what journals and JSON hold is read for ever; no code is shown as a word."""

import pytest

from companion.finding import Viewing, viewing_text
from companion.journal import Outcome, from_plain, outcome_of, outcome_text
from companion.night import Grade
from companion.sky import Kind, Phase, Target, kind_text, phase_text

# As first published; a code may be added, never changed.
KINDS = {
    "star", "double_star", "variable_star", "galaxy", "open_cluster", "globular_cluster",
    "cluster_with_nebula", "nebula", "planetary_nebula", "supernova_remnant", "dark_nebula",
    "star_group", "planet", "dwarf_planet", "moon", "sun", "comet", "place_in_the_sky", "other",
}  # fmt: skip


def test_codes_of_kinds_outcomes_and_grades_stay() -> None:
    assert set(Kind) >= KINDS
    assert set(Outcome) == {"waiting", "found", "not_seen", "skipped"}
    assert set(Grade) == {"easy", "fair", "hard", "doubtful", "out_of_reach", "unknown"}
    assert set(Viewing) == {"upright", "turned", "mirrored"}


def test_words_show_no_code() -> None:
    words = [
        *map(kind_text, Kind), *map(outcome_text, Outcome), *map(phase_text, Phase),
        *map(viewing_text, Viewing),
    ]  # fmt: skip
    assert all(word and "_" not in word for word in words)


@pytest.mark.parametrize(
    ("written", "kind"),
    [
        ("double star", Kind.DOUBLE),
        ("planetary nebula", Kind.PLANETARY),
        ("place in the sky", Kind.PLACE),
        ("Moon", Kind.MOON),
        ("galaxy", Kind.GALAXY),
    ],
)
def test_targets_of_older_journals_are_read(written: str, kind: Kind) -> None:
    plain = {"key": "own:x", "name": "x", "kind": written}
    assert from_plain(Target, plain).kind is kind


def test_outcomes_of_older_journals_are_read() -> None:
    assert outcome_of("not seen") is Outcome.NOT_SEEN
    assert outcome_of("never heard of") is None
    assert outcome_of(None) is None
    assert Viewing("turned upside down") is Viewing.TURNED
    with pytest.raises(ValueError, match="wide"):
        Viewing("wide")
