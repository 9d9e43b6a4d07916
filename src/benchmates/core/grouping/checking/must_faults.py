"""Do the musts hold in every stage where they must?"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from benchmates.core.errors import Fault
from benchmates.core.grouping.checking.scene import Scene
from benchmates.core.grouping.result import Group, StageGroups
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.strategy.relation import Relation
from benchmates.core.terms import PupilId, counted

# Everyone alone, everyone together or in two rings: there is nothing a must could ask for.
EXEMPT = (Relation.INDIVIDUAL, Relation.WHOLE, Relation.INNER_OUTER)


def must_faults(scene: Scene, musts: Sequence[Must], adults: int = 1) -> list[Fault]:
    """Broken musts, stage by stage. Pupils who are away are left out of every must."""
    faults: list[Fault] = []
    for k, stage in enumerate(scene.plan.stages):
        if stage.relation not in EXEMPT:
            groups = [set(g.members) for g in stage.groups]
            for must in musts:
                faults += _pair_faults(scene, k, groups, must) + _fixed_faults(scene, k, must)
            faults += _adult_faults(scene, k, groups, musts, adults)
    return faults + _nowhere_faults(scene, musts)


def musts_hold(
    scene: Scene, k: int, groups: Sequence[set[PupilId]], musts: Sequence[Must], adults: int
) -> bool:
    """Whether other groups at the labels of stage ``k`` would keep every must."""
    if _adult_faults(scene, k, groups, musts, adults):
        return False
    if any(_pair_faults(scene, k, groups, must) for must in musts):
        return False
    labelled = zip(scene.plan.stages[k].groups, groups, strict=True)
    kept = {p for group, members in labelled for p in set(group.members) & members}
    return all(set(m.pupils) & set(scene.plan.present) <= kept for m in musts if m.kind is Kind.FIXED)


def blocks(musts: Sequence[Must], present: Sequence[PupilId]) -> list[frozenset[PupilId]]:
    """Pupils who stay together, chained through those they share."""
    joined: list[frozenset[PupilId]] = []
    for must in musts:
        block = frozenset(must.pupils) & frozenset(present)
        if must.kind is Kind.TOGETHER and len(block) > 1:
            touching = [other for other in joined if other & block]
            joined = [other for other in joined if not other & block]
            joined.append(block.union(*touching))
    return joined


# ---- apart and together


def _pair_faults(scene: Scene, k: int, groups: Sequence[set[PupilId]], must: Must) -> list[Fault]:
    here = set(must.pupils) & set(scene.plan.present)
    if must.kind is Kind.APART:
        return [
            Fault(scene.stage(k), f"{scene.named(here & g)} are together", "They must be apart.")
            for g in groups
            if len(here & g) > 1
        ]
    if must.kind is Kind.TOGETHER and sum(bool(here & g) for g in groups) > 1:
        return [Fault(scene.stage(k), f"{scene.named(here)} are not together", "They must be together.")]
    return []


# ---- near an adult


def _adult_faults(
    scene: Scene, k: int, groups: Sequence[set[PupilId]], musts: Sequence[Must], adults: int
) -> list[Fault]:
    """All pupils who need an adult near count together: the adults are the same for every such must."""
    near = {p for m in musts if m.kind is Kind.NEAR_ADULT for p in m.pupils} & set(scene.plan.present)
    needed = [g for g, members in enumerate(groups) if members & near]
    if adults_needed(needed) <= adults:
        return []
    labels = ", ".join(scene.plan.stages[k].groups[g].label for g in needed)
    found = f"{scene.named(near)} sit in groups {labels}, too far apart for {counted(adults, 'adult')}"
    return [Fault(scene.stage(k), found, "An adult is near two neighbouring groups.")]


def adults_needed(groups: Iterable[int]) -> int:
    """The fewest adults, each beside two neighbouring groups, who reach all of these."""
    adults, reached = 0, -1
    for group in sorted(groups):
        if group > reached:  # the next adult does most by starting at the first group not yet reached
            adults, reached = adults + 1, group + 1
    return adults


# ---- fixed


def _fixed_faults(scene: Scene, k: int, must: Must) -> list[Fault]:
    if must.kind is not Kind.FIXED:
        return []
    stage = scene.plan.stages[k]
    faults = []
    for pupil in must.pupils:
        if pupil not in scene.plan.present:
            continue
        kinds = [kind for kind in _kinds_meant(scene, must) if _offers(stage, kind, _bare(must))]
        if kinds and not any(_holds(stage.group_of(pupil), pupil, kind, _bare(must)) for kind in kinds):
            found = f"{scene.named([pupil])} is not at {_told(must)}"
            faults.append(Fault(scene.stage(k), found, f"The place is fixed: {_told(must)}."))
    return faults


def _nowhere_faults(scene: Scene, musts: Sequence[Must]) -> list[Fault]:
    """A fixed place that no stage offers."""
    return [
        Fault("the plan", f"no stage has {_told(must)}", f"{scene.named(here)} must be there.")
        for must in musts
        if must.kind is Kind.FIXED
        and (here := set(must.pupils) & set(scene.plan.present))
        and not _kinds_meant(scene, must)
    ]


KINDS = ("bench", "group", "role")


def _told(must: Must) -> str:
    return must.where or "a place that is not named"


def _bare(must: Must) -> str:
    words = (must.where or "").strip().casefold().split()
    return " ".join(words[1:] if len(words) > 1 and words[0] in KINDS else words)


def _kinds_meant(scene: Scene, must: Must) -> list[str]:
    """Which kind of place the words name: the one they say, or else those that some stage offers."""
    first, *rest = [*(must.where or "").strip().casefold().split(), ""]
    asked = [first] if first in KINDS and any(rest) else list(KINDS)
    bound = [s for s in scene.plan.stages if s.relation not in EXEMPT]
    return [kind for kind in asked if any(_offers(stage, kind, _bare(must)) for stage in bound)]


def _offers(stage: StageGroups, kind: str, word: str) -> bool:
    return any(_holds(g, p, kind, word) for g in stage.groups for p in g.members)


def _holds(group: Group, pupil: PupilId, kind: str, word: str) -> bool:
    names = {"bench": group.bench, "group": group.label, "role": group.roles.get(pupil)}
    return _same_place(names[kind], word, kind)


def _same_place(name: str | None, word: str, kind: str) -> bool:
    return (name or "").casefold().removeprefix(f"{kind} ") == word and bool(word)
