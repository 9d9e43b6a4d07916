"""One line for every single absence: what changes if this pupil is away.

Every change of at most one pupil is tried: nobody moves, or one pupil takes the place of the one who is away. Where
neither keeps sizes and musts, the line says "regroup".
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from benchmates.core.grouping.cost import compromise
from benchmates.core.grouping.holding import all_near_adult, members_only, musts_broken
from benchmates.core.grouping.request import Request
from benchmates.core.grouping.result import Group, GroupPlan, StageGroups
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.way import Size, Stage
from benchmates.core.terms import PupilId


@dataclass(frozen=True)
class AwayLine:
    """What to do if ``pupil`` is away. ``joins`` is the pupil who moves and the label they join, if one does."""

    pupil: PupilId
    told: str
    joins: tuple[PupilId, str] | None = None
    regroup: bool = False


def if_away(plan: GroupPlan, request: Request) -> tuple[AwayLine, ...]:
    """A line for each pupil present, in list order."""
    return tuple(_line(pupil, plan, request) for pupil in plan.present)


def _line(pupil: PupilId, plan: GroupPlan, request: Request) -> AwayLine:
    names = request.class_list.names()
    name = names[pupil]
    home = _largest(plan.stages)
    if home is None:
        return AwayLine(pupil, f"If {name} is away: nobody moves.")
    group = plan.stages[home].group_of(pupil)
    stays = _without(plan.stages, pupil, None, request)
    if stays is not None:
        left = len(group.members) - 1
        return AwayLine(pupil, f"If {name} is away: nobody moves; {group.label} has {left}.")
    tried = [
        (other, stages)
        for other in plan.present
        if other not in group.members and (stages := _without(plan.stages, pupil, other, request)) is not None
    ]
    if not tried:
        return AwayLine(pupil, f"If {name} is away: regroup.", regroup=True)
    order = {p: k for k, p in enumerate(plan.present)}
    other, _ = min(tried, key=lambda t: (_cost(t[1], pupil, request), order[t[0]]))
    return AwayLine(pupil, f"If {name} is away: {names[other]} joins {group.label}.", (other, group.label))


def _largest(stages: Sequence[StageGroups]) -> int | None:
    """The stage with the largest groups among those that make groups of their own."""
    made = [
        k
        for k, s in enumerate(stages)
        if s.relation in (Relation.NEW, Relation.MERGE, Relation.SPLIT, Relation.CROSS) and len(s.groups) > 1
    ]
    return max(made, key=lambda k: (max(len(g.members) for g in stages[k].groups), -k), default=None)


def _cost(stages: Sequence[StageGroups], away: PupilId, request: Request) -> int:
    present = request.class_list.without(request.absent | {away})
    meetings = request.history.meetings(present.ids)
    return compromise(stages, present=present, meetings=meetings, wishes=request.wishes).total


# ---- the lesson without one pupil


def _without(
    stages: Sequence[StageGroups], away: PupilId, instead: PupilId | None, request: Request
) -> tuple[StageGroups, ...] | None:
    """All stages with one pupil away and perhaps another in that place; None if a size or a must does not allow it."""
    changed: list[StageGroups] = []
    for stage in stages:
        now = _stage_without(stage, stages, changed, away, instead, request)
        if now is None:
            return None
        changed.append(now)
    if instead is not None and _is_fixed(instead, request.musts):
        return None
    return None if _breaks(changed, request) else tuple(changed)


def _is_fixed(pupil: PupilId, musts: Sequence[Must]) -> bool:
    return any(m.kind is Kind.FIXED and pupil in m.pupils for m in musts)


def _breaks(stages: Sequence[StageGroups], request: Request) -> bool:
    near = all_near_adult(request.musts)
    musts = [m for m in request.musts if m.kind is not Kind.NEAR_ADULT] + ([near] if near else [])
    return bool(musts_broken(stages, musts, adults=request.lesson.adults))


def _stage_without(
    stage: StageGroups,
    before: Sequence[StageGroups],
    changed: Sequence[StageGroups],
    away: PupilId,
    instead: PupilId | None,
    request: Request,
) -> StageGroups | None:
    way_stage = request.lesson.way.stages[stage.source]
    if stage.of is not None and stage.relation.keeps_groups:
        by_label = {g.label: g.members for g in changed[stage.of].groups}
        return replace(
            stage,
            groups=tuple(members_only(g, by_label[g.label]) for g in stage.groups if g.label in by_label),
        )
    if stage.of is not None and stage.relation.one_goes:
        return _moved(stage, before[stage.of], changed[stage.of], away, instead)
    groups = [members_only(g, _replaced(g.members, away, instead)) for g in stage.groups]
    groups = [g for g in groups if g.members]
    if stage.relation in (Relation.INDIVIDUAL, Relation.WHOLE, Relation.INNER_OUTER):
        return replace(stage, groups=tuple(groups))
    size = _limits(way_stage, stage, request)
    if any(len(g.members) < size.least for g in groups):
        groups = _united(groups, before, stage, size) or []
    return replace(stage, groups=tuple(groups)) if groups else None


def _replaced(members: Sequence[PupilId], away: PupilId, instead: PupilId | None) -> tuple[PupilId, ...]:
    """Members with the vacant place taken: ``instead`` leaves its own group and sits where ``away`` would have."""
    if away in members and instead is not None:
        return tuple(instead if p == away else p for p in members if p != instead)
    return tuple(p for p in members if p not in (away, instead))


def _limits(way_stage: Stage, stage: StageGroups, request: Request) -> Size:
    """Least and most for this stage, at least as wide as the plan itself is."""
    sizes = [len(g.members) for g in stage.groups]
    size = way_stage.size or Size(min(sizes), min(sizes), max(sizes))
    least = size.least
    if any(s.by_part and s.of == stage.source for s in request.lesson.way.stages):
        least -= 1  # a short home takes two parts, or a sheet ready made (handbook 2.2, jigsaw)
    if request.sizes is not None and way_stage.size is not None:
        least = min(least, request.sizes[0])
    least = min(least, *sizes) if sizes else least
    return Size(max(least, size.target), max(2, least), max(size.most, *sizes, size.target, least))


def _united(
    groups: list[Group], before: Sequence[StageGroups], stage: StageGroups, size: Size
) -> list[Group] | None:
    """Put a pair that has lost one together with the pair it will join anyway, if a larger group takes them in."""
    letters: dict[str, list[Group]] = {}
    for g in groups:
        letters.setdefault(_outer(g.label), []).append(g)
    nested = any(
        s.relation is Relation.MERGE and before[s.of or 0] is stage for s in before if s.of is not None
    )
    united: list[Group] = []
    for inside in letters.values():
        small = [g for g in inside if len(g.members) < size.least]
        others = sorted((g for g in inside if g not in small), key=lambda g: len(g.members))
        if small and (not nested or not others or len(small[0].members) + len(others[0].members) > size.most):
            return None
        for g in inside:
            if g in small:
                continue
            take = small[0].members if small and g is others[0] else ()
            united.append(members_only(g, (*g.members, *take)))
    return united


def _outer(label: str) -> str:
    """The group that a part will join: "A" for "A1", "A1" for "A1a"."""
    return label[:-1] if len(label) > 1 else label


def _moved(
    stage: StageGroups, home_before: StageGroups, home: StageGroups, away: PupilId, instead: PupilId | None
) -> StageGroups | None:
    """One moves or one stays, with a deputy where the mover is the one away."""
    to = {p: g.label for g in stage.groups for p in g.members}
    new: dict[str, list[PupilId]] = {g.label: [] for g in stage.groups}
    for then, now in zip(home_before.groups, home.groups, strict=False):
        if len(now.members) < 2:
            return None
        place = {away: instead} if away in then.members and instead is not None else {}
        goes = {place.get(p, p): to[p] for p in then.members}
        special = [
            p for p, label in goes.items() if (label != then.label) is (stage.relation is Relation.ONE_MOVES)
        ]
        usual = next((label for p, label in goes.items() if p not in special), then.label)
        target = goes[special[0]] if special else then.label
        deputies = [p for p in special if p in now.members] or [now.members[0]]
        for p in now.members:
            new[target if p in deputies else usual].append(p)
    return replace(stage, groups=tuple(members_only(g, new[g.label]) for g in stage.groups if new[g.label]))
