"""Do the plan's own figures agree with what its groups cost?"""

from __future__ import annotations

from collections.abc import Mapping

from benchmates.core.errors import Fault
from benchmates.core.grouping.checking.scene import Scene
from benchmates.core.grouping.checking.weighing import repeats_of, weigh
from benchmates.core.grouping.result import GroupPlan, Repeat
from benchmates.core.grouping.wishes import WORDS, Wishes
from benchmates.core.roster.history import History

SAME_INPUT = "Check it with the same class list, history and wishes that it was made with."


def figure_faults(scene: Scene, history: History, wishes: Wishes) -> list[Fault]:
    """Faults in compromise, repeats and bound."""
    return [
        *_compromise_faults(scene, history, wishes),
        *_repeat_faults(scene, history),
        *_bound_faults(scene),
    ]


def _compromise_faults(scene: Scene, history: History, wishes: Wishes) -> list[Fault]:
    plan = scene.plan
    costs = weigh(plan.stages, scene.present, history, wishes)
    if len(plan.compromise.by_stage) != len(plan.stages):
        stated = len(plan.compromise.by_stage)
        return [Fault("the compromise", f"it is given for {stated} stages of {len(plan.stages)}", SAME_INPUT)]
    faults = []
    for k, (stated_here, cost) in enumerate(zip(plan.compromise.by_stage, costs, strict=True)):
        for wish in sorted({*stated_here, *cost}):
            if stated_here.get(wish, 0) != cost.get(wish, 0):
                faults.append(
                    Fault(
                        f"{scene.stage(k)}, {WORDS.get(wish, wish)}",
                        f"the plan says {stated_here.get(wish, 0)}, these groups cost {cost.get(wish, 0)}",
                        SAME_INPUT,
                    )
                )
    return faults


def _repeat_faults(scene: Scene, history: History) -> list[Fault]:
    order = {p: k for k, p in enumerate(scene.present.ids)}

    def in_list_order(r: Repeat) -> Repeat:
        one, other = sorted(r.pupils, key=lambda p: order.get(p, -1))
        return Repeat((one, other), r.stage, r.before, r.today)

    stated = {in_list_order(r) for r in scene.plan.repeats}
    found = repeats_of(scene.plan.stages, scene.present, history)
    faults = [
        Fault(_place(scene, r), f"the plan says that {_told(scene, r)}, which does not agree", SAME_INPUT)
        for r in sorted(stated - found, key=lambda r: (r.stage, r.pupils))
    ]
    faults += [
        Fault(_place(scene, r), f"the plan does not say that {_told(scene, r)}", SAME_INPUT)
        for r in sorted(found - stated, key=lambda r: (r.stage, r.pupils))
    ]
    return faults


def _place(scene: Scene, repeat: Repeat) -> str:
    known = 0 <= repeat.stage < len(scene.plan.stages)
    return f"{scene.stage(repeat.stage)}, repeats" if known else f"repeats, stage {repeat.stage + 1}"


def _told(scene: Scene, repeat: Repeat) -> str:
    return (
        f"{scene.named(repeat.pupils)} have met {repeat.before} times before and {repeat.today} times today"
    )


def _bound_faults(scene: Scene) -> list[Fault]:
    """A plan may say that none does better only when what every plan must cost is what it costs."""
    plan = scene.plan
    total = plan.compromise.total
    if plan.bound > total:
        would_do = "What every plan costs at least can be no more than what this one costs."
        return [
            Fault(
                "how we know",
                f"every plan is said to cost {plan.bound}, and this one costs {total}",
                would_do,
            )
        ]
    certificate = plan.certificate
    if plan.proved and total and not (isinstance(certificate, Mapping) and certificate.get("stages")):
        found = "no plan is said to do better, and no prices are given by which that could be looked at"
        return [Fault("how we know", found, "Make the groups again.")]
    if plan.proved and plan.bound != total:
        would_do = "Say how much better a plan might be instead."
        found = f"no plan is said to do better, and one that does by {total - plan.bound} is not ruled out"
        return [Fault("how we know", found, would_do)]
    return []


def total_faults(plan: GroupPlan, *, total: object, by_wish: object) -> list[Fault]:
    """The sums as a plan file states them against the sums of its stages (a plan in memory always adds up)."""
    sums = plan.compromise.by_wish
    faults = []
    if total != plan.compromise.total:
        found = f"the total is given as {total}, its stages add up to {plan.compromise.total}"
        faults.append(Fault("the compromise", found, "The total is the sum over stages and wishes."))
    stated = by_wish if isinstance(by_wish, dict) else {}
    for wish in sorted({*sums, *map(str, stated)}):
        if stated.get(wish, 0) != sums.get(wish, 0):
            found = f"it is given as {stated.get(wish, 0)}, its stages add up to {sums.get(wish, 0)}"
            faults.append(
                Fault(f"the compromise, {WORDS.get(wish, wish)}", found, "It is the sum over stages.")
            )
    return faults
