"""Making groups: seconds and compromise, and the same by other methods in the same run."""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

from benchmarks.classes import groups_of, invented, lesson_in
from benchmarks.optimum import least_compromise
from benchmarks.other_methods import annealed, solved
from benchmates.core.errors import CannotGroup
from benchmates.core.grouping.make import make_groups
from benchmates.core.grouping.result import GroupPlan
from benchmates.core.grouping.search.local import compile_ahead
from benchmates.core.lesson.plan import Lesson
from benchmates.core.strategy.catalogue import way

ROOT = Path(__file__).resolve().parents[1]
CLASSES = (1, 2, 3)  # seeds of the classes behind each line
SOLVER_SECONDS = 20.0

Line = tuple[str, ...]


def cases() -> dict[str, tuple[int, Lesson]]:
    """What is measured, by name."""
    fours = groups_of(4, 3, 5)
    return {
        "24 in fours": (24, fours),
        "28 in fours": (28, fours),
        "30 in fours": (30, fours),
        "32 in fours": (32, fours),
        "30 in fives": (30, groups_of(5, 5, 5)),
        "snowball, 32": (32, lesson_in(way("snowball"))),
        "jigsaw, 24": (24, lesson_in(way("jigsaw"))),
        "rainbow groups, 28": (28, lesson_in(way("rainbow-groups"))),
        "envoys, 24": (24, lesson_in(way("envoys"))),
    }


def lines(*, solver: bool = True) -> Iterator[Line]:
    """One line a case: case, median and worst seconds, compromise of each class, the others' and their ratios."""
    compile_ahead()  # a machine compiles once; the process figures below show what loading costs
    for name, (pupils, lesson) in cases().items():
        plans: list[GroupPlan] = []
        seconds: list[float] = []
        plain: list[int | None] = []
        milps: list[int | None] = []
        bounds: list[float] = []
        for seed in CLASSES:
            request = invented(pupils, seed).request(lesson)
            began = time.perf_counter()
            plan = make_groups(request)
            seconds.append(time.perf_counter() - began)
            plans.append(plan)
            plain.append(annealed(request, seconds[-1]).total)
            if solver and len(plan.stages) == 1:
                other = solved(request, [len(g.members) for g in plan.stages[0].groups], SOLVER_SECONDS)
                milps.append(other.total)
                bounds.append(other.bound or 0.0)
        ours = [p.compromise.total for p in plans]
        yield (
            name,
            f"{statistics.median(seconds):.2f} / {max(seconds):.2f}",
            _listed(ours),
            f"{sum(p.proved for p in plans)} of {len(plans)}",
            f"{_listed(plain)} ({_ratio(plain, ours)})",
            f"{_listed(milps)} ({_ratio(milps, ours)}), bound {_listed([round(b) for b in bounds])}"
            if milps
            else "-",
        )


def _listed(totals: Sequence[int | None]) -> str:
    return ", ".join("none" if t is None else str(t) for t in totals)


def _ratio(others: Sequence[int | None], ours: Sequence[int]) -> str:
    pairs = [(o, u) for o, u in zip(others, ours, strict=True) if o is not None and u]
    return f"{statistics.mean(o / u for o, u in pairs):.2f} x ours" if pairs else "none in time"


HEADINGS = (
    "case",
    "seconds, median / worst",
    "compromise, three classes",
    "no plan does better (shown)",
    "plain annealing, same seconds",
    f"milp (HiGHS), {SOLVER_SECONDS:.0f} s",
)


# ---- against the true least


def reached() -> tuple[int, int, list[str]]:
    """In how many of 30 small classes the true least is met; and each miss, told."""
    met, tried, misses = 0, 0, []
    for pupils in range(12, 17):
        for seed in range(1, 7):
            request = invented(pupils, seed).request(groups_of(4, 3, 5))
            try:
                plan = make_groups(request)
            except CannotGroup:
                continue
            least = least_compromise(request, [len(g.members) for g in plan.stages[0].groups])
            tried += 1
            met += plan.compromise.total == least
            if plan.compromise.total != least:
                misses.append(f"{pupils} pupils, class {seed}: {plan.compromise.total}, the least is {least}")
    return met, tried, misses


# ---- whole processes, as a teacher waits for them


def processes() -> Iterator[tuple[str, str]]:
    """Name and seconds (first, then the median of three more) of commands run as processes of their own."""
    yield "python -c pass", _timed([sys.executable, "-c", "pass"])
    command = [sys.executable, "-m", "benchmates.cli"]
    yield "benchmates ways --keys", _timed([*command, "ways", "--keys"])
    yield "benchmates group examples/8b.csv", _timed([*command, "group", "examples/8b.csv"])
    with tempfile.TemporaryDirectory() as folder:
        plan = Path(folder) / "plan.json"
        made = subprocess.run(
            [*command, "group", "examples/8b.csv", "--json"],
            cwd=ROOT, capture_output=True, check=True, env=_environment(),
        )  # fmt: skip
        plan.write_bytes(made.stdout)
        yield "benchmates check (a plan of 8b)", _timed([*command, "check", str(plan), "examples/8b.csv"])
        yield (
            "benchmates sheets (a pack of 8b)",
            _timed([*command, "sheets", str(plan), "examples/8b.csv", "--out", f"{folder}/sheets"]),
        )


def _environment() -> dict[str, str]:
    import os

    return {**os.environ, "PYTHONPATH": str(ROOT / "src")}


def _timed(command: list[str]) -> str:
    spent: list[float] = []
    for _ in range(4):
        began = time.perf_counter()
        done = subprocess.run(command, cwd=ROOT, capture_output=True, check=False, env=_environment())
        spent.append(time.perf_counter() - began)
        if done.returncode:
            return f"failed with {done.returncode}: {done.stderr.decode(errors='replace')[-200:]}"
    return f"{spent[0]:.2f}, then {statistics.median(spent[1:]):.2f}"
