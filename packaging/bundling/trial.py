"""A trial of the bundle: started under Xvfb without any Python in reach, beside the checkout."""

import os
import shutil
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from environment import ROOT, say
from PySide6.QtGui import QGuiApplication, QImage

RUNS = 5
_ASKED = ("aim", "saturn", "m31", "vega", "--site", "Loon Barrens", "--at", "2026-10-10T20:14")
_LIT_CODE = 40  # a pixel brighter than this belongs to something drawn
_PAINTED, _COMPLETE = 500, 0.95  # lit pixels of a first frame; share of those that stand at last
_QUIET_S, _PATIENCE_S, _BREATH_S = 2.0, 60.0, 0.02
_SCREENS = "2345671"  # the key of each; what it needs is loaded when it first comes up


@dataclass(frozen=True, slots=True)
class Start:
    """Seconds from the start of the process to what can be seen on the screen."""

    paint_s: float
    numbers_s: float


@dataclass(frozen=True, slots=True)
class Sight:
    """One look at the screen: seconds since the start, and how many pixels are lit."""

    at_s: float
    lit: int


@contextmanager
def x_display() -> Iterator[str]:
    """Give the name of a virtual display of its own, 1366 × 768."""
    reading, writing = os.pipe()
    command = [
        "Xvfb",
        "-displayfd",
        str(writing),
        "-screen",
        "0",
        "1366x768x24",
        "-nolisten",
        "tcp",
    ]
    server = subprocess.Popen(command, pass_fds=[writing], stderr=subprocess.DEVNULL)
    os.close(writing)
    with os.fdopen(reading) as told:
        name = f":{told.readline().strip()}"
    try:
        yield name
    finally:
        server.terminate()
        server.wait()


def look(started: float) -> Sight:
    """Count lit pixels of the whole screen; one that is not pure red ends the trial."""
    screen = QGuiApplication.primaryScreen().grabWindow(0)
    image = screen.toImage().convertToFormat(QImage.Format.Format_RGB32)
    at_s = time.monotonic() - started
    pixels = np.frombuffer(image.constBits(), np.uint8).reshape(-1, 4)  # blue, green, red, unused
    if pixels[:, :2].any():
        sys.exit("Not every pixel of the screen is pure red.")
    return Sight(at_s, int((pixels[:, 2] > _LIT_CODE).sum()))


def start_of(sights: list[Sight]) -> Start:
    """Tell the first frame, and the moment from which nearly all stands that stands at last."""
    complete = sights[-1].lit * _COMPLETE
    return Start(
        next(sight.at_s for sight in sights if sight.lit > _PAINTED),
        next(sight.at_s for sight in sights if sight.lit >= complete),
    )


def time_start(
    command: list[str], environment: Mapping[str, str], *, screens: bool = False
) -> Start:
    """Open the demo's window, watch the screen until it is quiet, and close it.

    With ``screens``, somebody looks at each of them before.
    """
    started = time.monotonic()
    with subprocess.Popen(
        [*command, "--demo"], env=environment, cwd=environment["HOME"], stderr=subprocess.PIPE
    ) as program:
        try:
            sights = _watched(program, started)
            if screens:
                visit_screens(environment)
        except BaseException:
            program.kill()  # else it would be waited for, and the reason never be said
            raise
        code = program.poll()
        program.send_signal(signal.SIGINT)
        _out, complaint = program.communicate(timeout=_PATIENCE_S)
    if code is not None or complaint:
        sys.exit(f"{command} ended with {code}: {complaint.decode()}")
    return start_of(sights)


def _watched(program: subprocess.Popen[bytes], started: float) -> list[Sight]:
    """Look at the screen until it is quiet or the program has ended."""
    sights = [look(started)]
    while not _quiet(sights) and program.poll() is None:
        time.sleep(_BREATH_S)  # the looks must not slow what is looked at
        sights.append(look(started))
    return sights


def visit_screens(environment: Mapping[str, str]) -> None:
    """Press the key of each screen; whatever goes wrong there is said on standard error."""
    for key in _SCREENS:
        command = [shutil.which("xdotool") or "xdotool", "key", key]
        subprocess.run(command, check=True, env=environment)
        for _ in range(20):
            time.sleep(10 * _BREATH_S)
            look(0.0)


def _quiet(sights: list[Sight]) -> bool:
    """Tell whether something stands, and nothing much has changed for a while."""
    now = sights[-1]
    if now.at_s > _PATIENCE_S:
        sys.exit("The window did not come to rest.")
    if now.lit <= _PAINTED or now.at_s < 2 * _QUIET_S:
        return False
    recent = [sight.lit for sight in sights if sight.at_s > now.at_s - _QUIET_S]
    return min(recent) > 0.99 * max(recent)


def answer(command: list[str], environment: Mapping[str, str], *words: str) -> str:
    """Give what a text command prints, asked from a folder of its own."""
    done = subprocess.run(
        [*command, *words],
        env=environment,
        cwd=environment["HOME"],
        check=False,
        capture_output=True,
        text=True,
    )
    if done.returncode or done.stderr:
        sys.exit(f"{command} {words} ended with {done.returncode}: {done.stderr}")
    return done.stdout


def try_bundle(program: Path) -> None:
    """Ask and open the bundle and the checkout in turn; print what it took."""
    if missing := [tool for tool in ("Xvfb", "xdotool") if shutil.which(tool) is None]:
        sys.exit(
            f"The trial needs {' and '.join(missing)}: install what is missing, and try again."
        )
    checkout = [sys.executable, "-m", "companion"]
    with x_display() as display, tempfile.TemporaryDirectory(prefix="companion-trial-") as home:
        bare = {"DISPLAY": display, "HOME": home, "LANG": "C.UTF-8", "PATH": "/nowhere"}
        with_source = {**bare, "PYTHONPATH": str(ROOT)}
        for words in (("--version",), (*_ASKED, "--json")):
            if answer([str(program)], bare, *words) != answer(checkout, with_source, *words):
                sys.exit(f"The bundle does not answer {words} as the checkout does.")
        os.environ |= {"DISPLAY": display, "QT_QPA_PLATFORM": "xcb"}
        _application = QGuiApplication(["trial"])
        time_start([str(program)], bare, screens=True)  # the first ones fill the disk cache
        time_start(checkout, with_source)
        pairs = [
            (time_start([str(program)], bare), time_start(checkout, with_source))
            for _ in range(RUNS)
        ]
    for what in ("paint", "numbers"):
        sides = [[getattr(one, f"{what}_s") for one in side] for side in zip(*pairs, strict=True)]
        ours, theirs = (statistics.median(side) for side in sides)
        say(
            f"first {what}: bundle {ours:.2f} s, checkout {theirs:.2f} s, {ours / theirs:.2f} of it"
        )
    say(f"(medians of {RUNS} starts of each, in turn)")
