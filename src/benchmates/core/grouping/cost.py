"""The compromise, stated once: what the wishes cost, in plain Python.

This is the referee. Every kernel must agree with it to the last unit (``tests/laws``).

    compromise = sum over counted stages, over wishes, of weight x amount

    new_partners   sum over pairs together in the stage of h, the number of times they met before. In stages that
                   could have parted them (new, cross) h also counts the earlier counted stages of this lesson.
    attainment     sum over groups of |sum over members with a value of (value - m)|, m the mean of those present,
                   rounded half up.
    gender         sum over groups of max(0, |a - b| - 1).
    works_well     pupils who named somebody present and have none of them in the group.
    lone           pupils who are the only one of a gender, of EAL or of supported pupils in a group of three or more.

Counted stages are new, merge, split, cross, one_moves and one_stays, unless they hold the whole class in one group.
When one moves or stays, only the pairs that the move creates are charged, and nothing else.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from itertools import combinations

from benchmates.core.grouping.result import Compromise, Repeat, StageGroups
from benchmates.core.grouping.wishes import NAMES, Wishes
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.pupil import Pupil
from benchmates.core.terms import PupilId

Pair = tuple[PupilId, PupilId]
Meetings = Mapping[Pair, int]


def compromise(
    stages: Sequence[StageGroups], *, present: ClassList, meetings: Meetings, wishes: Wishes
) -> Compromise:
    """Weigh groups against the wishes.

    Parameters
    ----------
    stages
        Groups of every stage of the lesson, in order.
    present
        Those who are here, in list order.
    meetings
        Times each pair met before, keyed in list order (``History.meetings(present.ids)``).
    wishes
        The weights.
    """
    by_stage = [dict.fromkeys(NAMES, 0) for _ in stages]
    pairs = _charged_pairs(stages, present)
    for k, stage in enumerate(stages):
        if not is_counted(stage):
            continue
        amounts = {"new_partners": _met_before(k, stages, pairs, meetings)}
        if not _charges_pairs_only(stage):
            amounts |= _of_groups([[present.pupil(p) for p in g.members] for g in stage.groups], present)
        for wish, amount in amounts.items():
            by_stage[k][wish] = wishes.weight(wish, stage.name) * amount
    return Compromise(tuple(by_stage))


def repeats(stages: Sequence[StageGroups], *, present: ClassList, meetings: Meetings) -> tuple[Repeat, ...]:
    """Every pair that is together again in a counted stage, in list order stage by stage."""
    pairs = _charged_pairs(stages, present)
    again: list[Repeat] = []
    for k, stage in enumerate(stages):
        for pair in sorted(pairs[k], key=_by_list(present)):
            before, today = meetings.get(pair, 0), _today(k, stages, pairs, pair)
            if before + today and is_counted(stage):
                again.append(Repeat(pair, k, before, today))
    return tuple(again)


def is_counted(stage: StageGroups) -> bool:
    """Whether wishes are weighed here: the relation counts, and it is neither the whole class nor single pupils."""
    return (
        stage.relation.is_counted and len(stage.groups) > 1 and any(len(g.members) > 1 for g in stage.groups)
    )


def _charges_pairs_only(stage: StageGroups) -> bool:
    return stage.relation.one_goes


# ---- pairs


def _charged_pairs(stages: Sequence[StageGroups], present: ClassList) -> list[set[Pair]]:
    """The pairs that count as together in each stage; after a move only those that the move created."""
    order = {p: k for k, p in enumerate(present.ids)}

    def together(stage: StageGroups) -> set[Pair]:
        return {
            pair for g in stage.groups for pair in combinations(sorted(g.members, key=order.__getitem__), 2)
        }

    pairs: list[set[Pair]] = []
    for stage in stages:
        now = together(stage) if is_counted(stage) else set()
        if _charges_pairs_only(stage) and stage.of is not None:
            now -= together(stages[stage.of])
        pairs.append(now)
    return pairs


def _today(k: int, stages: Sequence[StageGroups], pairs: Sequence[set[Pair]], pair: Pair) -> int:
    """Meetings earlier in this lesson that count against a pair in stage ``k``."""
    return sum(pair in earlier for earlier in pairs[:k]) if stages[k].relation.is_free else 0


def _met_before(k: int, stages: Sequence[StageGroups], pairs: Sequence[set[Pair]], meetings: Meetings) -> int:
    return sum(meetings.get(pair, 0) + _today(k, stages, pairs, pair) for pair in pairs[k])


def _by_list(present: ClassList) -> Callable[[Pair], tuple[int, int]]:
    order = {p: k for k, p in enumerate(present.ids)}
    return lambda pair: (order[pair[0]], order[pair[1]])


# ---- groups


def _of_groups(groups: Sequence[Sequence[Pupil]], present: ClassList) -> dict[str, int]:
    mean = mean_attainment(present)
    two = two_genders(present)
    here = frozenset(present.ids)
    return {
        "attainment": sum(_off_balance(g, mean) for g in groups),
        "gender": sum(_uneven(g, two) for g in groups) if two else 0,
        "works_well": sum(_without_partner(g, here) for g in groups),
        "lone": sum(_lone(g) for g in groups),
    }


def mean_attainment(present: ClassList) -> int | None:
    """Mean over recorded values, rounded half up; None when there are none."""
    values = [p.attainment for p in present if p.attainment is not None]
    return (2 * sum(values) + len(values)) // (2 * len(values)) if values else None


def two_genders(present: ClassList) -> tuple[str, str] | None:
    """The two genders most held among those present, ties alphabetical; None with fewer than two."""
    held = Counter(p.gender for p in present if p.gender is not None)
    most = sorted(held, key=lambda g: (-held[g], g))[:2]
    return (most[0], most[1]) if len(most) == 2 else None


def _off_balance(group: Sequence[Pupil], mean: int | None) -> int:
    if mean is None:
        return 0
    return abs(sum(p.attainment - mean for p in group if p.attainment is not None))


def _uneven(group: Sequence[Pupil], two: tuple[str, str]) -> int:
    a, b = (sum(p.gender == g for p in group) for g in two)
    return max(0, abs(a - b) - 1)


def _without_partner(group: Sequence[Pupil], here: frozenset[PupilId]) -> int:
    members = {p.id for p in group}
    return sum(bool(here & set(p.works_well_with)) and not members & set(p.works_well_with) for p in group)


def _lone(group: Sequence[Pupil]) -> int:
    if len(group) < 3:
        return 0
    genders = Counter(p.gender for p in group if p.gender is not None)
    eal = sum(p.eal is True for p in group)
    supported = sum(p.adult_support is True for p in group)
    return sum(
        (p.gender is not None and genders[p.gender] == 1)
        or (p.eal is True and eal == 1)
        or (p.adult_support is True and supported == 1)
        for p in group
    )
