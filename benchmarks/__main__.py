"""`python -m benchmarks` prints the figures; `--full` also makes the table of every way at every class size."""

from __future__ import annotations

import argparse
import datetime as dt
import os
import platform
import sys
from collections.abc import Iterable
from pathlib import Path

from benchmarks import grouping, reading, ways_by_size


def machine() -> str:
    """What the figures were taken on, and how busy it was."""
    info = Path("/proc/cpuinfo")
    models = (
        [x.split(":", 1)[1].strip() for x in info.read_text().splitlines() if x.startswith("model name")]
        if info.exists()
        else []
    )
    load = " ".join(f"{x:.1f}" for x in os.getloadavg()) if hasattr(os, "getloadavg") else "not known"
    model = models[0] if models else platform.machine()
    when = f"{dt.datetime.now(dt.UTC):%d %B %Y %H:%M} UTC"
    return f"{when}; {os.cpu_count()} cores, {model}; Python {platform.python_version()}; load {load}"


def table(headings: Iterable[str], rows: Iterable[Iterable[str]]) -> None:
    """Print a table row by row as figures come."""
    heads = list(headings)
    print(f"| {' | '.join(heads)} |\n|{'---|' * len(heads)}")
    for row in rows:
        print(f"| {' | '.join(row)} |", flush=True)
    print()


def main(words: list[str]) -> int:
    """Print the figures; 1 when the full table found a fault."""
    asked = argparse.ArgumentParser(prog="python -m benchmarks", description=__doc__)
    asked.add_argument(
        "--full", action="store_true", help="also write docs/reference/ways-by-size.md (some minutes)"
    )
    asked.add_argument("--quick", action="store_true", help="leave out the general solver")
    options = asked.parse_args(words)
    print(f"Before: {machine()}\n")
    table(grouping.HEADINGS, grouping.lines(solver=not options.quick))
    met, tried, misses = grouping.reached()
    print(f"The true least in one stage of fours, 12 to 16 pupils: reached in {met} of {tried} classes.")
    print("".join(f"- {m}\n" for m in misses))
    table(("process", "seconds, first, then median of three"), grouping.processes())
    table(("reading", "milliseconds"), reading.lines())
    faults: list[str] = []
    if options.full:
        told, faults = ways_by_size.write_page()
        print(told, *faults, sep="\n")
    print(f"After: {machine()}")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
