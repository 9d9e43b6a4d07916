"""The search against the true least, which complete dynamic programming finds in small classes."""

from __future__ import annotations

import pytest

from benchmarks.classes import groups_of, invented
from benchmarks.optimum import least_compromise
from benchmates.core.grouping.make import make_groups


@pytest.mark.parametrize(("pupils", "seed"), [(12, 1), (13, 2), (14, 3), (15, 4), (16, 5)])
def test_no_plan_beats_the_true_least_and_these_meet_it(pupils: int, seed: int) -> None:
    request = invented(pupils, seed).request(groups_of(4, 3, 5))
    plan = make_groups(request)
    least = least_compromise(request, [len(g.members) for g in plan.stages[0].groups])
    assert least is not None and least > 0
    assert plan.compromise.total >= least
    assert plan.compromise.total == least


def test_the_least_of_four_pupils_in_pairs_by_hand() -> None:
    """Three ways to pair four pupils; history alone, met counts 2, 0 | 1, 1 | 0, 5: the least is two meetings."""
    import datetime as dt

    from benchmates.core.grouping.request import Request
    from benchmates.core.grouping.wishes import Wishes
    from benchmates.core.roster.history import History, Sitting
    from tests.invented import ids, names_only

    a, b, c, d = ids(4)
    met = [(a, b)] * 2 + [(a, c), (b, d)] + [(b, c)] * 5
    sittings = [
        Sitting(dt.date(2026, 9, 1) + dt.timedelta(k), "x", "1", p)
        for k, pair in enumerate(met)
        for p in pair
    ]
    request = Request(
        names_only(4),
        groups_of(2, 2, 2),
        history=History(tuple(sittings)),
        wishes=Wishes({"new_partners": 10}),
    )
    assert least_compromise(request, [2, 2]) == 20
    assert make_groups(request).compromise.total == 20
