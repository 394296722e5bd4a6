import pytest

from companion.about.words import counted, figures, light_time, listed, percent


@pytest.mark.parametrize(
    ("value", "said"),
    [(368_439.0, "370,000"), (1.234, "1.2"), (0.0521, "0.052"), (2.5e6, "2.5 million"), (0.0, "0"),
     (13.7e9, "14 billion"), (999.0, "1,000")],
)  # fmt: skip
def test_few_digits(value: float, said: str) -> None:
    assert figures(value) == said


@pytest.mark.parametrize(
    ("seconds", "said"),
    [(1.28, "1.3 seconds"), (499.0, "8.3 minutes"), (15_000.0, "4.2 hours"),
     (31557600.0 * 25.0, "25 years"), (31557600.0 * 2.5e6, "2.5 million years")],
)  # fmt: skip
def test_how_long_light_takes(seconds: float, said: str) -> None:
    assert light_time(seconds) == said


def test_lists_and_counts() -> None:
    assert listed(("Io",)) == "Io"
    assert listed(("Io", "Europa", "Callisto")) == "Io, Europa and Callisto"
    assert counted("1", "year") == "1 year"
    assert percent(0.678) == "68 percent"
