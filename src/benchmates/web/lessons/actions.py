"""What changes a lesson. Each is one transaction and one line in the record."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace

from benchmates.core.lesson.plan import Lesson, with_stage
from benchmates.core.strategy.catalogue import write_way
from benchmates.core.strategy.way import Card, Way
from benchmates.web.lessons import bridge
from benchmates.web.lessons.models import LessonRow, OwnWay
from benchmates.web.people.models import SchoolClass, Staff
from benchmates.web.people.record import recorded


def draw_lesson(*, by: Staff, key: str, klass: SchoolClass, lesson: Lesson) -> LessonRow:
    """Begin a lesson."""
    with recorded(by=by, key=key, klass=klass, what=f"lesson drawn: {lesson.way.name}") as note:
        if note.again is not None:
            return LessonRow.objects.get(pk=note.again.lesson or 0)
        row = LessonRow(klass=klass)
        bridge.put(row, lesson)
        note.save(row)
        note.lesson = row.pk
    return row


def _change(*, by: Staff, key: str, row: LessonRow, what: str, lesson: Lesson) -> None:
    before = (row.toml, row.insists)
    with recorded(by=by, key=key, klass=row.klass, lesson=row.pk, what=what) as note:
        if note.again is None:
            bridge.put(row, lesson)
            if (row.toml, row.insists) != before:
                note.save(row)


def write_stage(
    *, by: Staff, key: str, row: LessonRow, stage: int, question: str, product: str, cards: Sequence[Card]
) -> None:
    """Write the words of one stage; cards, wall sheet, run sheet and board all read them from here."""
    lesson = bridge.as_lesson(row)
    old = lesson.way.stages[stage]
    new = replace(old, question=question, product=product, cards=tuple(cards))
    lesson = with_stage(lesson, stage, new)
    _change(by=by, key=key, row=row, what=f"words of {old.name}", lesson=lesson)


def describe_lesson(
    *,
    by: Staff,
    key: str,
    row: LessonRow,
    title: str,
    bell: int,
    start: dt.time | None,
    date: dt.date | None,
    room: str,
    size: int | None,
) -> None:
    """Change title, bell, start, date, room or the size of groups asked for."""
    lesson = replace(
        bridge.as_lesson(row), title=title, bell=bell, start=start, date=date, room=room, size=size
    )
    _change(by=by, key=key, row=row, what=f"lesson described: {title}", lesson=lesson)


def insist(*, by: Staff, key: str, row: LessonRow) -> None:
    """Keep one question at every size although its later stages are likely to be dead time."""
    lesson = replace(bridge.as_lesson(row), insists=True)
    _change(by=by, key=key, row=row, what="insisted on one question at every size", lesson=lesson)


def keep_way(*, by: Staff, key: str, way: Way) -> OwnWay:
    """Keep a way of working that the department wrote; the same key again replaces it."""
    with recorded(by=by, key=key, what=f"own way kept: {way.name}") as note:
        row = OwnWay.objects.filter(department=by.department, key=way.key).first()
        if note.again is not None and row is not None:
            return row
        row = row or OwnWay(department=by.department, key=way.key)
        row.name, row.toml = way.name, write_way(way)
        note.save(row)
    return row
