"""The compromise and the repeats, worked out a second time from the formulas of the wishes."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import combinations

from benchmates.core.grouping.result import Repeat, StageGroups
from benchmates.core.grouping.wishes import Wishes
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.history import History
from benchmates.core.roster.pupil import Pupil
from benchmates.core.strategy.relation import Relation
from benchmates.core.terms import PupilId

Two = frozenset[PupilId]

# Written out again rather than taken from the relation itself: a slip there should show here.
WEIGHED = (
    Relation.NEW,
    Relation.MERGE,
    Relation.SPLIT,
    Relation.CROSS,
    Relation.ONE_MOVES,
    Relation.ONE_STAYS,
)
MOVES = (Relation.ONE_MOVES, Relation.ONE_STAYS)
FREE_TO_PART = (Relation.NEW, Relation.CROSS)


def weigh(
    stages: Sequence[StageGroups], present: ClassList, history: History, wishes: Wishes
) -> tuple[dict[str, int], ...]:
    """What each wish costs in each stage; wishes that cost nothing there are left out."""
    costs: list[dict[str, int]] = [{} for _ in stages]
    for k, met in enumerate(_meetings(stages, present, history)):
        stage = stages[k]
        costs[k]["new_partners"] = wishes.weight("new_partners", stage.name) * sum(map(sum, met.values()))
        if is_weighed(stage) and stage.relation not in MOVES:
            for group in stage.groups:
                members = [present.pupil(p) for p in group.members]
                for wish, units in _units(members, present).items():
                    costs[k][wish] = costs[k].get(wish, 0) + wishes.weight(wish, stage.name) * units
    return tuple({wish: cost for wish, cost in of_stage.items() if cost} for of_stage in costs)


def repeats_of(stages: Sequence[StageGroups], present: ClassList, history: History) -> set[Repeat]:
    """Every pair together again, as (earlier, later) in list order."""
    order = {p: k for k, p in enumerate(present.ids)}
    again = set()
    for k, met in enumerate(_meetings(stages, present, history)):
        for pair, (before, today) in met.items():
            one, other = sorted(pair, key=order.__getitem__)
            again.add(Repeat((one, other), k, before, today))
    return again


def is_weighed(stage: StageGroups) -> bool:
    """A stage of single pupils or of the whole class costs nothing, whatever it is called."""
    return (
        stage.relation in WEIGHED and len(stage.groups) > 1 and any(len(g.members) > 1 for g in stage.groups)
    )


# ---- who has met whom


def _meetings(
    stages: Sequence[StageGroups], present: ClassList, history: History
) -> list[dict[Two, tuple[int, int]]]:
    """For each stage the pairs charged there that have met: (in earlier lessons, earlier today)."""
    before = _met_in(history)
    today: Counter[Two] = Counter()
    charged: list[dict[Two, tuple[int, int]]] = []
    for stage in stages:
        pairs = _pairs_made(stage, stages) if is_weighed(stage) else set()
        counts = {p: (before[p], today[p] if stage.relation in FREE_TO_PART else 0) for p in pairs}
        charged.append({p: h for p, h in counts.items() if sum(h)})
        today.update(pairs)
    return charged


def _met_in(history: History) -> Counter[Two]:
    tables: dict[tuple[dt.date, str, str], set[PupilId]] = {}
    for s in history.sittings:
        tables.setdefault((s.date, s.stage, s.group), set()).add(s.pupil)
    return Counter(pair for table in tables.values() for pair in _pairs(table))


def _pairs_made(stage: StageGroups, stages: Sequence[StageGroups]) -> set[Two]:
    pairs = {pair for g in stage.groups for pair in _pairs(g.members)}
    if stage.relation in MOVES and stage.of is not None:
        pairs -= {pair for g in stages[stage.of].groups for pair in _pairs(g.members)}
    return pairs


def _pairs(members: Iterable[PupilId]) -> set[Two]:
    return {frozenset(two) for two in combinations(members, 2)}


# ---- one group


def _units(members: Sequence[Pupil], present: ClassList) -> dict[str, int]:
    return {
        "attainment": _off_balance(members, present),
        "gender": _uneven(members, present),
        "works_well": _nobody_named(members, present),
        "lone": _only_ones(members),
    }


def _off_balance(members: Sequence[Pupil], present: ClassList) -> int:
    known = [p.attainment for p in present if p.attainment is not None]
    if not known:
        return 0
    # Half up in whole numbers: floor(mean + 1/2) = floor((2 * sum + n) / (2 * n)).
    mean = (2 * sum(known) + len(known)) // (2 * len(known))
    return abs(sum(p.attainment - mean for p in members if p.attainment is not None))


def _uneven(members: Sequence[Pupil], present: ClassList) -> int:
    held = Counter(p.gender for p in present if p.gender)
    most = sorted(held, key=lambda g: (-held[g], g))[:2]
    if len(most) < 2:
        return 0
    one, other = (sum(p.gender == g for p in members) for g in most)
    return max(0, abs(one - other) - 1)


def _nobody_named(members: Sequence[Pupil], present: ClassList) -> int:
    here, group = set(present.ids), {p.id for p in members}
    named = [(set(p.works_well_with) - {p.id}) & here for p in members]
    return sum(1 for friends in named if friends and not friends & group)


def _only_ones(members: Sequence[Pupil]) -> int:
    if len(members) < 3:
        return 0
    alone: set[PupilId] = set()
    for kind in ("gender", "eal", "adult_support"):
        held: dict[object, list[PupilId]] = {}
        for p in members:
            if getattr(p, kind):  # blank and "no" make nobody the only one
                held.setdefault(getattr(p, kind), []).append(p.id)
        alone.update(ids[0] for ids in held.values() if len(ids) == 1)
    return len(alone)
