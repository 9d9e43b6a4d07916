"""`benchmates check`: is a plan what it says it is? Worked out a second time, apart from the engine."""

from __future__ import annotations

from pathlib import Path

import typer

from benchmates.cli import options
from benchmates.cli.exits import Exit, answering, fault_object
from benchmates.cli.files import bytes_of
from benchmates.cli.given import Named, lesson_given, limits, object_in, read_given
from benchmates.cli.words import say, say_trouble, show_json
from benchmates.core.errors import Fault
from benchmates.core.grouping.checking import faults_in, total_faults
from benchmates.core.grouping.result import GroupPlan
from benchmates.core.grouping.result_json import read_plan
from benchmates.core.lesson.plan import Lesson
from benchmates.core.terms import counted


def check(
    plan_file: options.PlanFile,
    class_file: options.ClassFile,
    way: options.Way = None,
    lesson: options.LessonFile = None,
    size: options.Size = None,
    sizes: options.Sizes = None,
    adults: options.Adults = None,
    columns: options.Columns = None,
    musts: options.Musts = None,
    history: options.History = None,
    wishes: options.Wishes = None,
    absent: options.Absent = "",
    as_json: options.AsJson = False,
) -> None:
    """Check a plan against its class: who sits where, relations, musts and figures."""
    with answering(as_json=as_json):
        asked = limits(sizes)
        against = _lesson(way, lesson, size, adults)
        data = bytes_of(plan_file)
        plan = read_plan(data, filename=str(plan_file))
        given = read_given(Named(class_file, columns, musts, history, wishes, absent))
        faults = [
            *_way_faults(plan, against),
            *faults_in(
                plan,
                given.class_list,
                musts=given.musts,
                history=given.history,
                wishes=given.wishes,
                adults=adults if adults is not None else against.adults if against else 1,
                absent=given.absent,
                lesson=against,
                sizes=asked,
            ),
            *_stated_faults(data, plan),
        ]
    if as_json:
        show_json({"told": list(_told(plan, faults)), "faults": [fault_object(f) for f in faults]})
    elif faults:
        say_trouble((*_told(plan, faults), *(f"- {fault}" for fault in faults)))
    else:
        say(*_told(plan, faults))
    if faults:
        raise typer.Exit(Exit.FAULTS_FOUND)


def _lesson(way: str | None, lesson: Path | None, size: int | None, adults: int | None) -> Lesson | None:
    if way is None and lesson is None:
        return None
    return lesson_given(way_key=way, lesson_file=lesson, size=size, adults=adults)


def _way_faults(plan: GroupPlan, lesson: Lesson | None) -> list[Fault]:
    if lesson is None or lesson.way.key == plan.way:
        return []
    return [Fault("the plan", f"it is for “{plan.way}”", f"The way of working named is “{lesson.way.key}”.")]


def _stated_faults(data: bytes, plan: GroupPlan) -> list[Fault]:
    """Sums as the file states them; a plan read from it adds its stages up anew and would not show a wrong one."""
    stated = object_in(data).get("compromise")
    stated = stated if isinstance(stated, dict) else {}
    return total_faults(plan, total=stated.get("total"), by_wish=stated.get("by_wish"))


def _told(plan: GroupPlan, faults: list[Fault]) -> tuple[str, ...]:
    if faults:
        return (f"{counted(len(faults), 'fault')} found in this plan.",)
    stages = counted(len(plan.stages), "stage")
    return (
        f"This plan holds: {counted(len(plan.present), 'pupil')} in {stages}, each in one group every time.",
        f"Relations and musts hold, and its compromise of {plan.compromise.total} is what its groups cost.",
    )
