"""What every check looks at: the plan, the class, and how to name both in a teacher's words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from benchmates.core.grouping.result import Group, GroupPlan, StageGroups
from benchmates.core.roster.class_list import ClassList
from benchmates.core.terms import PupilId, joined


@dataclass(frozen=True)
class Scene:
    """A plan beside its class list. ``absent`` None: away is whoever the plan does not list as present."""

    plan: GroupPlan
    class_list: ClassList
    absent: frozenset[PupilId] | None = None

    @property
    def present(self) -> ClassList:
        """Those the plan was made for, in list order."""
        here = frozenset(self.plan.present)
        return ClassList(tuple(p for p in self.class_list if p.id in here))

    def stage(self, k: int) -> str:
        """Where a fault lies: a stage by number and name."""
        return f"stage {k + 1} “{self.plan.stages[k].name}”"

    def group(self, k: int, group: Group) -> str:
        """Where a fault lies: a group of a stage."""
        return f"{self.stage(k)}, group {group.label}"

    def named(self, pupils: Iterable[PupilId]) -> str:
        """Names as a teacher says them, in list order; an unknown id stands for itself."""
        names = self.class_list.names()
        order = {p: k for k, p in enumerate(names)}
        known = sorted(pupils, key=lambda p: (order.get(p, len(order)), p))
        return joined([names.get(p, p) for p in known])


def sets_of(stage: StageGroups) -> list[frozenset[PupilId]]:
    """The members of each group, in stage order."""
    return [frozenset(g.members) for g in stage.groups]
