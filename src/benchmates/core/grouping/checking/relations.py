"""Does every stage follow from the earlier one as its relation says?"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from benchmates.core.errors import Fault
from benchmates.core.grouping.checking.crossing import cross_faults
from benchmates.core.grouping.checking.rotation import rotation_faults
from benchmates.core.grouping.checking.scene import Scene, sets_of
from benchmates.core.grouping.result import Group, StageGroups
from benchmates.core.roster.musts import Must
from benchmates.core.strategy.relation import Relation


def relation_faults(scene: Scene, musts: Sequence[Must] = (), adults: int = 1) -> list[Fault]:
    """Faults in how stages follow from each other."""
    faults: list[Fault] = []
    for k, stage in enumerate(scene.plan.stages):
        if stage.relation.needs_earlier and (stage.of is None or not 0 <= stage.of < k):
            would_do = "Say which earlier stage it follows."
            faults.append(
                Fault(scene.stage(k), f"“{stage.relation.in_words}” follows no earlier stage", would_do)
            )
        elif stage.relation is Relation.CROSS:
            faults += cross_faults(scene, k, musts, adults)
        elif stage.relation in CHECKS:
            faults += CHECKS[stage.relation](scene, k)
    return faults


def _earlier(scene: Scene, k: int) -> StageGroups:
    of = scene.plan.stages[k].of
    assert of is not None  # relation_faults asked first
    return scene.plan.stages[of]


# ---- one check a relation


def _individual(scene: Scene, k: int) -> list[Fault]:
    return [
        Fault(
            scene.group(k, g), f"{scene.named(g.members)} sit together", "In this stage everyone works alone."
        )
        for g in scene.plan.stages[k].groups
        if len(g.members) != 1
    ]


def _whole(scene: Scene, k: int) -> list[Fault]:
    groups = len(scene.plan.stages[k].groups)
    return (
        [] if groups == 1 else [Fault(scene.stage(k), f"{groups} groups", "The whole class sits together.")]
    )


def _new(scene: Scene, k: int) -> list[Fault]:
    """A free stage follows nothing, but nobody should be left by themselves in it."""
    return [
        Fault(scene.group(k, g), f"{scene.named(g.members)} sits alone", "A group has two pupils or more.")
        for g in scene.plan.stages[k].groups
        if len(g.members) == 1 and len(scene.plan.present) > 1
    ]


def _same(scene: Scene, k: int) -> list[Fault]:
    """Equal groups at equal labels (same, return, rotate)."""
    stage, homes = scene.plan.stages[k], {g.label: set(g.members) for g in _earlier(scene, k).groups}
    of = _earlier(scene, k).name
    faults = []
    for group in stage.groups:
        if group.label not in homes:
            faults.append(
                Fault(scene.group(k, group), f"“{of}” has no such group", "Keep the earlier groups.")
            )
        elif homes[group.label] != set(group.members):
            moved = homes[group.label] ^ set(group.members)
            found = f"not the group it was in “{of}”: {scene.named(moved)}"
            faults.append(Fault(scene.group(k, group), found, "Keep the earlier groups whole."))
    return faults


def _merge(scene: Scene, k: int) -> list[Fault]:
    """Each group is a union of whole earlier groups."""
    faults = []
    for group in scene.plan.stages[k].groups:
        members = set(group.members)
        for earlier in _earlier(scene, k).groups:
            inside = members & set(earlier.members)
            if inside and inside != set(earlier.members):
                left = set(earlier.members) - members
                found = f"{scene.named(inside)} joined without {scene.named(left)} of group {earlier.label}"
                faults.append(Fault(scene.group(k, group), found, "Earlier groups join whole."))
    return faults


def _split(scene: Scene, k: int) -> list[Fault]:
    """Each group lies inside one earlier group."""
    wholes = sets_of(_earlier(scene, k))
    return [
        Fault(
            scene.group(k, g),
            f"{scene.named(g.members)} come from more than one group of “{_earlier(scene, k).name}”",
            "A smaller group lies inside one earlier group.",
        )
        for g in scene.plan.stages[k].groups
        if not any(set(g.members) <= whole for whole in wholes)
    ]


def _one_moves(scene: Scene, k: int) -> list[Fault]:
    """At each label the home less one; the one goes to another group, or all go to one place of their own."""
    homes = _earlier(scene, k).groups
    now = {g.label: set(g.members) for g in scene.plan.stages[k].groups}
    if faults := _home_label_faults(scene, k, spare=1):
        return faults
    to_teacher = len(now) == len(homes) + 1
    faults = []
    for home in homes:
        left = set(home.members) - now[home.label]
        came = now[home.label] - set(home.members)
        where = f"{scene.stage(k)}, group {home.label}"
        if len(left) != 1:
            found = f"{scene.named(left)} left" if left else "nobody left"
            faults.append(Fault(where, found, "Exactly one leaves each group."))
        if len(came) != (0 if to_teacher else 1):
            found = f"{scene.named(came)} came" if came else "nobody came"
            faults.append(
                Fault(where, found, "Nobody comes." if to_teacher else "Exactly one comes to each group.")
            )
    return faults


def _one_stays(scene: Scene, k: int) -> list[Fault]:
    """At each label one or two of the home remain, the same number in every group that can spare them."""
    if faults := _home_label_faults(scene, k, spare=0):
        return faults
    now = {g.label: set(g.members) for g in scene.plan.stages[k].groups}
    faults = []
    for home in _earlier(scene, k).groups:
        stayed = set(home.members) & now[home.label]
        if len(stayed) not in (1, 2) or (len(stayed) == len(home.members) > 1):
            found = f"{scene.named(stayed)} stayed" if stayed else "nobody stayed"
            would_do = "One stays (or two), and the rest move on."
            faults.append(Fault(f"{scene.stage(k)}, group {home.label}", found, would_do))
    return faults


def _home_label_faults(scene: Scene, k: int, *, spare: int) -> list[Fault]:
    """Who stayed and who moved can be told only if every home keeps its label."""
    homes = {g.label for g in _earlier(scene, k).groups}
    labels = {g.label for g in scene.plan.stages[k].groups}
    if homes <= labels and len(labels - homes) <= spare:
        return []
    found = (
        f"groups {', '.join(sorted(labels))}, and “{_earlier(scene, k).name}” had {', '.join(sorted(homes))}"
    )
    return [Fault(scene.stage(k), found, "A label stays with its home place.")]


def _rotate(scene: Scene, k: int) -> list[Fault]:
    return _same(scene, k) or rotation_faults(scene, k)


def _inner_outer(scene: Scene, k: int) -> list[Fault]:
    """Two rings, and nobody in the inner ring twice."""
    stages = scene.plan.stages
    if len(stages[k].groups) != 2:
        return [
            Fault(scene.stage(k), f"{len(stages[k].groups)} groups", "There is an inner and an outer ring.")
        ]
    inner = _inner(stages[k])
    if inner is None:
        return [
            Fault(
                scene.stage(k),
                "no group is called the inner ring",
                "Call the rings Inner ring and Outer ring.",
            )
        ]
    rings = [_inner(s) for s in stages[:k] if s.relation is Relation.INNER_OUTER]
    before = {p for ring in rings if ring is not None for p in ring.members}
    if again := before & set(inner.members):
        found = f"{scene.named(again)} was in an inner ring before"
        return [Fault(scene.stage(k), found, "Each inner ring has other pupils.")]
    return []


def _inner(stage: StageGroups) -> Group | None:
    return next((g for g in stage.groups if g.label.casefold().startswith("inner")), None)


CHECKS: dict[Relation, Callable[[Scene, int], list[Fault]]] = {
    Relation.INDIVIDUAL: _individual,
    Relation.WHOLE: _whole,
    Relation.NEW: _new,
    Relation.SAME: _same,
    Relation.RETURN: _same,
    Relation.MERGE: _merge,
    Relation.SPLIT: _split,
    Relation.ONE_MOVES: _one_moves,
    Relation.ONE_STAYS: _one_stays,
    Relation.ROTATE: _rotate,
    Relation.INNER_OUTER: _inner_outer,
}
