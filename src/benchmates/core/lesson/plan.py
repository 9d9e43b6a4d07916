"""A lesson as planned: the one object from which groups, minutes and sheets follow."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import dataclass, replace
from enum import StrEnum

from benchmates.core.errors import CannotPlan
from benchmates.core.lesson.frame import PRACTICAL_CLEAR_UP, Frame, frame_for
from benchmates.core.strategy.chain import asks_again, dead_time
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.way import Purpose, Stage, Way
from benchmates.core.terms import Minutes, Span, joined


class Priority(StrEnum):
    """What goes first when the bell is near."""

    MUST = "must"
    SHOULD = "should"
    COULD = "could"


@dataclass(frozen=True)
class Part:
    """One stretch of the lesson on the clock.

    ``stage`` is the index of the way's stage this part carries, or None for the frame (register, briefing, clear up);
    in a rotation the minutes are those of one turn. ``never_cut`` marks safety, clear-up and dismissal. ``each``
    (feedback): minutes for one group, with a quarter of a minute between groups.
    """

    name: str
    minutes: Span
    stage: int | None = None
    never_cut: bool = False
    priority: Priority = Priority.MUST
    each: float | None = None


@dataclass(frozen=True)
class Lesson:
    """A lesson: its title, its way of working with the stages' own questions, its bell and its room.

    ``parts`` in the order of the clock; every stage of the way stands in exactly one part, in order. ``size`` is the
    size a teacher asked for instead of the way's own.
    """

    title: str
    way: Way
    parts: tuple[Part, ...]
    bell: int
    start: dt.time | None = None
    date: dt.date | None = None
    room: str = ""
    class_name: str = ""
    purpose: Purpose | None = None
    size: int | None = None
    adults: int = 1
    insists: bool = False


SHORTEST_BELL, LONGEST_BELL = 10, 300
FEEDBACK = "Feedback"
# One minute a group: the shortest report that says anything (common practice, no source).
MINUTES_A_REPORT: Minutes = 1.0
LONGEST_FEEDBACK: Minutes = 10.0


def lesson_for(
    way: Way,
    *,
    title: str,
    bell: int,
    start: dt.time | None = None,
    date: dt.date | None = None,
    room: str = "",
    class_name: str = "",
    purpose: Purpose | None = None,
    size: int | None = None,
    adults: int = 1,
    insists: bool = False,
) -> Lesson:
    """A lesson round a way of working, with the usual minutes for its bell.

    Raises
    ------
    CannotPlan
        The bell is no bell, or growing groups would be asked one question over and over and the teacher does not
        insist.
    """
    if not SHORTEST_BELL <= bell <= LONGEST_BELL:
        would_do = f"A bell has {SHORTEST_BELL} to {LONGEST_BELL} minutes."
        raise CannotPlan(f"A lesson of {bell} minutes cannot be planned.", would_do)
    lesson = Lesson(
        title, way, usual_parts(way, bell), bell, start=start, date=date, room=room, class_name=class_name,
        purpose=purpose, size=size, adults=adults, insists=insists,
    )  # fmt: skip
    refuse_dead_time(lesson)
    return lesson


def usual_parts(way: Way, bell: int) -> tuple[Part, ...]:
    """Register, starter and briefing, the stages, feedback unless the way ends together, clearing up, plenary."""
    frame = frame_for(bell)
    stages = tuple(
        Part(stage.name, stage.minutes, stage=index, each=stage.each or None)
        for index, stage in enumerate(way.stages)
    )
    feedback = () if any(stage.relation is Relation.WHOLE for stage in way.stages) else (_feedback(frame),)
    clear_up = frame.clear_up
    # Benches and tools take longer, out of the stages and not out of the plenary.
    if Purpose.MAKE in way.purposes:
        clear_up = max(clear_up, min(PRACTICAL_CLEAR_UP, round(2 * PRACTICAL_CLEAR_UP * bell / 60) / 2))
    return (
        Part("Enter and register", _exactly(frame.enter), never_cut=True),
        Part("Starter", _at_least_half(frame.starter), priority=Priority.COULD),
        Part("Briefing", _exactly(frame.briefing), never_cut=True),
        *stages,
        *feedback,
        Part("Clear up", _exactly(clear_up), never_cut=True),
        Part("Plenary and exit", _at_least_half(frame.plenary)),
    )


def _feedback(frame: Frame) -> Part:
    half = _at_least_half(frame.feedback)
    span = Span(half.least, half.planned, max(half.planned, LONGEST_FEEDBACK))
    return Part(FEEDBACK, span, priority=Priority.SHOULD, each=MINUTES_A_REPORT)


def _exactly(minutes: Minutes) -> Span:
    return Span(minutes, minutes, minutes)


def _at_least_half(minutes: Minutes) -> Span:
    return Span(min(minutes, max(1.0, math.ceil(minutes) / 2)), minutes, minutes)


def refuse_dead_time(lesson: Lesson) -> None:
    """Refuse a lesson whose growing groups are asked one question at every size, unless the teacher insists.

    Raises
    ------
    CannotPlan
        Says which stages, and what would do.
    """
    if lesson.insists or lesson.way.one_question_ok:
        return
    told = dead_time_told(lesson)
    if told:
        raise CannotPlan(*told, "Ask something harder at each size, or say that you insist.")


def dead_time_told(lesson: Lesson) -> tuple[str, ...]:
    """One sentence for every run of growing groups that is asked the same question throughout."""
    names = [[lesson.way.stages[index].name for index in run] for run in dead_time(lesson.way.stages)]
    return tuple(f"{joined(run)} ask the same question, so all but the first is dead time." for run in names)


def asks_again_told(lesson: Lesson) -> tuple[str, ...]:
    """One sentence for every stage that asks its question again of the groups it joins, short of a refusal."""
    refused = {run[-1] for run in dead_time(lesson.way.stages)}
    stages = lesson.way.stages
    return tuple(
        f"{stages[later].name} asks the same question as {stages[earlier].name}: ask something harder."
        for earlier, later in asks_again(stages)
        if later not in refused
    )


def with_stage(lesson: Lesson, index: int, stage: Stage) -> Lesson:
    """The lesson with one stage changed; its part on the clock follows where it stood as the stage did."""
    old = lesson.way.stages[index]
    stages = (*lesson.way.stages[:index], stage, *lesson.way.stages[index + 1 :])
    parts = tuple(_follow(part, old, stage) if part.stage == index else part for part in lesson.parts)
    return replace(lesson, way=replace(lesson.way, stages=stages), parts=parts)


def _follow(part: Part, old: Stage, new: Stage) -> Part:
    return replace(
        part,
        name=new.name if part.name == old.name else part.name,
        minutes=new.minutes if part.minutes == old.minutes else part.minutes,
        each=new.each or None if part.each == (old.each or None) else part.each,
    )
