"""The least compromise of one stage in a small class, by complete dynamic programming over sets of pupils.

Written from the formulas that `benchmates group --explain-weights` prints, not from the engine: a group's cost, then
the cheapest way to cut every set of pupils into groups of the sizes left.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from functools import cache
from itertools import combinations

from benchmates.core.grouping.request import Request
from benchmates.core.roster.musts import Kind
from benchmates.core.roster.pupil import Pupil

FORBIDDEN = 10**9
STAGE = "Groups"


def least_compromise(request: Request, sizes: Sequence[int]) -> int | None:
    """The true least for one new stage of these sizes; None when no groups keep the musts."""
    cost = group_cost(request)
    people = list(request.present)
    costs = {
        size: {
            sum(1 << k for k in some): cost([people[k] for k in some])
            for some in combinations(range(len(people)), size)
        }
        for size in set(sizes)
    }

    @cache
    def rest(left: int, sizes_left: tuple[int, ...]) -> int:
        if not left:
            return 0
        first, others = left & -left, [k for k in range(len(people)) if left >> k & 1][1:]
        least = FORBIDDEN
        for size in set(sizes_left):
            smaller = list(sizes_left)
            smaller.remove(size)
            for mates in combinations(others, size - 1):
                group = first | sum(1 << k for k in mates)
                here = costs[size][group]
                if here < least:
                    least = min(least, here + rest(left & ~group, tuple(smaller)))
        return least

    found = rest((1 << len(people)) - 1, tuple(sorted(sizes)))
    return found if found < FORBIDDEN else None


def group_cost(request: Request) -> Callable[[Sequence[Pupil]], int]:
    """What one group costs under the request's wishes, FORBIDDEN where a must is broken (apart and together only)."""
    present = list(request.present)
    weigh = {
        w: request.wishes.weight(w, STAGE)
        for w in ("new_partners", "attainment", "gender", "works_well", "lone")
    }
    met = request.history.meetings([p.id for p in present])
    here = {p.id for p in present}
    values = [p.attainment for p in present if p.attainment is not None]
    mean = int(sum(values) / len(values) + 0.5) if values else 0
    genders = Counter(p.gender for p in present if p.gender)
    two = sorted(genders, key=lambda g: (-genders[g], g))[:2]

    def cost(group: Sequence[Pupil]) -> int:
        ids = {p.id for p in group}
        for must in request.musts:
            inside = len(ids & set(must.pupils))
            if must.kind is Kind.APART and inside > 1:
                return FORBIDDEN
            if must.kind is Kind.TOGETHER and 0 < inside < len(here & set(must.pupils)):
                return FORBIDDEN
        repeats = sum(met[a.id, b.id] for a, b in combinations(group, 2))
        off = abs(sum(p.attainment - mean for p in group if p.attainment is not None))
        uneven = 0
        if len(two) == 2:
            one, other = (sum(p.gender == g for p in group) for g in two)
            uneven = max(0, abs(one - other) - 1)
        without = sum(bool(here & set(p.works_well_with)) and not ids & set(p.works_well_with) for p in group)
        amounts = {"new_partners": repeats, "attainment": off, "gender": uneven, "works_well": without}
        return sum(weigh[w] * amount for w, amount in amounts.items()) + weigh["lone"] * _lone(group)

    return cost


def _lone(group: Sequence[Pupil]) -> int:
    if len(group) < 3:
        return 0
    kinds = [
        [p.id for p in group if p.gender is not None and p.gender == g] for g in {p.gender for p in group}
    ]
    kinds += [[p.id for p in group if p.eal], [p.id for p in group if p.adult_support]]
    return len({kind[0] for kind in kinds if len(kind) == 1})
