"""What the pages of groups read."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from django.conf import settings

from benchmates.core.errors import CannotPlan
from benchmates.core.grouping.request import Request
from benchmates.core.grouping.result import GroupPlan
from benchmates.core.grouping.wishes import USUAL, Wishes
from benchmates.core.lesson.plan import Lesson
from benchmates.core.lesson.timing import Timetable, timetable
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.history import History
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.shape import plan_shape
from benchmates.core.terms import PupilId, counted
from benchmates.web.lessons import bridge as lesson_bridge
from benchmates.web.lessons.models import LessonRow
from benchmates.web.people import queries as people
from benchmates.web.people.models import SchoolClass
from benchmates.web.runs import bridge
from benchmates.web.runs.models import Job, PlanRow, SittingRow


def current_plan(lesson: LessonRow) -> PlanRow | None:
    """The groups that count for a lesson now."""
    return lesson.plans.filter(current=True).first()


def history(klass: SchoolClass, *, but: LessonRow | None = None) -> History:
    """Who has worked with whom in lessons that ended, other than the one being planned."""
    rows = SittingRow.objects.filter(klass=klass)
    return bridge.as_history(rows.exclude(lesson=but) if but is not None else rows)


def wishes(klass: SchoolClass) -> Wishes:
    """The usual wishes with what this class weighs differently."""
    return Wishes({**USUAL, **klass.wishes})


def next_seed(lesson: LessonRow) -> int:
    """Each making of groups for a lesson starts from its own number, so that "again" is another answer."""
    return lesson.plans.count() + 1


def request_for(lesson: LessonRow, *, seed: int) -> Request:
    """All that making groups needs, as plain values."""
    klass = lesson.klass
    return Request(
        class_list=people.class_list(klass),
        lesson=lesson_bridge.as_lesson(lesson),
        musts=people.musts(klass),
        history=history(klass, but=lesson),
        wishes=wishes(klass),
        seed=seed,
        seconds=settings.SOLVE_SECONDS,
    )


def last_refusal(lesson: LessonRow) -> Job | None:
    """Why the newest attempt gave no groups; None once groups were made after it."""
    job = lesson.jobs.first()
    return job if job is not None and job.state == Job.REFUSED else None


@dataclass(frozen=True)
class Drawn:
    """A lesson with its groups, ready for page and paper."""

    lesson: Lesson
    class_list: ClassList
    plan: GroupPlan | None
    times: Timetable | None
    cannot: tuple[str, ...] = ()

    @property
    def names(self) -> dict[PupilId, str]:
        """Names of those on the list; one who left since is called by id."""
        names = self.class_list.names()
        for pid in self.plan.present if self.plan else ():
            names.setdefault(pid, pid)
        return names

    def clock(self, minute: float) -> str:
        """A minute of the lesson as a clock time, or as minutes from the bell."""
        return clock_time(self.lesson.start, minute)


def clock_time(start: dt.time | None, minute: float) -> str:
    """ "09:43", or "43 min" where no start is given."""
    if start is None:
        return f"{minute:g} min"
    at = dt.datetime.combine(dt.date(2000, 1, 1), start) + dt.timedelta(minutes=minute)
    return f"{at:%H:%M}"


def has_one_grouping(row: LessonRow) -> bool:
    """Whether a lesson is one new grouping and nothing else, so that groups as they sat can stand in its place."""
    return [s.relation for s in lesson_bridge.as_lesson(row).way.stages] == [Relation.NEW]


def draw(row: LessonRow, plan_row: PlanRow | None) -> Drawn:
    """Put a lesson, its class and its groups together.

    The class list of a drawing holds everyone who sits in the plan, also one who left the list afterwards.
    """
    from benchmates.core.roster.pupil import Pupil

    lesson = lesson_bridge.as_lesson(row)
    listed = people.class_list(row.klass)
    plan = bridge.as_plan(plan_row) if plan_row else None
    seated = plan.present if plan else ()
    known = set(listed.ids)
    gone = tuple(Pupil(id=pid, name=pid) for pid in seated if pid not in known)
    class_list = ClassList(listed.pupils + gone)
    count = len(seated) or len(listed)
    times, cannot = _on_the_clock(lesson, plan, count)
    return Drawn(lesson, class_list, plan, times, cannot)


CHANGED = "The lesson was changed after these groups were made. Make groups again to draw and print it."


def _on_the_clock(
    lesson: Lesson, plan: GroupPlan | None, pupils: int
) -> tuple[Timetable | None, tuple[str, ...]]:
    """The timetable of a lesson, or why there is none: a class that cannot be cut so, or groups of another cut."""
    if not pupils:
        return None, ("Nobody is on this class list yet.",)
    try:
        shape = plan_shape(lesson.way, pupils, size=lesson.size)
    except CannotPlan as trouble:
        return None, trouble.told
    if plan is not None and [s.source for s in shape.stages] != [s.source for s in plan.stages]:
        return None, (CHANGED,)
    return timetable(lesson, shape), ()


def compared(old: GroupPlan | None, new: Mapping[str, object]) -> str:
    """Before and after in one sentence."""
    if old is None:
        return ""
    cost = new["compromise"]
    assert isinstance(cost, dict)
    total, repeats = cost["total"], new["repeats"]
    assert isinstance(repeats, list)
    was, now = {r.pupils for r in old.repeats}, {tuple(r["pupils"]) for r in repeats}
    return (
        f"Before: compromise {old.compromise.total}, {counted(len(was), 'pair')} together again. "
        f"Now: compromise {total}, {counted(len(now), 'pair')}."
    )
