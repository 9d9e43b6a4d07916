"""What can be said of every plan: a bound for the lesson, and the cheapest plan where it has one grouping.

Each stage alone costs at least its own cheapest plan, and meeting again within the lesson only adds to it, so the sum
over stages bounds the lesson. It is exact where one stage is weighed, and weak for chains.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from benchmates.core.grouping.exact.groups import best_splits, cost_of, inner_sizes, places_of
from benchmates.core.grouping.exact.single import Prices, Proof, prove
from benchmates.core.grouping.search.numbers import Ints, Numbers
from benchmates.core.grouping.stop import Deadline


@dataclass(frozen=True)
class Bounded:
    """A bound on every plan, and the prices behind each stage's share (None if not had).

    ``groups`` (place by place, as pupil numbers) are set where a lesson of one grouping has a cheaper plan than the one
    handed in. ``complete`` tells that a complete search showed more than the prices do; ``nested`` that the prices of
    the last stage also cover the one inside it.
    """

    bound: int
    prices: tuple[Prices | None, ...]
    complete: bool
    groups: list[list[int]] | None = None
    nested: bool = False


def bounded(numbers: Numbers, occ: Ints, *, deadline: Deadline) -> Bounded:
    """Bound the lesson, and better a lesson of one grouping where the complete search finds a cheaper plan."""
    inside = _nested(numbers)
    proofs = (
        [None, _proof(numbers, 1, occ, deadline, within=0)]
        if inside
        else [_proof(numbers, t, occ, deadline) for t in range(len(numbers.seating))]
    )
    groups = None
    if (inside or len(proofs) == 1) and (last := proofs[-1]) is not None and last.better:
        groups = _parted(numbers, last.groups) if inside else in_places(last.groups, numbers, 0)
    return Bounded(
        sum(p.bound for p in proofs if p is not None),
        tuple(None if p is None else p.prices for p in proofs),
        any(p is not None and p.complete for p in proofs),
        groups,
        inside,
    )


def _nested(numbers: Numbers) -> bool:
    """Whether the lesson is one grouping inside another, and nothing else."""
    if len(numbers.seating) != 2 or numbers.seating[0] != numbers.seating[1]:
        return False
    inner, outer = numbers.group_of
    lies_inside = all(len(set(outer[inner == g].tolist())) == 1 for g in range(int(numbers.groups[0])))
    return (
        lies_inside
        and not numbers.free[1]
        and bool((numbers.origin < 0).all() and (numbers.groups > 1).all())
    )


def _proof(
    numbers: Numbers, t: int, occ: Ints, deadline: Deadline, within: int | None = None
) -> Proof | None:
    # After a move only new pairs are charged: no group has a cost of its own there, and nought is the bound.
    if numbers.origin[t] >= 0 or numbers.groups[t] < 2:
        return None
    stages = [t] if within is None else [within, t]

    def can_be_placed(groups: list[list[int]]) -> bool:
        if within is not None:
            return _parted(numbers, groups) is not None
        return len(numbers.seating) > 1 or in_places(groups, numbers, 0) is not None

    return prove(
        numbers,
        t,
        known=_groups(numbers, t, occ),
        cost=sum(_cost(numbers, k, _groups(numbers, k, occ)) for k in stages),
        deadline=deadline,
        step=min(_step(numbers, k) for k in stages),
        within=within,
        can_be_placed=can_be_placed,
    )


def _groups(numbers: Numbers, t: int, occ: Ints) -> list[list[int]]:
    members: list[list[int]] = [[] for _ in range(int(numbers.groups[t]))]
    for seat, group in enumerate(numbers.group_of[t]):
        members[int(group)].append(int(occ[numbers.seating[t], seat]))
    return [sorted(g) for g in members]


def _cost(numbers: Numbers, t: int, groups: list[list[int]]) -> int:
    return sum(int(cost_of(numbers, t, np.array([g], np.int16))[0]) for g in groups)


def _step(numbers: Numbers, t: int) -> int:
    """2 where all plans have one parity: sum |S| over groups has the parity of the sum of S, which no plan changes."""
    others = [int(w) for k, w in enumerate(numbers.weights[t]) if k != 1]
    return 2 if all(w % 2 == 0 for w in others) else 1


def _parted(numbers: Numbers, groups: list[list[int]]) -> list[list[int]] | None:
    """Groups in places of their own size, members in the order of their best split; None if a must breaks so."""
    from benchmates.core.grouping.search.local import energy

    placed = in_places(groups, numbers, 1, sizes=np.diff(numbers.start[1]).tolist())
    if placed is None:
        return None
    parted = []
    for group in placed:
        parts = inner_sizes(numbers, 0, 1, len(group))
        costs, ways = best_splits(numbers, 0, np.array([group], np.int16), parts)
        parted.append([group[k] for part in ways[int(costs.argmin(axis=0)[0])] for k in part])
    seatings, n = numbers.seat_ok.shape[:2]
    occ = np.tile(np.arange(n, dtype=np.int64), (seatings, 1))  # the others carry no must
    occ[int(numbers.seating[1])] = [p for group in parted for p in group]
    return parted if energy(numbers, occ) >> 48 == 0 else None


def in_places(
    groups: list[list[int]], numbers: Numbers, t: int, *, sizes: list[int] | None = None
) -> list[list[int]] | None:
    """Groups in places that are open to them, those that need an adult beside each other; None if it cannot be.

    ``sizes`` keeps every place to its own size; without it the sizes may stand in any order.
    """
    near = [any(numbers.near[p] for p in g) for g in groups]
    places = places_of(numbers, t)
    fits = [[sizes is None or sizes[k] == len(g) for k in range(places.shape[1])] for g in groups]
    open_to = [
        [k for k in range(places.shape[1]) if fits[j][k] and all(places[p, k] for p in g)]
        for j, g in enumerate(groups)
    ]
    # The choosy ones first: near an adult, then those with the fewest places; ties keep their order.
    order = sorted(range(len(groups)), key=lambda g: (not near[g], len(open_to[g])))
    at: dict[int, int] = {}

    def settle(turn: int) -> bool:
        if turn == len(order):
            return True
        group = order[turn]
        for place in open_to[group]:
            if place in at:
                continue
            at[place] = group
            if _adults([k for k, g in at.items() if near[g]]) <= numbers.adults and settle(turn + 1):
                return True
            del at[place]
        return False

    return [groups[at[k]] for k in range(len(groups))] if settle(0) else None


def _adults(places: list[int]) -> int:
    used, served = 0, -1
    for place in sorted(places):
        if place > served:
            used, served = used + 1, place + 1
    return used


def compile_proofs_ahead() -> None:
    """Compile the complete search, or fetch it from its cache, on a class of three."""
    from benchmates.core.grouping.search.numbers import smallest
    from benchmates.core.grouping.search.ready import cache_ready

    cache_ready()
    three = smallest()._replace(met=np.array([[0, 9, 1], [9, 0, 1], [1, 1, 0]], np.int64))
    bounded(three, np.array([[0, 1, 2]], np.int64), deadline=Deadline(60.0))
