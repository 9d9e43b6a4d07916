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
        if binds(stage):
            groups = [set(g.members) for g in stage.groups]
            for must in musts:
                faults += _pair_faults(scene, k, groups, must) + _fixed_faults(scene, k, must)
            faults += _adult_faults(scene, k, groups, musts, adults)
    return faults + _nowhere_faults(scene, musts)


def binds(stage: StageGroups) -> bool:
    """Whether musts hold in a stage; where pupils go round on their own (a gallery) they cannot apply either."""
    return stage.relation not in EXEMPT and any(len(g.members) > 1 for g in stage.groups)


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

KINDS = ("bench", "group", "role")


def _fixed_faults(scene: Scene, k: int, must: Must) -> list[Fault]:
    """A pupil whose place a stage offers must have it there. Where roles go round, each holds every role in turn."""
    stage, faults = scene.plan.stages[k], []
    for pupil in _fixed_here(scene, must):
        kinds, word = _place(scene, must, pupil)
        kinds = [kind for kind in kinds if _offers(stage, kind, word)]
        if stage.relation is Relation.ROTATE and "role" in kinds:
            continue
        if kinds and not any(_holds(stage.group_of(pupil), pupil, kind, word) for kind in kinds):
            found = f"{scene.named([pupil])} is not at {_told(must, word)}"
            faults.append(Fault(scene.stage(k), found, f"The place is fixed: {_told(must, word)}."))
    return faults


def _nowhere_faults(scene: Scene, musts: Sequence[Must]) -> list[Fault]:
    """A fixed place that no stage offers, and pupils fixed without a place whose bench changes."""
    faults: list[Fault] = []
    if not _bound(scene):
        return faults
    for must in musts:
        for pupil in _fixed_here(scene, must):
            kinds, word = _place(scene, must, pupil)
            # A class keeps its musts over many lessons; a role that nobody has today breaks none of them.
            if word and not kinds and not _names_a_role(must):
                would_do = f"{scene.named([pupil])} must be there."
                faults.append(Fault("the plan", f"no stage has {_told(must, word)}", would_do))
            benches = {s.group_of(pupil).bench for s in _bound(scene)} - {None}
            if not word and len(benches) > 1:
                found = f"{scene.named([pupil])} sits at benches {', '.join(sorted(map(str, benches)))}"
                faults.append(Fault("the plan", found, "Whoever is fixed keeps one bench."))
    return faults


def _fixed_here(scene: Scene, must: Must) -> list[PupilId]:
    return [p for p in must.pupils if p in scene.plan.present] if must.kind is Kind.FIXED else []


def _names_a_role(must: Must) -> bool:
    return (must.where or "").casefold().startswith("role")


def _told(must: Must, word: str) -> str:
    return must.where or f"bench {word}"


def _place(scene: Scene, must: Must, pupil: PupilId) -> tuple[list[str], str]:
    """Which kinds of place are meant (those that some stage offers), and the bare word; a blank is the own bench."""
    words = (must.where or "").replace(":", " ").replace("=", " ").casefold().split()
    asked: tuple[str, ...] = KINDS
    if not words:
        asked, words = ("bench",), (scene.class_list.pupil(pupil).bench or "").casefold().split()
    elif len(words) > 1 and words[0] in KINDS:
        asked, words = (words[0],), words[1:]
    word = " ".join(words)
    return [kind for kind in asked if any(_offers(s, kind, word) for s in _bound(scene))], word


def _bound(scene: Scene) -> list[StageGroups]:
    return [stage for stage in scene.plan.stages if binds(stage)]


def _offers(stage: StageGroups, kind: str, word: str) -> bool:
    return any(_holds(g, p, kind, word) for g in stage.groups for p in g.members)


def _holds(group: Group, pupil: PupilId, kind: str, word: str) -> bool:
    if kind == "group":
        return _lies_in(group.label.casefold(), word)
    name = group.bench if kind == "bench" else group.roles.get(pupil)
    return bool(word) and (name or "").casefold().removeprefix(f"{kind} ") == word


def _lies_in(label: str, word: str) -> bool:
    """A1 and A1a are parts of A; "Finish" is no part of "Fi"."""
    part = label.removeprefix(word)
    return bool(word) and label.startswith(word) and (not part or (len(word) < 3 and len(part) < 3))
