"""Do the prices of a certificate hold? One pass over every legal group, sharing no code with whoever set them.

If no legal group costs less than the prices of its members, its size and its need for an adult, all prices together
bound every plan. Where some group undercuts its prices by a little (they are rounded), the bound falls by no more than
that for every group of the size, so what is worked out here holds whatever the prices are.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from itertools import combinations
from math import ceil, comb
from typing import Any

from benchmates.core.errors import Fault
from benchmates.core.grouping.checking.scene import Scene
from benchmates.core.grouping.result import StageGroups
from benchmates.core.grouping.wishes import Wishes
from benchmates.core.roster.history import History
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.roster.pupil import Pupil
from benchmates.core.terms import PupilId

MOST_GROUPS = 1_000_000
SLIP = 1e-4  # prices are printed with six digits; thirty of them may be off by this much together


def price_faults(
    scene: Scene, musts: Sequence[Must], history: History, wishes: Wishes, adults: int
) -> list[Fault]:
    """Faults in the certificate of a plan; none when there is no certificate of prices to check."""
    told: Any = scene.plan.certificate
    if not isinstance(told, Mapping) or told.get("kind") != "prices":
        return []
    try:
        shares = [_share(scene, dict(s), musts, history, wishes, adults) for s in list(told["stages"])]
        stated = int(told["bound"])
    except (KeyError, TypeError, ValueError, IndexError):
        return [Fault("how we know", "the prices cannot be read", "Make the groups again.")]
    shown = sum(max(0, ceil(share - SLIP)) for share in shares)
    if shown < stated:
        found = f"the prices are said to show that every plan costs {stated}, and they show {shown}"
        return [
            Fault(
                "how we know", found, "Check it with the class, musts, history and wishes it was made with."
            )
        ]
    if stated > scene.plan.compromise.total:
        return [Fault("how we know", "the prices show more than this plan costs", "Make the groups again.")]
    return []


def _share(
    scene: Scene,
    told: dict[str, Any],
    musts: Sequence[Must],
    history: History,
    wishes: Wishes,
    adults: int,
) -> float:
    """What the prices of one stage show that every plan costs there."""
    stage = scene.plan.stages[int(str(told["stage"]))]
    pupil_price = {PupilId(p): float(x) for p, x in dict(told["pupils"]).items()}
    size_price = {int(s): float(x) for s, x in dict(told["sizes"]).items()}
    near_price = float(str(told["near_adult"]))
    if near_price > 0 or set(pupil_price) != set(scene.present.ids):
        raise ValueError("not prices of this class")
    counts = Counter(len(g.members) for g in stage.groups)
    near = {p for m in musts if m.kind is Kind.NEAR_ADULT for p in m.pupils}
    cost = _costs(scene, stage, history, wishes)
    legal = _legal(scene, stage, musts)
    shown = sum(pupil_price.values()) + sum(counts[s] * size_price[s] for s in counts)
    shown += near_price * (2 * adults if near else len(stage.groups))
    for size, count in counts.items():
        if comb(len(scene.present), size) > MOST_GROUPS:
            raise ValueError("too many groups to go through")
        lowest = 0.0
        for group in combinations(scene.present, size):
            if legal(group):
                price = size_price[size] + sum(pupil_price[p.id] for p in group)
                price += near_price * any(p.id in near for p in group)
                lowest = min(lowest, cost(group) - price)
        shown += count * lowest
    return shown


Group = tuple[Pupil, ...]


def _legal(scene: Scene, stage: StageGroups, musts: Sequence[Must]) -> Callable[[Group], bool]:
    """Whether the musts allow a group. Pupils with a bench of their own count as apart, or together, by bench."""
    here = frozenset(scene.present.ids)
    apart: set[frozenset[PupilId]] = set()
    mates: dict[PupilId, set[PupilId]] = {}
    for must in musts:
        pairs = [frozenset(two) for two in combinations([p for p in must.pupils if p in here], 2)]
        if must.kind is Kind.APART:
            apart.update(pairs)
        elif must.kind is Kind.TOGETHER:
            _add(mates, pairs)
    for one, other in combinations(_placed(scene, musts), 2):
        pair = frozenset((one, other))
        if stage.group_of(one).label == stage.group_of(other).label:
            _add(mates, [pair])
        else:
            apart.add(pair)
    apart |= _one_role(stage, musts, here)

    def legal(group: Group) -> bool:
        ids = {p.id for p in group}
        return all(mates.get(p, set()) <= ids for p in ids) and not any(
            frozenset(two) in apart for two in combinations(ids, 2)
        )

    return legal


def _add(mates: dict[PupilId, set[PupilId]], pairs: Sequence[frozenset[PupilId]]) -> None:
    for one, other in map(tuple, pairs):
        mates.setdefault(one, set()).add(other)
        mates.setdefault(other, set()).add(one)


def _placed(scene: Scene, musts: Sequence[Must]) -> list[PupilId]:
    """Pupils fixed at a bench or in a group; where that is, the plan shows (and another check has looked at it)."""
    roles = {role for s in scene.plan.stages for g in s.groups for role in g.roles.values()}
    found: dict[PupilId, None] = {}
    for must in musts:
        if must.kind is Kind.FIXED:
            for p in must.pupils:
                here = p in scene.present.ids
                if here and (must.where or scene.present.pupil(p).bench) and not _is_role(must, roles):
                    found[p] = None
    return list(found)


def _is_role(must: Must, roles: set[str]) -> bool:
    where = (must.where or "").casefold()
    return where.startswith("role") or where in {r.casefold() for r in roles}


def _one_role(stage: StageGroups, musts: Sequence[Must], here: frozenset[PupilId]) -> set[frozenset[PupilId]]:
    """Pupils fixed to a role that each group has once cannot share a group."""
    roles = {p: role for g in stage.groups for p, role in g.roles.items()}
    fixed = [
        p
        for m in musts
        if m.kind is Kind.FIXED and _is_role(m, set(roles.values()))
        for p in m.pupils
        if p in here
    ]
    return {
        frozenset((a, b))
        for a, b in combinations(fixed, 2)
        if roles.get(a) is not None and roles.get(a) == roles.get(b)
    }


def _costs(scene: Scene, stage: StageGroups, history: History, wishes: Wishes) -> Callable[[Group], int]:
    """What a group costs in one stage by itself, from the formulas of the wishes."""
    weight = {
        w: wishes.weight(w, stage.name)
        for w in ("new_partners", "attainment", "gender", "works_well", "lone")
    }
    known = [p.attainment for p in scene.present if p.attainment is not None]
    mean = (2 * sum(known) + len(known)) // (2 * len(known)) if known else 0
    held = Counter(p.gender for p in scene.present if p.gender)
    two = sorted(held, key=lambda g: (-held[g], g))[:2]
    here = frozenset(scene.present.ids)
    friends = {p.id: (set(p.works_well_with) - {p.id}) & here for p in scene.present}
    met = {frozenset(pair): h for pair, h in history.meetings(scene.present.ids).items()}

    def cost(group: Group) -> int:
        ids = {p.id for p in group}
        total = weight["attainment"] * abs(
            sum(p.attainment - mean for p in group if p.attainment is not None)
        )
        if weight["new_partners"] and met:
            total += weight["new_partners"] * sum(
                met.get(frozenset(pair), 0) for pair in combinations(ids, 2)
            )
        if weight["gender"] and len(two) == 2:
            a, b = (sum(p.gender == g for p in group) for g in two)
            total += weight["gender"] * max(0, abs(a - b) - 1)
        if weight["works_well"]:
            total += weight["works_well"] * sum(bool(friends[p]) and not friends[p] & ids for p in ids)
        if weight["lone"] and len(group) >= 3:
            total += weight["lone"] * _lone(group)
        return total

    return cost


def _lone(group: Group) -> int:
    alone: set[PupilId] = set()
    for marks in (
        [p.gender or None for p in group],
        [p.eal or None for p in group],
        [p.adult_support or None for p in group],
    ):
        times = Counter(marks)
        alone |= {p.id for p, mark in zip(group, marks, strict=True) if mark is not None and times[mark] == 1}
    return len(alone)
