"""A lesson round a way of working, and the refusal of dead time."""

from __future__ import annotations

from dataclasses import replace

import pytest

from benchmates.core.errors import CannotPlan
from benchmates.core.lesson.plan import lesson_for, with_stage
from benchmates.core.lesson.timing import timetable
from benchmates.core.strategy.catalogue import KEYS, way
from benchmates.core.strategy.shape import plan_shape
from benchmates.core.strategy.way import Way
from benchmates.core.terms import Span


def asking_one_question(key: str) -> Way:
    own = way(key)
    return replace(
        own, stages=tuple(replace(stage, question="Which would you choose?") for stage in own.stages)
    )


@pytest.mark.parametrize(
    ("key", "told"),
    [
        ("snowball", "Pairs, Fours and Eights ask the same question, so all but the first is dead time."),
        ("pairs-to-fours", "Pairs and Fours ask the same question, so all but the first is dead time."),
        (
            "consensus-ranking",
            "Pairs rank and Fours agree ask the same question, so all but the first is dead time.",
        ),
    ],
)
def test_one_question_at_every_size_is_refused_as_dead_time(key: str, told: str) -> None:
    with pytest.raises(CannotPlan) as trouble:
        lesson_for(asking_one_question(key), title="Lesson", bell=60)

    assert trouble.value.told == (told, "Ask something harder at each size, or say that you insist.")


def test_a_teacher_who_insists_is_told_and_served() -> None:
    lesson = lesson_for(asking_one_question("pairs-to-fours"), title="Lesson", bell=60, insists=True)

    times = timetable(lesson, plan_shape(lesson.way, 28))

    assert times.told[-1] == "Pairs and Fours ask the same question, so all but the first is dead time."


@pytest.mark.parametrize("key", sorted(set(KEYS) - {"snowball", "pairs-to-fours", "consensus-ranking"}))
def test_one_question_is_no_dead_time_where_groups_do_not_grow(key: str) -> None:
    assert lesson_for(asking_one_question(key), title="Lesson", bell=60).way.key == key


def test_clearing_up_takes_longer_where_something_is_made() -> None:
    """Six to ten minutes in a workshop (common practice, no source)."""
    minutes = {
        key: next(
            p.minutes.planned for p in lesson_for(way(key), title="x", bell=60).parts if p.name == "Clear up"
        )
        for key in ("pair-talk", "design-teams")
    }

    assert minutes == {"pair-talk": 5, "design-teams": 8}


@pytest.mark.parametrize("key", KEYS)
def test_every_stage_stands_in_one_part_in_order(key: str) -> None:
    parts = lesson_for(way(key), title="Lesson", bell=50).parts

    assert [part.stage for part in parts if part.stage is not None] == list(range(len(way(key).stages)))


@pytest.mark.parametrize("bell", [-5, 0, 9, 301])
def test_a_bell_that_is_none_is_refused(bell: int) -> None:
    with pytest.raises(CannotPlan, match="A bell has 10 to 300 minutes"):
        lesson_for(way("jigsaw"), title="Lesson", bell=bell)


def test_a_question_asked_again_at_one_step_is_told() -> None:
    lesson = lesson_for(way("snowball"), title="Lesson", bell=60)
    fours = replace(lesson.way.stages[2], question=lesson.way.stages[1].question.upper())

    times = timetable(with_stage(lesson, 2, fours), plan_shape(lesson.way, 28))

    assert times.told[-1] == "Fours asks the same question as Pairs: ask something harder."


def test_a_changed_stage_takes_its_part_with_it() -> None:
    lesson = lesson_for(way("snowball"), title="Lesson", bell=60)
    old = lesson.way.stages[4]
    new = replace(old, name="Reports", minutes=Span(1, 2, 3), each=2)

    changed = with_stage(lesson, 4, new)

    assert changed.way.stages == (*lesson.way.stages[:4], new)
    (part,) = (part for part in changed.parts if part.stage == 4)
    assert (part.name, part.minutes, part.each) == ("Reports", Span(1, 2, 3), 2)
    assert with_stage(changed, 4, old) == lesson


def test_a_part_with_minutes_of_its_own_keeps_them() -> None:
    lesson = lesson_for(way("pair-talk"), title="Lesson", bell=60)
    parts = tuple(replace(part, minutes=Span(9, 9, 9)) if part.stage == 0 else part for part in lesson.parts)
    lesson = replace(lesson, parts=parts)

    changed = with_stage(lesson, 0, replace(lesson.way.stages[0], minutes=Span(1, 2, 3), question="Why?"))

    assert changed.parts == lesson.parts
    assert changed.way.stages[0].question == "Why?"
