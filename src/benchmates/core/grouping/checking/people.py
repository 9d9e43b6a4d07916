"""Is everybody present in exactly one group of every stage, and are labels, roles and cards in order?"""

from __future__ import annotations

from collections import Counter

from benchmates.core.errors import Fault
from benchmates.core.grouping.checking.scene import Scene


def people_faults(scene: Scene) -> list[Fault]:
    """Faults in who is listed and who sits where."""
    faults = _present_faults(scene)
    for k in range(len(scene.plan.stages)):
        faults += _seat_faults(scene, k) + _label_faults(scene, k) + _holder_faults(scene, k)
    if not scene.plan.stages:
        faults.append(Fault("the plan", "it has no stages", "A plan has at least one stage with groups."))
    return faults


def _present_faults(scene: Scene) -> list[Fault]:
    plan, known = scene.plan, set(scene.class_list.ids)
    faults = [
        Fault(
            "the plan",
            f"{pupil} is present but not in the class list",
            "Check it against the list it was made from.",
        )
        for pupil in plan.present
        if pupil not in known
    ]
    for pupil, times in Counter(plan.present).items():
        if times > 1:
            faults.append(
                Fault(
                    "the plan",
                    f"{scene.named([pupil])} is listed as present {times} times",
                    "List each pupil once.",
                )
            )
    if scene.absent is not None:
        expected = known - scene.absent
        if away := expected - set(plan.present):
            faults.append(
                Fault("the plan", f"it leaves out {scene.named(away)}", "Name those who are away as absent.")
            )
        if extra := scene.absent & set(plan.present):
            faults.append(
                Fault(
                    "the plan",
                    f"{scene.named(extra)} sits in it, yet is away",
                    "Make groups without those away.",
                )
            )
    return faults


def _seat_faults(scene: Scene, k: int) -> list[Fault]:
    seated = Counter(p for g in scene.plan.stages[k].groups for p in g.members)
    faults = []
    if missing := set(scene.plan.present) - set(seated):
        faults.append(
            Fault(
                scene.stage(k),
                f"{scene.named(missing)} sits in no group",
                "Everyone present sits in one group.",
            )
        )
    if twice := {p for p, times in seated.items() if times > 1}:
        faults.append(
            Fault(
                scene.stage(k),
                f"{scene.named(twice)} sits more than once",
                "Everyone present sits in one group.",
            )
        )
    if strange := set(seated) - set(scene.plan.present):
        faults.append(
            Fault(
                scene.stage(k),
                f"{scene.named(strange)} sits here, yet is not present",
                "Only those present sit.",
            )
        )
    return faults


def _label_faults(scene: Scene, k: int) -> list[Fault]:
    groups = scene.plan.stages[k].groups
    labels = Counter(g.label for g in groups)
    faults = [
        Fault(
            scene.stage(k),
            f"{times} groups are called {label}",
            "Each group of a stage has a label of its own.",
        )
        for label, times in labels.items()
        if times > 1
    ]
    faults += [
        Fault(scene.group(k, g), "nobody sits in it", "Leave out a group without pupils.")
        for g in groups
        if not g.members
    ]
    return faults


def _holder_faults(scene: Scene, k: int) -> list[Fault]:
    """Roles, question cards and papers belong to members only."""
    faults = []
    for group in scene.plan.stages[k].groups:
        held = {"a role": group.roles, "a question card": group.leads, "a paper": group.artefact or {}}
        for what, holders in held.items():
            if strangers := set(holders) - set(group.members):
                faults.append(
                    Fault(
                        scene.group(k, group),
                        f"{scene.named(strangers)} holds {what} here and sits elsewhere",
                        "Only the members of a group hold its roles, cards and papers.",
                    )
                )
    return faults
