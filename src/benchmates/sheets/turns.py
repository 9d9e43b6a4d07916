"""Which stages share their groups: the turns of a rotation are one card, not one card each."""

from __future__ import annotations

from collections.abc import Sequence

from benchmates.core.grouping.result import GroupPlan, StageGroups
from benchmates.core.strategy.relation import Relation

Turns = tuple[int, ...]


def is_grouped(stage: StageGroups) -> bool:
    """Whether pupils sit in groups of this stage."""
    if stage.relation in (Relation.INDIVIDUAL, Relation.WHOLE):
        return False
    return any(len(group.members) > 1 for group in stage.groups)


def has_places(stage: StageGroups) -> bool:
    """Whether each pupil has a numbered place of their own, as in a gallery."""
    return all(len(group.members) == 1 for group in stage.groups) and any(g.station for g in stage.groups)


def turns_together(plan: GroupPlan) -> tuple[Turns, ...]:
    """The planned stages that pupils must be told a place for, turns of one rotation with equal groups together."""
    found: list[list[int]] = []
    for number, stage in enumerate(plan.stages):
        if not (is_grouped(stage) or has_places(stage)):
            continue
        goes_on = stage.relation is Relation.ROTATE or has_places(stage)
        if found and goes_on and found[-1][-1] == number - 1 and _same(plan.stages, found[-1][-1], number):
            found[-1].append(number)
        else:
            found.append([number])
    return tuple(tuple(turns) for turns in found)


def _same(stages: Sequence[StageGroups], one: int, other: int) -> bool:
    return [(g.label, g.members) for g in stages[one].groups] == [
        (g.label, g.members) for g in stages[other].groups
    ]
