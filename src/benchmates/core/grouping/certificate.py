"""The certificate of a bound: prices that anyone can check in one pass over all legal groups.

One price for every pupil, one for every size of group, and one (never positive) for a group that needs an adult. If no
legal group costs less than the prices of its members, its size and its need, then no plan costs less than all prices
together. A complete search may show more than the prices do; the certificate says so and carries only the prices.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil

from benchmates.core.grouping.exact.bound import Bounded
from benchmates.core.grouping.exact.single import ROUNDING
from benchmates.core.grouping.problem import Problem

DIGITS = 6


def certificate(known: Bounded, problem: Problem) -> Mapping[str, object]:
    """Prices by pupil id for every weighed stage, rounded; checked by ``checking.prices``."""
    numbers = problem.numbers
    stages = []
    for t, prices in enumerate(known.prices):
        if prices is None:
            continue
        sizes = sorted(
            {int(numbers.start[t, g + 1] - numbers.start[t, g]) for g in range(int(numbers.groups[t]))}
        )
        stages.append(
            {
                "stage": problem.tracked[t],
                "within": problem.tracked[t - 1] if known.nested else None,
                "pupils": {
                    p: round(float(x), DIGITS) for p, x in zip(problem.ids, prices.pupils, strict=True)
                },
                "sizes": {str(s): round(float(x), DIGITS) for s, x in zip(sizes, prices.sizes, strict=True)},
                "near_adult": round(prices.near, DIGITS),
            }
        )
    shown = sum(max(0, ceil(p.value - ROUNDING)) for p in known.prices if p is not None)
    return {"kind": "prices", "bound": shown, "searched": known.complete, "stages": stages}
