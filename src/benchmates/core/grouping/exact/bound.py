"""What can be said of every plan: a bound for the lesson, and the cheapest plan where it has one grouping.

Each stage alone costs at least its own cheapest plan, and meeting again within the lesson only adds to it, so the sum
over stages bounds the lesson. It is exact where one stage is weighed, and weak for chains.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from benchmates.core.grouping.exact.groups import cost_of, places_of
from benchmates.core.grouping.exact.single import Prices, Proof, prove
from benchmates.core.grouping.search.numbers import Ints, Numbers
from benchmates.core.grouping.stop import Deadline


@dataclass(frozen=True)
class Bounded:
    """A bound on every plan, and the prices behind each stage's share (None if not had).

    ``groups`` (place by place, as pupil numbers) are set where a lesson of one grouping has a cheaper plan than the one
    handed in. ``complete`` tells that a complete search showed more than the prices do.
    """

    bound: int
    prices: tuple[Prices | None, ...]
    complete: bool
    groups: list[list[int]] | None = None


def bounded(numbers: Numbers, occ: Ints, *, deadline: Deadline) -> Bounded:
    """Bound the lesson, and better a lesson of one grouping where the complete search finds a cheaper plan."""
    proofs = [_proof(numbers, t, occ, deadline) for t in range(len(numbers.seating))]
    groups = None
    if len(proofs) == 1 and proofs[0] is not None and proofs[0].better:
        groups = in_places(proofs[0].groups, numbers)
    return Bounded(
        sum(p.bound for p in proofs if p is not None),
        tuple(None if p is None else p.prices for p in proofs),
        any(p is not None and p.complete for p in proofs),
        groups,
    )


def _proof(numbers: Numbers, t: int, occ: Ints, deadline: Deadline) -> Proof | None:
    # After a move only new pairs are charged: no group has a cost of its own there, and nought is the bound.
    if numbers.origin[t] >= 0 or numbers.groups[t] < 2:
        return None
    known = _groups(numbers, t, occ)
    return prove(
        numbers, t, known=known, cost=_cost(numbers, t, known), deadline=deadline, step=_step(numbers, t)
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


def in_places(groups: list[list[int]], numbers: Numbers) -> list[list[int]] | None:
    """Groups in places that are open to them, those that need an adult beside each other; None if it cannot be."""
    near = [any(numbers.near[p] for p in g) for g in groups]
    places = places_of(numbers, 0)
    open_to = [[k for k in range(places.shape[1]) if all(places[p, k] for p in g)] for g in groups]
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
