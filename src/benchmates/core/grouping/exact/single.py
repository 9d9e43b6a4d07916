"""One stage proved: no plan costs less, or by how much one still might.

List every legal group, solve the linear relaxation by pricing over the list, then search all covers by reduced cost
with a growing allowance (pricing as in Barnhart et al. 1998, Operations Research 46; from memory). A plan found within
an allowance is the cheapest there is; when none is found the bound has risen by the allowance.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from benchmates.core.grouping.exact.groups import Groups, legal_groups
from benchmates.core.grouping.search.numbers import Ints, Numbers
from benchmates.core.grouping.stop import Deadline

FIRST_COLUMNS, MORE_COLUMNS = 1500, 600
FIRST_ALLOWANCE = 8.0
MOST_STEPS = 40_000_000
MOST_COVERS = 20_000
SLIP = 1e-6  # how far under its prices a group may lie before it is called in
ROUNDING = 1e-4  # what the relaxation's value may then be off by, before a bound is rounded up
MOST_PUPILS = 63  # pupils are bits of one word in the complete search


CanBePlaced = Callable[[list[list[int]]], bool]


@dataclass(frozen=True)
class Prices:
    """Dual prices: per pupil, per group size, per group that needs an adult (never positive), and their value."""

    pupils: NDArray[np.float64]
    sizes: NDArray[np.float64]
    near: float
    value: float


@dataclass(frozen=True)
class Proof:
    """The cheapest groups known as pupil numbers, their cost, a bound on every plan, and the prices behind it.

    ``complete`` tells that a complete search raised the bound above what the prices alone show.
    """

    groups: list[list[int]]
    cost: int
    bound: int
    prices: Prices
    complete: bool
    better: bool = False


def prove(
    numbers: Numbers,
    t: int,
    *,
    known: list[list[int]],
    cost: int,
    deadline: Deadline,
    step: int = 1,
    within: int | None = None,
    can_be_placed: CanBePlaced = lambda groups: True,
) -> Proof | None:
    """Bound stage ``t`` and find its cheapest plan, starting from a known one.

    Parameters
    ----------
    known, cost
        A legal plan as groups of pupil numbers, and what it costs in this stage.
    step
        The least difference between two plans: 2 where their parity is fixed, else 1.
    within
        An earlier stage whose groups lie inside those of ``t``; ``cost`` then counts both.
    can_be_placed
        Whether groups can take places in which the musts hold; a plan that cannot is passed over.

    Returns
    -------
    Proof or None
        None where there are too many groups to list or the relaxation was not solved in time.
    """
    if numbers.met.shape[0] > MOST_PUPILS:
        return None
    columns = _Columns.of(numbers, t, known, within)
    prices = None if columns is None else columns.priced(known, deadline)
    if columns is None or prices is None:
        return None
    start = Proof(known, cost, 0, prices, False)
    return _search(columns, prices, start, deadline, step, can_be_placed, placing_is_complete=within is None)


class _Columns:
    """The listed groups as columns of the relaxation."""

    def __init__(self, lists: list[Groups], counts: list[int], pupils: int, most_near: int) -> None:
        self.lists, self.counts, self.pupils, self.most_near = (
            lists,
            np.array(counts, np.int64),
            pupils,
            most_near,
        )
        self.cost = np.concatenate([g.cost for g in lists])
        self.kind = np.concatenate([np.full(len(g.cost), k) for k, g in enumerate(lists)])
        self.near = np.concatenate([g.near.astype(np.int64) for g in lists])
        self.starts = np.cumsum([0, *(len(g.cost) for g in lists)])

    @classmethod
    def of(cls, numbers: Numbers, t: int, known: list[list[int]], within: int | None) -> _Columns | None:
        sizes = sorted(Counter(len(g) for g in known).items())
        lists = [legal_groups(numbers, t, size, within) for size, _ in sizes]
        listed = [g for g in lists if g is not None]
        if len(listed) < len(lists):
            return None
        most_near = 2 * numbers.adults if numbers.any_near else len(known)
        return cls(listed, [count for _, count in sizes], numbers.met.shape[0], most_near)

    def members(self, column: int) -> list[int]:
        """The pupils of one column."""
        k = int(self.kind[column])
        return [int(p) for p in self.lists[k].members[column - self.starts[k]]]

    def reduced(self, prices: Prices) -> NDArray[np.float64]:
        """Cost less the prices of members, size and nearness, for every column."""
        of_members = np.concatenate([prices.pupils[g.members].sum(axis=1) for g in self.lists])
        reduced: NDArray[np.float64] = (
            self.cost - of_members - prices.sizes[self.kind] - prices.near * self.near
        )
        return reduced

    def priced(self, known: list[list[int]], deadline: Deadline) -> Prices | None:
        """Solve the relaxation over all columns: a few cheap ones first, then those that the prices call for."""
        active = set(
            np.argpartition(self.cost, min(FIRST_COLUMNS, len(self.cost) - 1))[:FIRST_COLUMNS].tolist()
        )
        active |= self._columns_of(known)
        while not deadline.passed:
            prices = self._relaxation(np.array(sorted(active)))
            if prices is None:
                return None
            reduced = self.reduced(prices)
            wanted = np.flatnonzero(reduced < -SLIP)
            if not wanted.size:
                return prices
            order = np.argsort(reduced[wanted])[:MORE_COLUMNS]
            active |= set(wanted[order].tolist())
        return None

    def _columns_of(self, known: list[list[int]]) -> set[int]:
        found = set()
        for k, listed in enumerate(self.lists):
            wanted = {tuple(sorted(g)) for g in known if len(g) == listed.size}
            found |= {int(self.starts[k]) + row for row in self._rows(listed, wanted)}
        return found

    @staticmethod
    def _rows(listed: Groups, wanted: set[tuple[int, ...]]) -> list[int]:
        rows = []
        for group in wanted:
            rows += np.flatnonzero((listed.members == np.array(group, np.int16)).all(axis=1)).tolist()
        return rows

    def _relaxation(self, active: Ints) -> Prices | None:
        from scipy.optimize import linprog
        from scipy.sparse import csr_array

        rows, columns = [], []
        for j, column in enumerate(active):
            inside = self.members(int(column))
            rows += [*inside, self.pupils + int(self.kind[column])]
            columns += [j] * (len(inside) + 1)
        shape = (self.pupils + len(self.counts), len(active))
        equal = csr_array((np.ones(len(rows)), (rows, columns)), shape=shape)
        near = csr_array(self.near[active][None, :].astype(float))
        solved = linprog(
            self.cost[active].astype(float),
            A_eq=equal,
            b_eq=np.concatenate([np.ones(self.pupils), self.counts]),
            A_ub=near,
            b_ub=[self.most_near],
            method="highs",
        )
        if solved.status != 0:
            return None
        equal_prices = solved.eqlin.marginals
        return Prices(
            equal_prices[: self.pupils],
            equal_prices[self.pupils :],
            min(0.0, float(solved.ineqlin.marginals[0])),
            float(solved.fun),
        )


def _search(
    columns: _Columns,
    prices: Prices,
    start: Proof,
    deadline: Deadline,
    step: int,
    can_be_placed: CanBePlaced,
    *,
    placing_is_complete: bool,
) -> Proof:
    """Search all covers with a growing allowance until the bound meets the cheapest plan, or time is up."""
    bound = _rounded(prices.value, start.cost, step)
    # Where not every way to place a plan is tried, one passed over may still be had: the bound told stops at it,
    # and the search for a plan that can be placed goes on.
    ceiling = start.cost
    allowance, complete = 0.0, False
    while bound < start.cost and not deadline.passed:
        # A plan of step less than the known one is the dearest still wanted.
        most = start.cost - step - prices.value + ROUNDING
        allowance = min(most, allowance + FIRST_ALLOWANCE)
        covers = _covers_within(columns, prices, allowance, start.cost)
        if covers is None:
            break
        complete = True
        for cost, groups in covers:
            if can_be_placed(groups):
                found = min(ceiling, cost, _rounded(prices.value + allowance, cost, step))
                return Proof(groups, cost, found, prices, complete=True, better=True)
            if not placing_is_complete:
                ceiling = min(ceiling, cost)
        bound = start.cost if allowance >= most else _rounded(prices.value + allowance, start.cost, step)
    return Proof(start.groups, start.cost, min(bound, ceiling), prices, complete)


def _rounded(value: float, cost: int, step: int) -> int:
    """The least whole cost not under ``value``, of the parity of ``cost`` where that is fixed."""
    least = max(0, ceil(value - ROUNDING))
    return least + (cost - least) % step


def _covers_within(
    columns: _Columns, prices: Prices, allowance: float, below: int
) -> list[tuple[int, list[list[int]]]] | None:
    """Plans within the allowance and under a cost, cheapest first; None where there are too many."""
    from benchmates.core.grouping.exact.covers import covers_within

    reduced = np.maximum(columns.reduced(prices), 0.0)
    kept = np.flatnonzero(reduced <= allowance)
    groups = [columns.members(int(c)) for c in kept]
    # Pupils with the fewest groups left come first, so that the search branches least at the top.
    times = np.bincount([p for g in groups for p in g], minlength=columns.pupils)
    number = np.argsort(np.argsort(times, kind="stable"), kind="stable")
    renamed = [[int(number[p]) for p in g] for g in groups]
    low = np.array([min(g) for g in renamed], np.int64)
    order = np.lexsort((reduced[kept], low))
    out = np.full((MOST_COVERS, int(columns.counts.sum())), -1, np.int64)
    paid = np.zeros(MOST_COVERS, np.int64)
    found = covers_within(
        np.array([sum(1 << p for p in g) for g in renamed], np.uint64)[order],
        reduced[kept][order],
        columns.cost[kept][order],
        columns.kind[kept][order],
        columns.near[kept][order],
        np.searchsorted(low[order], np.arange(columns.pupils + 1)).astype(np.int64),
        columns.counts,
        columns.most_near,
        np.uint64((1 << columns.pupils) - 1),
        allowance,
        below,
        MOST_STEPS,
        out,
        paid,
    )
    if found < 0:
        return None
    rows = sorted(range(found), key=lambda r: (int(paid[r]), r))
    return [(int(paid[r]), [groups[int(order[k])] for k in out[r] if k >= 0]) for r in rows]
