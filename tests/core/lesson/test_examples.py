"""The invented lessons in ``examples/``: their minutes are worked by hand and must come out exactly."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchmates.core.lesson.plan import Lesson
from benchmates.core.lesson.reading import read_lesson
from benchmates.core.lesson.timing import timetable
from benchmates.core.lesson.writing import write_lesson
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.shape import plan_shape

EXAMPLES = Path(__file__).parents[3] / "examples"
LESSONS = {
    "phone-stand": (28, 60),
    "market-stall": (22, 60),
    "lessons/less-salt-dip": (18, 60),
    "lessons/feeder-audit": (25, 100),
    "lessons/card-cantilever-1": (19, 50),
    "lessons/card-cantilever-2": (20, 50),
    "lessons/market-stall-apron": (22, 100),
}


def example(name: str) -> Lesson:
    return read_lesson((EXAMPLES / f"{name}.toml").read_bytes(), filename=f"{name}.toml")


@pytest.mark.parametrize("name", LESSONS)
def test_an_example_fills_its_bell_exactly(name: str) -> None:
    pupils, bell = LESSONS[name]
    lesson = example(name)

    times = timetable(lesson, plan_shape(lesson.way, pupils))

    assert lesson.bell == bell == sum(slot.minutes for slot in times.slots)
    assert (times.over, times.spare) == (0, 0)


@pytest.mark.parametrize("name", LESSONS)
def test_an_example_is_the_same_when_written_and_read(name: str) -> None:
    assert read_lesson(write_lesson(example(name)).encode(), filename="again.toml") == example(name)


@pytest.mark.parametrize("name", LESSONS)
def test_every_stage_has_its_own_question_and_product(name: str) -> None:
    stages = example(name).way.stages

    assert all(stage.question and stage.product for stage in stages)
    assert len({stage.question for stage in stages}) == len(stages)


@pytest.mark.parametrize(
    ("name", "told"),
    [
        # 5 x 1 + 4 x 0.25 = 6 and 5 x 1.5 + 4 x 0.25 = 8.5, worked by hand
        (
            "lessons/less-salt-dip",
            "Feedback: 5 of 6 groups can report in 6 minutes; hearing all takes 7.25 minutes.",
        ),
        (
            "lessons/feeder-audit",
            "Feedback: 5 of 6 groups can report in 8.5 minutes; hearing all takes 10.25 minutes.",
        ),
    ],
)
def test_feedback_hears_five_of_six(name: str, told: str) -> None:
    lesson = example(name)

    assert timetable(lesson, plan_shape(lesson.way, LESSONS[name][0])).told == (told,)


@pytest.mark.parametrize(
    ("name", "relation", "sizes"),
    [
        ("less-salt-dip", Relation.CROSS, [3] * 6),
        ("feeder-audit", Relation.NEW, [5, 4, 4, 4, 4, 4]),
        ("feeder-audit", Relation.CROSS, [4] + [3] * 7),
        ("card-cantilever-1", Relation.MERGE, [4, 4, 4, 4, 3]),
        ("card-cantilever-1", Relation.NEW, [3] + [2] * 8),
        ("market-stall-apron", Relation.MERGE, [5, 5, 4, 4, 4]),
        ("market-stall-apron", Relation.NEW, [3, 3] + [2] * 8),
        ("market-stall-apron", Relation.INNER_OUTER, [17, 5]),
    ],
)
def test_the_scenarios_are_cut_as_worked_by_hand(name: str, relation: Relation, sizes: list[int]) -> None:
    lesson = example(f"lessons/{name}")
    shape = plan_shape(lesson.way, LESSONS[f"lessons/{name}"][0])

    found = next(stage for stage in shape.stages if stage.relation is relation)

    assert sorted(found.sizes, reverse=True) == sizes
