"""What a group does next, in the words pupils are told."""

from __future__ import annotations

from collections.abc import Mapping

from benchmates.core.grouping.result import Group, GroupPlan, StageGroups
from benchmates.core.strategy.relation import Relation
from benchmates.core.terms import PupilId, joined
from benchmates.drawing.tokens import spoken

# In these stages the two places are told apart by who moves, not by a list of everybody.
_ONE = (Relation.ONE_MOVES, Relation.ONE_STAYS)


def where_of(group: Group) -> str:
    """Where a group is: "station 2a", "bench 3", "the long table"; empty where nobody said."""
    if group.station:
        noun = "place" if len(group.members) == 1 else "station"
        return f"{noun} {group.station}" if group.station[0].isdigit() else group.station
    bench = group.bench or ""
    return f"bench {bench}" if bench[:1].isdigit() else bench


def at_place(group: Group) -> str:
    """A group with its place: "A1 Arch, bench 1"."""
    return ", ".join(filter(None, (spoken(group.label), where_of(group))))


def next_words(plan: GroupPlan, number: int, group: Group, names: Mapping[PupilId, str]) -> tuple[str, ...]:
    """What this group of stage ``number`` does next: the next stage's name first, then who goes where."""
    if number + 1 >= len(plan.stages):
        return ()
    stage = plan.stages[number + 1]
    return (f"{stage.name}: {stage.relation.in_words}.", *_moves(stage, group, names))


def _moves(stage: StageGroups, group: Group, names: Mapping[PupilId, str]) -> tuple[str, ...]:
    if stage.relation in (Relation.INDIVIDUAL, Relation.WHOLE, Relation.SAME):
        return ()
    goals: dict[str, list[PupilId]] = {}
    for pupil in group.members:
        goals.setdefault(stage.group_of(pupil).label, []).append(pupil)
    by_label = {other.label: other for other in stage.groups}
    if stage.relation is Relation.MERGE:
        return tuple(_join(by_label[label], group) for label in goals)
    if len(goals) == 1:
        (label,) = goals
        return () if label == group.label else (f"Go to {at_place(by_label[label])}.",)
    if stage.relation in _ONE and len(goals) == 2:
        return tuple(_one_or_rest(stage.relation, goals, group, by_label, names))
    return tuple(
        f"{joined([names[p] for p in pupils])}: {at_place(by_label[label])}" for label, pupils in goals.items()
    )


def _join(merged: Group, group: Group) -> str:
    return f"Together you are {at_place(merged)}."


def _one_or_rest(
    relation: Relation,
    goals: Mapping[str, list[PupilId]],
    group: Group,
    by_label: Mapping[str, Group],
    names: Mapping[PupilId, str],
) -> list[str]:
    lines = []
    for label, pupils in sorted(goals.items(), key=lambda goal: (len(goal[1]), goal[0])):
        who = joined([names[p] for p in pupils])
        if label == group.label:
            lines.append(f"{who} {'stays' if len(pupils) == 1 else 'stay'} at {spoken(label)}.")
        else:
            lines.append(f"{who} {'goes' if len(pupils) == 1 else 'go'} to {at_place(by_label[label])}.")
    return lines


def partners(plan: GroupPlan, number: int, group: Group) -> tuple[str, ...]:
    """The labels of the other groups that join this one in the next stage, if it is a merge of whole groups."""
    if number + 1 >= len(plan.stages) or plan.stages[number + 1].relation is not Relation.MERGE:
        return ()
    merged = plan.stages[number + 1].group_of(group.members[0])
    return tuple(
        other.label
        for other in plan.stages[number].groups
        if other.label != group.label and set(other.members) <= set(merged.members)
    )
