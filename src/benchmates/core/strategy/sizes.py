"""The arithmetic of group sizes: how a number of pupils can be cut, and when a cross parts everybody."""

from __future__ import annotations

from collections.abc import Sequence

from benchmates.core.strategy.way import Size


def can_cut(pupils: int, least: int, most: int) -> bool:
    """Whether ``pupils`` can be cut into groups of ``least`` to ``most``: some whole k has k*least <= n <= k*most."""
    return any(k * least <= pupils <= k * most for k in range(1, pupils // least + 1))


def cut(pupils: int, size: Size, *, groups_at_least: int = 1) -> tuple[int, ...] | None:
    """Cut a number of pupils into groups near the target size.

    The number of groups is the one with the least total distance from the target, ties to fewer groups. Groups differ
    by at most one; those of the target size come first, so 22 in fours is 4, 4, 4, 5, 5.

    Returns
    -------
    tuple of int or None
        Sizes, or None when the limits cannot be kept.
    """
    fits = [
        k
        for k in range(groups_at_least, pupils // size.least + 1)
        if k >= 1 and k * size.least <= pupils <= k * size.most
    ]
    if not fits:
        return None
    # All groups of an even cut lie on one side of the target, so their total distance is |n - k * target|.
    best = min(fits, key=lambda k: (abs(pupils - k * size.target), k))
    return even_sizes(pupils, best, first=size.target)


def even_sizes(pupils: int, groups: int, *, first: int) -> tuple[int, ...]:
    """Sizes that differ by at most one, those nearest to ``first`` leading."""
    low, extra = divmod(pupils, groups)
    sizes = [low + 1] * extra + [low] * (groups - extra)
    return tuple(sorted(sizes, key=lambda s: (abs(s - first), -s)))


def crosses_perfectly(earlier: Sequence[int], new: Sequence[int]) -> bool:
    """Whether new groups can part every pair of earlier partners.

    Such a cross is a 0-1 table with the earlier sizes as row sums and the new ones as column sums; it exists if and
    only if the Gale-Ryser condition holds (Gale 1957; Ryser 1957).
    """
    if sum(earlier) != sum(new):
        return False
    columns = sorted(new, reverse=True)
    return all(sum(columns[:k]) <= sum(min(row, k) for row in earlier) for k in range(1, len(columns) + 1))


def least_repeats(earlier: Sequence[int], new: Sequence[int]) -> int:
    """The fewest pairs of earlier partners who must meet again in new groups of these sizes.

    The least sum of x(x-1)/2 over tables of whole numbers with these row and column sums: a transport problem with
    rising unit costs, whose linear relaxation has whole-number corners.
    """
    if crosses_perfectly(earlier, new):
        return 0
    return sum(x * (x - 1) // 2 for row in crossing_table(earlier, new) for x in row)


def crossing_table(earlier: Sequence[int], new: Sequence[int]) -> list[list[int]]:
    """How many pupils go from each earlier group to each new one, with the fewest repeated pairs."""
    import numpy as np
    from scipy.optimize import linprog

    rows, columns = len(earlier), len(new)
    depth = max(2, max(-(-r // columns) for r in earlier) + 1, max(-(-c // rows) for c in new) + 1)
    # One unit of flow each for the first, second, ... pupil in a cell, costing 0, 1, 2, ...
    cost = np.tile(np.arange(depth, dtype=float), rows * columns)
    cells = np.arange(rows * columns * depth) // depth
    balance = np.zeros((rows + columns, cost.size))
    balance[cells // columns, np.arange(cost.size)] = 1
    balance[rows + cells % columns, np.arange(cost.size)] = 1
    found = linprog(cost, A_eq=balance, b_eq=[*earlier, *new], bounds=(0, 1), method="highs-ds")
    if found.x is None:
        raise ValueError(f"no table has row sums {list(earlier)} and column sums {list(new)}")
    table = np.rint(found.x).astype(int).reshape(rows, columns, depth).sum(axis=2)
    return [[int(x) for x in row] for row in table]
