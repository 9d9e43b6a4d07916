"""The kernel and the referee are two codes for one compromise, and must agree to the last unit."""

from __future__ import annotations

import os
import subprocess
import sys
from collections import Counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchmates.core.grouping.arrange import arrange
from benchmates.core.grouping.cost import compromise
from benchmates.core.grouping.fixed import settle
from benchmates.core.grouping.problem import Problem, set_up
from benchmates.core.grouping.request import Request
from benchmates.core.grouping.rota import Rota
from benchmates.core.grouping.search.local import Found, energy, seats_of
from benchmates.core.grouping.search.numbers import packed
from benchmates.core.grouping.search.ready import kernel
from benchmates.core.grouping.seats import lay_out
from benchmates.core.grouping.wishes import Wishes
from benchmates.core.strategy.catalogue import ways
from benchmates.core.strategy.shape import CannotCut, plan_shape
from tests.invented import full_class, in_fours, lesson_in

KEYS = [w.key for w in ways()]
WEIGHTS = st.fixed_dictionaries(
    {w: st.integers(0, 12) for w in ("new_partners", "attainment", "gender", "works_well", "lone")}
)


def a_problem(key: str, pupils: int, seed: int, weights: dict[str, int]) -> tuple[Request, Problem] | None:
    way = next(w for w in ways() if w.key == key)
    request = Request(
        full_class(pupils, seed), lesson_in(way), history=in_fours(pupils, 4, seed), wishes=Wishes(weights)
    )
    try:
        layout = lay_out(plan_shape(way, pupils))
    except CannotCut:
        return None
    fixing = settle((), layout, request.present)
    return request, set_up(request, layout, fixing, ())


def seated_at_random(problem: Problem, seed: int) -> np.ndarray:
    chance = np.random.default_rng(seed)
    seatings, n = problem.numbers.seat_ok.shape[:2]
    return np.array([chance.permutation(n) for _ in range(seatings)], np.int64)


def referee(request: Request, problem: Problem, occ: np.ndarray) -> int:
    fixing = settle((), problem.layout, request.present)
    stages = arrange(occ, problem.layout, fixing, problem.ids, Rota(Counter(), seed=1))
    meetings = request.history.meetings(request.present.ids)
    return compromise(stages, present=request.present, meetings=meetings, wishes=request.wishes).total


@settings(max_examples=150)
@given(st.sampled_from(KEYS), st.integers(6, 32), st.integers(0, 10**6), WEIGHTS)
def test_the_kernel_costs_what_the_referee_costs(key, pupils, seed, weights):
    made = a_problem(key, pupils, seed, weights)
    if made is None:
        return
    request, problem = made
    occ = seated_at_random(problem, seed)
    found = Found(occ, energy(problem.numbers, occ), "")
    assert found.compromise == referee(request, problem, occ)
    assert found.broken == 0


@settings(max_examples=60)
@given(st.sampled_from(KEYS), st.integers(6, 32), st.integers(0, 10**6), WEIGHTS, st.integers(0, 2))
def test_the_energy_kept_swap_by_swap_is_that_worked_out_anew(key, pupils, seed, weights, rounds):
    """Every change that the kernel adds up is the difference of two full costs."""
    made = a_problem(key, pupils, seed, weights)
    if made is None:
        return
    _, problem = made
    fast, flat = kernel(), packed(problem.numbers)
    occ = seated_at_random(problem, seed)
    pos, best = seats_of(occ), occ.copy()
    start = fast.energy(flat, occ, pos)
    state = np.array([seed + 1], np.uint64)
    now, lowest = fast.improve(flat, occ, pos, best, start, start, 300, 30.0, 1.0, 300, state, rounds)
    assert fast.energy(flat, occ, seats_of(occ)) == now
    assert (pos == seats_of(occ)).all()
    assert fast.energy(flat, best, seats_of(best)) == lowest <= min(start, now)


@settings(max_examples=40)
@given(st.sampled_from(KEYS), st.integers(6, 24), st.integers(0, 10**6))
def test_numbering_pupils_otherwise_changes_no_cost(key, pupils, seed):
    """Relabelling pupils on their seats, with everything known of them, costs the same."""
    made = a_problem(key, pupils, seed, {"new_partners": 10, "attainment": 1, "works_well": 8, "lone": 6})
    if made is None:
        return
    _, problem = made
    q = problem.numbers
    occ = seated_at_random(problem, seed)
    new = np.random.default_rng(seed + 1).permutation(pupils)  # old number -> new number
    old = np.argsort(new)
    again = q._replace(
        met=q.met[np.ix_(old, old)],
        likes=q.likes[np.ix_(old, old)],
        apart=q.apart[:, old][:, :, old],
        mates=q.mates[np.ix_(old, old)],
        **{
            name: getattr(q, name)[old]
            for name in ("off_mean", "side", "gender", "eal", "supported", "names_some", "near", "stay")
        },
    )
    assert energy(again, new[occ]) == energy(q, occ)


@pytest.mark.long
def test_the_kernel_agrees_with_the_referee_when_nothing_is_compiled():
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", __file__, "-k", "referee_costs"],
        env={**os.environ, "NUMBA_DISABLE_JIT": "1"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout[-2000:]
    assert "1 passed" in done.stdout
