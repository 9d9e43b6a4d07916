"""Which musts hold in groups as they stand, in plain Python and without seats."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from benchmates.core.grouping.result import Group, StageGroups
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.terms import PupilId


def keeps_musts(stage: StageGroups) -> bool:
    """Whether musts mean anything in this stage: not alone, not all together, not in rings."""
    return stage.relation.keeps_musts and any(len(g.members) > 1 for g in stage.groups)


def musts_broken(
    stages: Sequence[StageGroups], musts: Sequence[Must], *, adults: int
) -> list[tuple[Must, int]]:
    """Every must that does not hold, with the index of the stage; pupils who sit nowhere are left out.

    ``fixed`` is not judged here: a place stays as it was planned.
    """
    return [
        (must, k)
        for k, stage in enumerate(stages)
        if keeps_musts(stage)
        for must in musts
        if not _holds(must, stage, adults)
    ]


def _holds(must: Must, stage: StageGroups, adults: int) -> bool:
    at = {p: k for k, g in enumerate(stage.groups) for p in g.members}
    here = [p for p in must.pupils if p in at]
    match must.kind:
        case Kind.APART:
            return all(at[a] != at[b] for a, b in combinations(here, 2))
        case Kind.TOGETHER:
            return all(at[a] == at[b] for a, b in combinations(here, 2))
        case Kind.NEAR_ADULT:
            return adults_needed([at[p] for p in here]) <= adults
        case Kind.FIXED:
            return True


def adults_needed(groups: Sequence[int]) -> int:
    """How many adults it takes to be near these groups, each serving two neighbours."""
    needed, served_to = 0, -1
    for group in sorted(set(groups)):
        if group > served_to:
            needed, served_to = needed + 1, group + 1
    return needed


def all_near_adult(musts: Sequence[Must]) -> Must | None:
    """All pupils who need an adult near, as one must, since the adults are the same."""
    who: dict[PupilId, None] = {p: None for m in musts if m.kind is Kind.NEAR_ADULT for p in m.pupils}
    return Must(Kind.NEAR_ADULT, tuple(who)) if who else None


def members_only(group: Group, members: Sequence[PupilId]) -> Group:
    """The same group with other members, keeping the roles and cards of those who stay."""
    here = set(members)
    return Group(
        label=group.label,
        members=tuple(members),
        bench=group.bench,
        station=group.station,
        artefact=group.artefact,
        roles={p: r for p, r in group.roles.items() if p in here},
        leads={p: w for p, w in group.leads.items() if p in here},
    )
