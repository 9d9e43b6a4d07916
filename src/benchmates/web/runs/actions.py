"""What changes groups. Each is one transaction and one line in the record; none of them makes groups itself."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Any

from benchmates.core.grouping.cost import compromise, repeats
from benchmates.core.grouping.result import Group, GroupPlan, StageGroups
from benchmates.core.grouping.result_json import as_json
from benchmates.core.lesson.plan import Lesson
from benchmates.core.strategy.relation import Relation
from benchmates.core.terms import PupilId, counted
from benchmates.web.lessons import bridge as lesson_bridge
from benchmates.web.lessons.models import LessonRow
from benchmates.web.people import queries as people
from benchmates.web.people.models import SchoolClass, Staff
from benchmates.web.people.record import Recorder, recorded
from benchmates.web.runs import bridge, queries
from benchmates.web.runs.models import Job, PlanRow, SittingRow
from benchmates.web.runs.solving import Answer


def keep_answer(*, job: Job, answer: Answer) -> None:
    """Keep what came back: groups as the lesson's current ones, or the reason why there are none."""
    if answer.plan is not None and job.lesson.ended_on is not None:
        answer = Answer(
            None, ("The lesson ended while its groups were being made.", "They stay as they were.")
        )
    if answer.plan is not None:
        keep_plan(by=job.by, key=f"job-{job.pk}-{job.key}"[:64], lesson=job.lesson, plan=answer.plan)
    job.state = Job.REFUSED if answer.plan is None else Job.DONE
    job.told, job.clash = list(answer.told), list(answer.clash)
    job.save(update_fields=["state", "told", "clash"])


def keep_plan(
    *, by: Staff, key: str, lesson: LessonRow, plan: Mapping[str, Any], source: str = PlanRow.MADE
) -> PlanRow:
    """Make these groups the current ones; the earlier draft stays."""
    old = queries.current_plan(lesson)
    count = len(plan["present"])
    word = "groups made" if old is None else "groups made again"
    with recorded(by=by, key=key, klass=lesson.klass, lesson=lesson.pk, what=f"{word} for {count}") as note:
        if note.again is not None:
            return PlanRow.objects.get(lesson=lesson, current=True)
        told = queries.compared(bridge.as_plan(old) if old else None, plan)
        row = _make_current(note, lesson, plan, source, told)
    return row


def _make_current(
    note: Recorder, lesson: LessonRow, plan: Mapping[str, Any], source: str, told: str
) -> PlanRow:
    for old in PlanRow.objects.filter(lesson=lesson, current=True):
        old.current = False
        note.save(old)
    row = PlanRow(lesson=lesson, plan=dict(plan), source=source, compared=told)
    note.save(row)
    return row


def keep_chosen(
    *,
    by: Staff,
    key: str,
    klass: SchoolClass,
    lesson: Lesson,
    groups: Mapping[str, Sequence[PupilId]],
    instead: LessonRow | None = None,
) -> LessonRow:
    """Keep groups that pupils chose themselves, as they sat.

    They take the place of the groups of the lesson ``instead``, so that one hour counts once; without it they become a
    lesson of their own.
    """
    plan = as_json(_as_sat(klass, lesson, groups))
    with recorded(
        by=by, key=key, klass=klass, what=f"{counted(len(groups), 'group')} they chose themselves"
    ) as note:
        if note.again is not None:
            return LessonRow.objects.get(pk=note.again.lesson or 0)
        row = instead or LessonRow(klass=klass)
        if instead is None:
            lesson_bridge.put(row, lesson)
            note.save(row)
        note.lesson = row.pk
        _make_current(note, row, plan, PlanRow.CHOSEN, "")
    return row


def _as_sat(klass: SchoolClass, lesson: Lesson, groups: Mapping[str, Sequence[PupilId]]) -> GroupPlan:
    """Groups as they sat, weighed against the wishes like any others. No role is given: nobody asked for one."""
    seated = frozenset(p for members in groups.values() for p in members)
    listed = people.class_list(klass)
    present = listed.without(frozenset(listed.ids) - seated)
    stage = StageGroups(
        name=lesson.way.stages[0].name,
        relation=Relation.NEW,
        of=None,
        groups=tuple(Group(label=label, members=tuple(members)) for label, members in sorted(groups.items())),
        source=0,
    )
    met = queries.history(klass).meetings(present.ids)
    again = repeats((stage,), present=present, meetings=met)
    told = [f"{counted(len(groups), 'group')} as they sat, chosen by the pupils."]
    if again:
        told.append(f"{counted(len(again), 'pair')} had worked together before.")
    return GroupPlan(
        way=lesson.way.key, seed=0, present=present.ids, stages=(stage,),
        compromise=compromise((stage,), present=present, meetings=met, wishes=queries.wishes(klass)),
        bound=0, proved=False, certificate=None, stopped_because="entered", seconds=0.0, repeats=again,
        told=tuple(told),
    )  # fmt: skip


def set_lead(
    *, by: Staff, key: str, lesson: LessonRow, stage: int, group: str, card: str, pupil: str
) -> None:
    """Say who in a group leads a question card."""
    with recorded(
        by=by, key=key, klass=lesson.klass, lesson=lesson.pk, what=f"who leads “{card}” in {group}"
    ) as note:
        row = queries.current_plan(lesson)  # read under the lock: two presses at once must both count
        if note.again is not None or row is None or not 0 <= stage < len(row.plan["stages"]):
            return
        for found in row.plan["stages"][stage]["groups"]:
            if found["label"] == group and pupil in found["members"]:
                leads = {
                    p: [w for w in words if w != card] for p, words in (found.get("leads") or {}).items()
                }
                leads.setdefault(pupil, []).append(card)
                found["leads"] = {p: words for p, words in leads.items() if words}
                note.save(row)


def end_lesson(*, by: Staff, key: str, lesson: LessonRow, on: dt.date) -> int:
    """The lesson has ended: planned groups become who worked with whom. Returns how many places were stored."""
    places: list[SittingRow] = []
    with recorded(
        by=by, key=key, klass=lesson.klass, lesson=lesson.pk, what=f"lesson ended: {lesson.title}"
    ) as note:
        lesson.refresh_from_db()  # read under the lock: two presses at once must end it once
        row = queries.current_plan(lesson)
        if note.again is not None or row is None or lesson.ended_on is not None:
            return 0
        lesson.ended_on = on
        note.save(lesson)
        places = _sittings(lesson, bridge.as_plan(row), on)
        note.create_all(places)
    return len(places)


def _sittings(lesson: LessonRow, plan: GroupPlan, on: dt.date) -> list[SittingRow]:
    """Every place in a group or a ring; alone and as a whole class nobody sits anywhere in particular."""
    return [
        SittingRow(
            klass=lesson.klass, lesson=lesson, date=on, number=number, stage=stage.name[:80],
            group=group.label, pupil=pupil, role=group.roles.get(pupil, ""),
        )
        for number, stage in enumerate(plan.stages)
        if stage.relation not in (Relation.INDIVIDUAL, Relation.WHOLE)
        for group in stage.groups
        for pupil in group.members
    ]  # fmt: skip
