"""Every legal group of one stage with its cost: the columns of the exact side.

Thirty pupils have 142,506 possible fives; all are listed at once, on arrays. A group is legal when it parts no pupils
kept together and unites none kept apart. Costs are those of the referee, for one stage by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from benchmates.core.grouping.search.numbers import Flags, Ints, Numbers

MOST_GROUPS = 1_000_000  # sixes of 30 are 593,775; beyond this the list no longer fits the moment


@dataclass(frozen=True)
class Groups:
    """Groups of one size: ``members`` (m, size) in rising order, ``cost`` (m,), ``near`` (m,) who need an adult."""

    size: int
    members: NDArray[np.int16]
    cost: Ints
    near: Flags


def legal_groups(numbers: Numbers, t: int, size: int) -> Groups | None:
    """List the legal groups of one size in stage ``t``, or None where there would be too many."""
    n = numbers.met.shape[0]
    if _count(n, size) > MOST_GROUPS:
        return None
    members = _all_groups(n, size)
    legal = _keeps_apart(numbers.apart[t], members) & _keeps_together(numbers, members)
    members = members[legal & _has_a_place(numbers, t, members)]
    return Groups(size, members, cost_of(numbers, t, members), numbers.near[members].max(axis=1))


def _count(n: int, size: int) -> int:
    found = 1
    for k in range(size):
        found = found * (n - k) // (k + 1)
    return found


def _all_groups(n: int, size: int) -> NDArray[np.int16]:
    flat = np.fromiter((p for c in combinations(range(n), size) for p in c), np.int16)
    return flat.reshape(-1, size)


def _keeps_apart(apart: Flags, members: NDArray[np.int16]) -> NDArray[np.bool_]:
    legal = np.ones(len(members), np.bool_)
    for a, b in combinations(range(members.shape[1]), 2):
        legal &= apart[members[:, a], members[:, b]] == 0
    return legal


def places_of(numbers: Numbers, t: int) -> NDArray[np.bool_]:
    """(pupils, groups): whether some seat of the group is open to the pupil."""
    seating, groups = int(numbers.seating[t]), int(numbers.groups[t])
    seats = numbers.seat_ok[seating].astype(np.bool_)
    return np.array([seats[:, numbers.group_of[t] == g].any(axis=1) for g in range(groups)]).T


def _has_a_place(numbers: Numbers, t: int, members: NDArray[np.int16]) -> NDArray[np.bool_]:
    """Whether one place is open to all members, and nobody who has no other place is left out of it."""
    places = places_of(numbers, t)
    legal = np.ones(len(members), np.bool_)
    if places.all():
        return legal
    legal &= np.any(np.all(places[members], axis=1), axis=1)
    for place in range(places.shape[1]):
        only_here = np.flatnonzero(places[:, place] & (places.sum(axis=1) == 1))
        inside = np.isin(members, only_here).sum(axis=1)
        legal &= (inside == 0) | (inside == len(only_here))
    return legal


def _keeps_together(numbers: Numbers, members: NDArray[np.int16]) -> NDArray[np.bool_]:
    inside = np.zeros((len(members), members.shape[1]), np.int64)
    for a in range(members.shape[1]):
        for b in range(members.shape[1]):
            inside[:, a] += numbers.mates[members[:, a], members[:, b]]
    kept: NDArray[np.bool_] = (inside == numbers.mate_count[members]).all(axis=1)
    return kept


def cost_of(numbers: Numbers, t: int, members: NDArray[np.int16]) -> Ints:
    """What each group costs in stage ``t``, wish by wish."""
    new_partners, attainment, gender, works_well, lone = (int(w) for w in numbers.weights[t])
    size = members.shape[1]
    cost = np.zeros(len(members), np.int64)
    if new_partners:
        for a, b in combinations(range(size), 2):
            cost += new_partners * numbers.met[members[:, a], members[:, b]]
    cost += attainment * np.abs(numbers.off_mean[members].sum(axis=1))
    if gender:
        sides = numbers.side[members]
        cost += gender * np.maximum(0, np.abs((sides == 1).sum(axis=1) - (sides == 2).sum(axis=1)) - 1)
    if works_well:
        cost += works_well * _without_partner(numbers, members)
    if lone and size >= 3:
        cost += lone * _lone(numbers, members)
    return cost


def _without_partner(numbers: Numbers, members: NDArray[np.int16]) -> Ints:
    without = np.zeros(len(members), np.int64)
    for a in range(members.shape[1]):
        found = np.zeros(len(members), bool)
        for b in range(members.shape[1]):
            found |= numbers.likes[members[:, a], members[:, b]] == 1
        without += (numbers.names_some[members[:, a]] == 1) & ~found
    return without


def _lone(numbers: Numbers, members: NDArray[np.int16]) -> Ints:
    gender, eal, supported = numbers.gender[members], numbers.eal[members], numbers.supported[members]
    only_eal, only_supported = eal.sum(axis=1) == 1, supported.sum(axis=1) == 1
    lone = np.zeros(len(members), np.int64)
    for a in range(members.shape[1]):
        same = (gender == gender[:, a : a + 1]).sum(axis=1)
        only_gender = (gender[:, a] >= 0) & (same == 1)
        lone += only_gender | (only_eal & (eal[:, a] == 1)) | (only_supported & (supported[:, a] == 1))
    return lone
