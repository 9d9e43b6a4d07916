"""Rows to lessons and ways, and back."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from benchmates.core.lesson.plan import Lesson
from benchmates.core.lesson.reading import read_lesson
from benchmates.core.lesson.writing import write_lesson
from benchmates.core.strategy.catalogue import read_way
from benchmates.core.strategy.way import Way
from benchmates.web.lessons.models import LessonRow, OwnWay
from benchmates.web.people.frame import LessonFacts


def as_lesson(row: LessonRow) -> Lesson:
    """The lesson that a row holds."""
    return replace(read_lesson(row.toml.encode(), filename=row.title), insists=row.insists)


def put(row: LessonRow, lesson: Lesson) -> None:
    """Write a lesson into its row, lists' columns included.

    A lesson with one question at every size may be written down before anybody insists on it; it may not be used.
    So the text says yes, and the column says whether the teacher did.
    """
    row.toml = write_lesson(replace(lesson, insists=True))
    row.insists = lesson.insists
    row.title = lesson.title[:120]
    row.way_key = lesson.way.key
    row.way_name = lesson.way.name
    row.date = lesson.date


def as_way(row: OwnWay) -> Way:
    """A department's own way of working."""
    return read_way(row.toml.encode(), filename=row.name)


def facts(row: LessonRow, lesson: Lesson, *, has_groups: bool) -> LessonFacts:
    """What the frame of a sheet says of a lesson."""
    bell = f"{lesson.bell} min"
    if lesson.start is not None:
        begins = dt.datetime.combine(dt.date.today(), lesson.start)
        bell = f"{begins:%H:%M} to {begins + dt.timedelta(minutes=lesson.bell):%H:%M}"
    when = f"{lesson.date:%a} {lesson.date.day} {lesson.date:%B}" if lesson.date else ""
    return LessonFacts(
        pk=row.pk, title=row.title, room=lesson.room, when=when, bell=bell,
        ended=row.ended_on is not None, has_groups=has_groups,
    )  # fmt: skip
