import io

import pytest

from companion.commands.output import write, write_json, write_table


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_a_terminal_gets_dim_red_and_nothing_that_it_would_obey(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    stream = Terminal()
    write("M 31 \x1b]0;title\x07 ½°", stream)
    assert stream.getvalue() == "\x1b[38;5;88mM 31 ·]0;title· ½°\x1b[0m\n"


@pytest.mark.parametrize("variable", [("NO_COLOR", "1"), ("TERM", "dumb")])
def test_colour_can_be_refused(monkeypatch: pytest.MonkeyPatch, variable: tuple[str, str]) -> None:
    monkeypatch.setenv(*variable)
    stream = Terminal()
    write("M 31", stream)
    assert stream.getvalue() == "M 31\n"


def test_json_holds_no_nan(capsys: pytest.CaptureFixture[str]) -> None:
    write_json({"a": float("nan"), "b": [1.5, float("inf")], "c": {"d": "é"}})
    assert capsys.readouterr().out == '{"a": null, "b": [1.5, null], "c": {"d": "é"}}\n'


def test_columns_stand_under_each_other(capsys: pytest.CaptureFixture[str]) -> None:
    write_table(("name", "alt"), [("Vega", "69.5°"), ("M 31", "7.1°")])
    assert capsys.readouterr().out.splitlines() == [
        "name    alt",
        "Vega  69.5°",
        "M 31   7.1°",
    ]
