"""A plan as it stands in a terminal: stage by stage, groups by name, then what was achieved."""

from __future__ import annotations

from collections.abc import Iterator

from benchmates.cli.words import folded, listed
from benchmates.core.grouping.result import Group, GroupPlan, StageGroups
from benchmates.core.grouping.wishes import WORDS
from benchmates.core.roster.class_list import ClassList
from benchmates.core.strategy.relation import Relation
from benchmates.core.terms import counted, joined


def plan_lines(plan: GroupPlan, class_list: ClassList, *, title: str) -> Iterator[str]:
    """Everything a teacher reads after making groups, line by line."""
    yield folded(f"{title}: {counted(len(plan.present), 'pupil')}")
    for k, stage in enumerate(plan.stages):
        yield ""
        yield folded(f"{k + 1}. {stage.name} ({stage.relation.in_words})", hang="   ")
        yield from _stage_lines(plan, stage, class_list)
    yield ""
    for sentence in plan.told:
        yield folded(sentence, hang="  ")
    if plan.compromise.total:
        yield folded(_made_of(plan), hang="  ")


def _stage_lines(plan: GroupPlan, stage: StageGroups, class_list: ClassList) -> Iterator[str]:
    names = class_list.names()
    if stage.relation is Relation.WHOLE:
        yield "  Everyone together."
    elif all(len(g.members) == 1 for g in stage.groups):
        yield folded(_alone(stage, class_list), indent="  ")
    elif stage.relation.keeps_groups and stage.of is not None and not _has_new_roles(plan, stage):
        yield folded(_kept(plan, stage), indent="  ")
    else:
        told = _tells_benches(stage)
        for group in stage.groups:
            yield listed(_label(group, told=told), group.members, names, group.roles)


def _tells_benches(stage: StageGroups) -> bool:
    """Are the benches worth a word? Not where they simply count up; else of every group, or some seem to have none."""
    return any(g.bench not in (None, str(place + 1)) for place, g in enumerate(stage.groups))


def _label(group: Group, *, told: bool) -> str:
    return f"{group.label} (bench {group.bench})" if told and group.bench else group.label


def _alone(stage: StageGroups, class_list: ClassList) -> str:
    if stage.relation is Relation.RETURN:
        return "Everyone back at their own."
    if all(g.station is None for g in stage.groups):
        return "Everyone on their own."
    names = class_list.names()
    return "At each work: " + ", ".join(
        f"{g.station} {names.get(g.members[0], g.members[0])}" for g in stage.groups
    )


def _kept(plan: GroupPlan, stage: StageGroups) -> str:
    assert stage.of is not None
    as_before = f"The groups of “{plan.stages[stage.of].name}”"
    stations = [f"{g.label} at {g.station}" for g in stage.groups if g.station is not None]
    if stations:
        return f"{as_before}; stations: {', '.join(stations)}."
    if any(g.artefact for g in stage.groups):
        return f"{as_before}; everyone passes what they hold to the next."
    return f"{as_before}."


def _has_new_roles(plan: GroupPlan, stage: StageGroups) -> bool:
    assert stage.of is not None
    held = {p: role for g in plan.stages[stage.of].groups for p, role in g.roles.items()}
    return any(held.get(p) != role for g in stage.groups for p, role in g.roles.items())


def _made_of(plan: GroupPlan) -> str:
    parts = [f"{WORDS.get(wish, wish)} {cost}" for wish, cost in plan.compromise.by_wish.items() if cost]
    return f"The compromise is made of {joined(parts)}."
