"""Complete search for plans built of listed groups whose reduced costs add up to no more than an allowance.

With prices feasible over all groups, a plan costs the value of the relaxation plus the reduced costs of its groups,
plus what its slack rows are priced at, which is never negative. A plan within the allowance therefore uses only groups
whose reduced costs *add up* to it: a depth-first exact cover that stops as soon as the sum passes the allowance.
"""

from __future__ import annotations

import numpy as np
from numba import njit


@njit(cache=True)
def covers_within(
    mask,
    rc,
    cost,
    kind,
    near,
    first,
    counts,
    most_near,
    everyone,
    allowance,
    below,
    most_steps,
    out,
    paid_out,
):
    """Every cover within the allowance that costs less than ``below``.

    Groups are sorted by (lowest pupil, reduced cost); those with lowest pupil p begin at ``first[p]``. ``mask`` is the
    set of pupils as bits, ``kind`` the index of the group's size, ``counts`` how many groups of each size a plan has,
    ``near`` whether somebody there needs an adult, of which ``most_near`` groups may be. ``out`` (covers, groups) and
    ``paid_out`` take the covers and their costs.

    Returns how many there are, or -1 when there were too many, or too many steps.
    """
    depth_most = out.shape[1]
    chosen = np.zeros(depth_most, np.int64)
    at = np.zeros(depth_most + 1, np.int64)
    end = np.zeros(depth_most + 1, np.int64)
    spent = np.zeros(depth_most + 1, np.float64)
    paid = np.zeros(depth_most + 1, np.int64)
    taken = np.zeros(depth_most + 1, np.uint64)
    near_used = np.zeros(depth_most + 1, np.int64)
    left = counts.copy()
    found, steps, depth = 0, 0, 0
    at[0], end[0] = first[0], first[1]
    while depth >= 0:
        moved = False
        while at[depth] < end[depth]:
            k = at[depth]
            at[depth] += 1
            steps += 1
            if spent[depth] + rc[k] > allowance:
                at[depth] = end[depth]
                break
            if mask[k] & taken[depth] or left[kind[k]] == 0 or near_used[depth] + near[k] > most_near:
                continue
            if paid[depth] + cost[k] >= below:
                continue
            chosen[depth] = k
            taken[depth + 1] = taken[depth] | mask[k]
            if taken[depth + 1] == everyone:
                if found == out.shape[0]:
                    return -1
                out[found, : depth + 1] = chosen[: depth + 1]
                out[found, depth + 1 :] = -1
                paid_out[found] = paid[depth] + cost[k]
                found += 1
                continue
            if depth + 1 == depth_most:
                continue
            left[kind[k]] -= 1
            spent[depth + 1] = spent[depth] + rc[k]
            paid[depth + 1] = paid[depth] + cost[k]
            near_used[depth + 1] = near_used[depth] + near[k]
            p = 0
            while (taken[depth + 1] >> np.uint64(p)) & np.uint64(1):
                p += 1
            depth += 1
            at[depth], end[depth] = first[p], first[p + 1]
            moved = True
            break
        if steps > most_steps:
            return -1
        if not moved:
            depth -= 1
            if depth >= 0:
                left[kind[chosen[depth]]] += 1
    return found
