"""A lesson on the clock: fitted, told, never refused for being long."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchmates.core.errors import CannotPlan
from benchmates.core.lesson.plan import Lesson, Part, lesson_for
from benchmates.core.lesson.timing import Slot, Timetable, clock, timetable
from benchmates.core.strategy.catalogue import KEYS, way
from benchmates.core.strategy.shape import plan_shape
from benchmates.core.terms import Span


def timed(key: str, *, bell: int, pupils: int = 28) -> Timetable:
    lesson = lesson_for(way(key), title="Lesson", bell=bell)
    return timetable(lesson, plan_shape(lesson.way, pupils))


def named(times: Timetable, name: str) -> Slot:
    return next(slot for slot in times.slots if slot.name == name)


def test_pairs_to_fours_in_an_hour() -> None:
    times = timed("pairs-to-fours", bell=60)

    assert [(slot.name, slot.start, slot.minutes, slot.kind) for slot in times.slots] == [
        ("Enter and register", 0, 4, "frame"),
        ("Starter", 4, 5, "frame"),
        ("Briefing", 9, 6, "frame"),
        ("Move: new groups", 15, 0.5, "move"),
        ("Pairs", 15.5, 6, "stage"),
        ("Move: join with your neighbours", 21.5, 1, "move"),
        ("Fours", 22.5, 8, "stage"),
        ("Feedback", 30.5, 8.5, "feedback"),
        ("Clear up", 39, 5, "frame"),
        ("Plenary and exit", 44, 3, "frame"),
    ]
    assert [slot.stage for slot in times.slots] == [None, None, None, 0, 0, 1, 1, None, None, None]
    assert (times.over, times.spare) == (0, 13)
    assert times.told == ("13 minutes of the bell are free: teach, or add a stage.",)


def test_a_tight_bell_shortens_the_stages_and_tells() -> None:
    """Seven groups of four at a minute each take 7 x 1 + 6 x 0.25 = 8.5 minutes."""
    times = timed("jigsaw", bell=60)

    assert sum(slot.minutes for slot in times.slots) == 60
    assert times.told == (
        "As planned it would take 61.5 minutes; the stages are shortened to fit 60.",
        "Feedback: 4 of 7 groups can report in 5.5 minutes; hearing all takes 8.5 minutes.",
    )
    assert (named(times, "Feedback").heard, named(times, "Feedback").groups) == (4, 7)


def test_too_long_a_lesson_is_told_and_not_refused() -> None:
    times = timed("jigsaw", bell=30)

    assert times.over == sum(slot.minutes for slot in times.slots) - 30 > 0
    assert (
        times.told[0] == f"This runs {times.over:g} minutes over the bell, with every stage at its shortest."
    )
    assert times.told[1] == "Leaving out Starter saves 1.5 minutes."
    assert [sentence.met for sentence in times.sentences][:2] == [
        False,
        True,
    ]  # what is wrong, and what would help
    assert "Jigsaw is rarely worth it in under 40 minutes." in times.told


def test_each_turn_of_a_rotation_has_its_minutes_and_its_changeover() -> None:
    """Four stations: 4 x dwell + 3 x move, worked by hand for 60 minutes: 4 x 6.5 + 3 x 1 = 29."""
    times = timed("carousel", bell=60)
    turns = [slot for slot in times.slots if slot.kind == "stage"]
    moves = [slot for slot in times.slots if slot.kind == "move" and slot.stage]

    assert [slot.minutes for slot in turns] == [6.5, 6.5, 6.5, 6.5]
    assert [slot.minutes for slot in moves] == [1, 1, 1]
    assert [slot.stage for slot in turns] == [0, 1, 2, 3]


@given(st.sampled_from(KEYS), st.integers(20, 120), st.integers(8, 36))
@settings(max_examples=150, deadline=None)
def test_the_clock_keeps_its_laws(key: str, bell: int, pupils: int) -> None:
    lesson = lesson_for(way(key), title="Lesson", bell=bell)
    try:
        shape = plan_shape(lesson.way, pupils)
    except CannotPlan:
        return
    times = timetable(lesson, shape)

    assert all(
        after.start == pytest.approx(before.finish)
        for before, after in zip(times.slots, times.slots[1:], strict=False)
    )
    assert sum(slot.minutes for slot in times.slots) == pytest.approx(bell + times.over - times.spare)
    assert not (times.over and times.spare)
    kept = {part.name: part.minutes.planned for part in lesson.parts if part.never_cut}
    assert {slot.name: slot.minutes for slot in times.slots if slot.never_cut} == kept
    assert {slot.stage for slot in times.slots if slot.kind in ("stage", "feedback")} - {None} == set(
        range(len(shape.stages))
    )
    for slot in times.slots:
        assert slot.minutes > 0
        assert 4 * slot.minutes == pytest.approx(round(4 * slot.minutes))
    turns = [
        slot.minutes for slot in times.slots
        if slot.kind == "stage" and slot.stage is not None and shape.stages[slot.stage].turn
    ]  # fmt: skip
    assert len(set(turns)) <= 1


def test_minutes_that_fill_the_bell_stay_as_written() -> None:
    lesson = Lesson(
        "Exact",
        way("pair-talk"),
        (Part("Register", Span(2, 2.25, 3)), Part("Pairs", Span(1, 7.25, 9), stage=0)),
        bell=10,
    )

    times = timetable(lesson, plan_shape(lesson.way, 8))

    assert [slot.minutes for slot in times.slots] == [2.25, 0.5, 7.25]


def test_a_stage_that_the_class_leaves_out_takes_no_time() -> None:
    lesson = lesson_for(way("snowball"), title="Lesson", bell=60)
    times = timetable(lesson, plan_shape(lesson.way, 12))

    assert "Eights" not in [slot.name for slot in times.slots]


def test_a_stage_in_no_part_is_refused() -> None:
    lesson = lesson_for(way("pairs-to-fours"), title="Lesson", bell=60)
    spoiled = replace(lesson, parts=tuple(part for part in lesson.parts if part.stage != 1))

    with pytest.raises(CannotPlan, match="“Fours” stands in no part"):
        timetable(spoiled, plan_shape(lesson.way, 28))


def test_finish_by_times_run_on_the_clock() -> None:
    times = timed("pairs-to-fours", bell=60)

    assert times.finish_by(dt.time(10, 25))[:5] == (
        dt.time(10, 29), dt.time(10, 34), dt.time(10, 40), dt.time(10, 40, 30), dt.time(10, 46, 30),
    )  # fmt: skip
    assert clock(dt.time(23, 50), 15) == dt.time(0, 5)


def test_groups_at_the_teacher_do_not_report_as_a_group() -> None:
    shape = plan_shape(way("skill-cascade"), 16)
    lesson = lesson_for(way("skill-cascade"), title="Lesson", bell=60)

    assert named(timetable(lesson, shape), "Feedback").groups == 4


@pytest.mark.parametrize(
    ("key", "moves"),
    [
        ("pass-on-sketching", ["new groups", *["pass the work on"] * 3, "hand the work back"]),
        ("critique-gallery", [*["move on by one"] * 3, "back to your own place"]),
        ("listening-triads", ["new groups", "swap roles", "swap roles"]),
    ],
)
def test_a_move_says_what_moves(key: str, moves: list[str]) -> None:
    times = timed(key, bell=60)

    assert [slot.name for slot in times.slots if slot.kind == "move"] == [f"Move: {words}" for words in moves]
