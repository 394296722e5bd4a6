import subprocess
from pathlib import Path

import pytest

from companion import __version__
from companion.cli import main
from companion.commands.options import SHELLS

COMMANDS = {
    "about",
    "aim",
    "align",
    "aurora",
    "compass",
    "elements",
    "events",
    "find",
    "journal",
    "mark",
    "order",
    "program",
    "rehearse",
    "road",
    "tonight",
    "way",
}


def printed(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    with pytest.raises(SystemExit) as ended:
        main(words)
    assert ended.value.code == 0
    return capsys.readouterr().out


def test_the_version_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert printed(capsys, "--version") == f"companion {__version__}\n"


@pytest.mark.parametrize("shell", SHELLS)
def test_every_shell_learns_every_command(capsys: pytest.CaptureFixture[str], shell: str) -> None:
    script = printed(capsys, "--print-completion", shell)
    assert all(command in script for command in COMMANDS)


@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        (("",), COMMANDS),
        (("al",), {"align"}),
        (("mark", "saturn", ""), {"found", "not_seen", "skipped"}),
        (("way", "m13", "--view", "t"), {"turned"}),
        (("order", "que"), {"queue.csv"}),
        (("--home", "sta"), {"state"}),
    ],
)
def test_bash_completes_words_and_files(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, typed: tuple[str, ...], offered: set[str]
) -> None:
    (tmp_path / "queue.csv").touch()
    (tmp_path / "state").mkdir()
    script = tmp_path / "completion"
    script.write_text(printed(capsys, "--print-completion", "bash"))
    asked = """
        source completion
        COMP_WORDS=("companion" "$@") COMP_CWORD=$#
        _shtab_companion
        printf '%s\\n' "${COMPREPLY[@]}"
    """
    done = subprocess.run(
        ["bash", "-c", asked, "bash", *typed],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=True,
    )
    assert set(done.stdout.splitlines()) == offered
