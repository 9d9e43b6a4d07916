"""What a group does next, in the words pupils are told."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from benchmates.core.grouping.result import Group, GroupPlan, StageGroups
from benchmates.core.strategy.relation import Relation
from benchmates.core.terms import PupilId, joined
from benchmates.drawing.tokens import spoken


def where_of(group: Group) -> str:
    """Where a group is: "station 2a", "bench 3", "the long table"; empty where nobody said."""
    if group.station:
        noun = "place" if len(group.members) == 1 else "station"
        return f"{noun} {group.station}" if group.station[0].isdigit() else group.station
    bench = group.bench or ""
    return f"bench {bench}" if bench[:1].isdigit() else bench


def shared_noun(wheres: Sequence[str]) -> str:
    """The noun that all these places share ("station"), so that a row of them need say it only once."""
    nouns = {where.split(" ", 1)[0] for where in wheres}
    numbered = all(where.count(" ") == 1 and where.split(" ")[1][:1].isdigit() for where in wheres)
    return nouns.pop() if numbered and len(nouns) == 1 else ""


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
        return tuple(_join(by_label[label]) for label in goals)
    if stage.relation is Relation.INNER_OUTER and len(goals) == 2:
        return _rings(stage, goals, names)
    if len(goals) == 1:
        (label,) = goals
        return () if label == group.label else (f"Go to {at_place(by_label[label])}.",)
    if len(goals) == 2:
        # Who moves alone first: the rest know then that they stay.
        order = sorted(goals, key=lambda label: (len(goals[label]), label == group.label, label))
        return tuple(_goes(goals[label], by_label[label], group, names) for label in order)
    return tuple(
        f"{joined([names[p] for p in pupils])}: {at_place(by_label[label])}"
        for label, pupils in goals.items()
    )


def _goes(pupils: Sequence[PupilId], goal: Group, group: Group, names: Mapping[PupilId, str]) -> str:
    who, one = joined([names[p] for p in pupils]), len(pupils) == 1
    if goal.label == group.label:
        return f"{who} {'stays' if one else 'stay'} at {spoken(goal.label)}."
    if (
        spoken(goal.label) == goal.label
    ):  # a label in words ("With the teacher") does not run on in a sentence
        return f"{who}: {at_place(goal)}."
    return f"{who} {'goes' if one else 'go'} to {at_place(goal)}."


def _rings(
    stage: StageGroups, goals: Mapping[str, Sequence[PupilId]], names: Mapping[PupilId, str]
) -> tuple[str, ...]:
    """The smaller ring by name, the larger as the rest."""
    few, many = sorted(stage.groups, key=lambda ring: len(ring.members))
    return (f"{few.label}: {joined([names[p] for p in goals[few.label]])}. The rest: {many.label.lower()}.",)


def _join(merged: Group) -> str:
    return f"Together you are {at_place(merged)}."


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
