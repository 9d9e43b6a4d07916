"""Draw the pictures of the documentation anew from `examples/`: `python docs/pictures.py`.

The class, its history and the lesson are invented; the groups and the drawing are the product's own.
"""

from __future__ import annotations

from pathlib import Path

from benchmates.core.grouping.make import make_groups
from benchmates.core.grouping.request import Request
from benchmates.core.lesson.reading import read_lesson
from benchmates.core.lesson.timing import timetable
from benchmates.core.roster.reading import read_class_list, read_history, read_musts
from benchmates.core.strategy.shape import plan_shape
from benchmates.drawing.drawn import from_plan
from benchmates.drawing.threads import wide

REPO = Path(__file__).parents[1]
EXAMPLES = REPO / "examples"
THREADS = REPO / "docs" / "pictures" / "threads.svg"
# Long enough for the search to come to its own end: cut short by the clock, it would draw other groups.
SECONDS = 120.0


def threads() -> str:
    """The phone-stand lesson of class 8B, one thread for each pupil."""
    class_list = read_class_list((EXAMPLES / "8b.csv").read_bytes(), filename="8b.csv").confirmed()
    lesson = read_lesson((EXAMPLES / "phone-stand.toml").read_bytes(), filename="phone-stand.toml")
    musts = read_musts(
        (EXAMPLES / "8b-musts.csv").read_bytes(), filename="8b-musts.csv", class_list=class_list
    )
    history, _ = read_history(
        (EXAMPLES / "8b-history.csv").read_bytes(), filename="8b-history.csv", class_list=class_list
    )
    plan = make_groups(Request(class_list, lesson, musts=musts, history=history, seconds=SECONDS))
    slots = timetable(lesson, plan_shape(lesson.way, len(class_list.pupils), size=lesson.size)).slots
    followed = class_list.pupils[1].id
    return wide(from_plan(slots, plan, class_list, bell=lesson.start), followed, alone=True)


if __name__ == "__main__":
    THREADS.write_text(threads() + "\n", encoding="utf-8")
