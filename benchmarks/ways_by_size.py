"""Every way of working at every class size from 8 to 36, three seeds each, as one page."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from benchmates.core.errors import CannotGroup, CannotPlan
from benchmates.core.grouping.checking import faults_in
from benchmates.core.grouping.make import make_groups
from benchmates.core.grouping.request import Request
from benchmates.core.grouping.result import GroupPlan
from benchmates.core.strategy.catalogue import ways
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.way import Way
from tests.invented import full_class, in_fours, lesson_in
from tests.laws.relations import broken

PAGE = Path(__file__).resolve().parents[1] / "docs/reference/ways-by-size.md"
SIZES = range(8, 37)
SEEDS = (1, 2, 3)
SECONDS = 0.15  # about eight minutes in all on a busy machine; 0.05 left some searches no turn at all
COLUMNS = 8

HEAD = """# Every way of working at every class size

Made by `make bench-full`; do not edit. Each cell was made three times, with three invented classes (two earlier lessons
in fours, most fields filled in, no musts) and {seconds} s each. It shows the groups of the stage with the largest
groups: 5x4 2x3 is five groups of four and two of three. **✓**: in all three, everybody present sits once in every stage
and every stage follows from the earlier one as the way says, found so both by the project's own checker and by the laws
in `tests/laws/relations.py`. A letter is the reason why there are no groups; the reasons stand below.

{valid} of {all} cells have groups, {refused} a reason, {faulty} a fault.
"""


@dataclass(frozen=True)
class Cell:
    """What came of one way at one size: sizes or a reason, and the faults found."""

    told: str
    reason: str = ""
    faults: tuple[str, ...] = ()


def cell(way: Way, pupils: int) -> Cell:
    """Make groups three times and look at each."""
    told, faults = "", []
    for seed in SEEDS:
        request = Request(
            full_class(pupils, seed),
            lesson_in(way),
            history=in_fours(pupils, 2, seed),
            seed=seed,
            seconds=SECONDS,
        )
        try:
            plan = make_groups(request)
        except (CannotPlan, CannotGroup) as refused:
            if not refused.told:
                faults.append(f"{way.key}, {pupils} pupils, seed {seed}: refused without a reason")
            return Cell("", " ".join(refused.told), tuple(faults))
        told = largest(plan)
        faults += [f"{way.key}, {pupils} pupils, seed {seed}: {f}" for f in _faults(plan, request)]
    return Cell(told, "", tuple(faults))


def _faults(plan: GroupPlan, request: Request) -> Iterator[str]:
    yield from broken(plan, request.lesson.way, request.present.ids)
    found = faults_in(
        plan, request.class_list, history=request.history, wishes=request.wishes, lesson=request.lesson
    )
    yield from (str(f) for f in found)


def largest(plan: GroupPlan) -> str:
    """The sizes of the stage with the largest groups, the whole class aside."""
    stages = [s for s in plan.stages if s.relation is not Relation.WHOLE]
    grouped = [s for s in stages if s.relation is not Relation.INDIVIDUAL] or stages
    most = max(grouped, key=lambda s: max(len(g.members) for g in s.groups))
    sizes = Counter(len(g.members) for g in most.groups)
    return " ".join(f"{times}x{size}" for size, times in sorted(sizes.items(), reverse=True))


def write_page() -> tuple[str, list[str]]:
    """Make the whole table and write it. Returns what was found, in a sentence, and every fault."""
    began = time.perf_counter()
    cells = {(w.key, n): cell(w, n) for w in ways() for n in SIZES}
    faults = [f for c in cells.values() for f in c.faults]
    counts = {
        "valid": sum(not c.reason and not c.faults for c in cells.values()),
        "refused": sum(bool(c.reason) for c in cells.values()),
        "faulty": sum(bool(c.faults) for c in cells.values()),
        "all": len(cells),
    }
    reasons = list(dict.fromkeys(c.reason for c in cells.values() if c.reason))
    parts = [HEAD.format(seconds=SECONDS, **counts)]
    for start in range(SIZES.start, SIZES.stop, COLUMNS):
        parts.append(_table(cells, range(start, min(start + COLUMNS, SIZES.stop)), reasons))
    parts.append("## Reasons\n\n" + "\n".join(f"- **{_mark(k)}** {r}" for k, r in enumerate(reasons)) + "\n")
    if faults:
        parts.append("## Faults\n\n" + "\n".join(f"- {f}" for f in faults) + "\n")
    PAGE.parent.mkdir(parents=True, exist_ok=True)
    PAGE.write_text("\n".join(parts), "utf-8")
    spent = time.perf_counter() - began
    return "{valid} of {all} cells with groups, {refused} with a reason, {faulty} with a fault".format(
        **counts
    ) + f" ({spent:.0f} s)", faults


def _table(cells: dict[tuple[str, int], Cell], sizes: range, reasons: Sequence[str]) -> str:
    lines = [f"## {sizes[0]} to {sizes[-1]} pupils", ""]
    lines += ["| way | " + " | ".join(str(n) for n in sizes) + " |", "|---" * (len(sizes) + 1) + "|"]
    for w in ways():
        shown = []
        for n in sizes:
            c = cells[w.key, n]
            shown.append(
                _mark(reasons.index(c.reason)) if c.reason else f"{c.told} {'✗' if c.faults else '✓'}"
            )
        lines.append(f"| {w.key} | " + " | ".join(shown) + " |")
    return "\n".join(lines) + "\n"


def _mark(k: int) -> str:
    return f"({chr(97 + k)})" if k < 26 else f"({chr(96 + k // 26)}{chr(97 + k % 26)})"
