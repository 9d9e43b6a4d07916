"""The one question: does this plan hold, and if not, what is wrong where?"""

from __future__ import annotations

from collections.abc import Sequence

from benchmates.core.errors import CannotPlan, Fault
from benchmates.core.grouping.checking.figures import figure_faults
from benchmates.core.grouping.checking.must_faults import must_faults
from benchmates.core.grouping.checking.people import people_faults
from benchmates.core.grouping.checking.prices import price_faults
from benchmates.core.grouping.checking.relations import relation_faults
from benchmates.core.grouping.checking.scene import Scene
from benchmates.core.grouping.result import GroupPlan
from benchmates.core.grouping.wishes import Wishes
from benchmates.core.lesson.plan import Lesson
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.history import History
from benchmates.core.roster.musts import Must
from benchmates.core.strategy.shape import plan_shape
from benchmates.core.terms import PupilId, joined


def faults_in(
    plan: GroupPlan,
    class_list: ClassList,
    *,
    musts: Sequence[Must] = (),
    history: History | None = None,
    wishes: Wishes | None = None,
    adults: int = 1,
    absent: frozenset[PupilId] | None = None,
    lesson: Lesson | None = None,
    sizes: tuple[int, int] | None = None,
) -> tuple[Fault, ...]:
    """Everything that does not hold in a plan, in the order of its stages; empty when all holds.

    Parameters
    ----------
    absent
        Who was away when groups were made. None takes the plan's own word: whoever it does not list as present.
    lesson
        The lesson the plan was made for; its stages and group sizes are compared when it is given.
    sizes
        Least and most that were asked for instead of the way's own limits.

    Notes
    -----
    When people are missing or seated twice, nothing else is looked at: further faults would follow from that.
    """
    scene = Scene(plan, class_list, absent)
    people = people_faults(scene)
    if people:
        return tuple(people)
    return (
        *(_lesson_faults(plan, lesson, sizes) if lesson is not None else ()),
        *relation_faults(scene, musts, adults),
        *must_faults(scene, musts, adults),
        *figure_faults(scene, history or History(), wishes or Wishes.usual()),
        *price_faults(scene, musts, history or History(), wishes or Wishes.usual(), adults),
    )


def people_faults_in(plan: GroupPlan, class_list: ClassList) -> tuple[Fault, ...]:
    """Whoever is missing or seated twice, and labels, roles and cards out of order; nothing is weighed."""
    return tuple(people_faults(Scene(plan, class_list, None)))


def _lesson_faults(plan: GroupPlan, lesson: Lesson, sizes: tuple[int, int] | None) -> list[Fault]:
    """Stages and sizes against the lesson's way of working, cut anew to those present."""
    try:
        shape = plan_shape(lesson.way, len(plan.present), size=lesson.size, sizes=sizes)
    except CannotPlan as trouble:
        return [Fault("the lesson", trouble.told[0], "Check the plan against the lesson it was made for.")]
    planned = [(s.relation, s.of) for s in shape.stages]
    if planned != [(s.relation, s.of) for s in plan.stages]:
        names = joined([s.name for s in shape.stages])
        return [Fault("the plan", "its stages are not those of the lesson", f"The lesson runs {names}.")]
    return [
        Fault(
            f"stage {k + 1} “{stage.name}”",
            f"groups of {_told(len(g.members) for g in stage.groups)}",
            f"With {len(plan.present)} pupils this stage has groups of {_told(shape.stages[k].sizes)}.",
        )
        for k, stage in enumerate(plan.stages)
        if sorted(len(g.members) for g in stage.groups) != sorted(shape.stages[k].sizes)
    ]


def _told(sizes: object) -> str:
    return joined([str(s) for s in sorted(sizes, reverse=True)])  # type: ignore[call-overload]
