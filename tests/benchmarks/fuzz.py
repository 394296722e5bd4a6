"""Feed every reader for some seconds each: ``python tests/benchmarks/fuzz.py SECONDS [READER]``."""

import sys
import time
from pathlib import Path

from hypothesis import HealthCheck, given, settings, strategies as st

sys.path.insert(0, str(Path(__file__).parents[1]))
import contextlib

from fuzz.targets import Reader, readers


def run(name: str, reader: Reader, seconds: float) -> None:
    """Feed one reader; print how often, and how long the slowest answer took."""
    tried, slowest_s, slowest = 0, 0.0, ""
    end = time.monotonic() + seconds

    @settings(
        max_examples=200,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(st.data())
    def feed(data: st.DataObject) -> None:
        nonlocal tried, slowest_s, slowest
        text = data.draw(reader.fed)
        began = time.perf_counter()
        with contextlib.suppress(reader.refuses):
            reader.read(text)
        took = time.perf_counter() - began
        tried += 1
        if took > slowest_s:
            slowest_s, slowest = took, text

    while time.monotonic() < end:
        feed()
    print(f"{name}: {tried} texts, 0 crashes, slowest {slowest_s * 1e3:.1f} ms: {slowest[:60]!r}")


def main() -> None:
    """Run all readers, or the named one."""
    seconds = float(sys.argv[1])
    for name, reader in readers().items():
        if len(sys.argv) < 3 or sys.argv[2] == name:
            run(name, reader, seconds)


if __name__ == "__main__":
    main()
