"""Write a lesson as a plain file that reads back to the same lesson. No pupil stands in it."""

from __future__ import annotations

from dataclasses import replace

from benchmates.core.lesson.plan import Lesson, Part, Priority, usual_parts
from benchmates.core.lesson.reading import plain_head
from benchmates.core.strategy.catalogue import KEYS, way
from benchmates.core.strategy.fields import FORMAT
from benchmates.core.strategy.way import Stage, Way
from benchmates.core.strategy.writing import card_lines, head_lines, pairs, stage_lines, three, value


def write_lesson(lesson: Lesson) -> str:
    """The file of a lesson.

    A way of the catalogue is named, with what the lesson changes in it; another way is written out in full. Parts are
    written only where they differ from the usual ones for this bell.
    """
    known = _catalogued(lesson.way)
    plain = plain_head(lesson.title, lesson.purpose, lesson.way.stages, lesson.way.stations)
    names_stations = (known is not None and known.stations != lesson.way.stations) or lesson.way == plain
    lines = [
        f"format = {FORMAT}",
        *pairs(title=lesson.title, way=lesson.way.key if known else None, bell=lesson.bell),
        *pairs(stations=lesson.way.stations or None if names_stations else None),
        *([f"start = {lesson.start.isoformat()}"] if lesson.start else []),
        *([f"date = {lesson.date.isoformat()}"] if lesson.date else []),
        *pairs(
            room=lesson.room, class_name=lesson.class_name, purpose=lesson.purpose and lesson.purpose.value,
            size=lesson.size, adults=lesson.adults if lesson.adults != 1 else None, insists=lesson.insists or None,
        ),
    ]  # fmt: skip
    if known is not None:
        for stage, old in zip(lesson.way.stages, known.stages, strict=True):
            lines += _changed(stage, old)
    else:
        lines += [] if lesson.way == plain else head_lines(lesson.way, "own_way")
        for stage in lesson.way.stages:
            lines += ["", "[[stage]]", *stage_lines(stage, lesson.way.stages)]
    if lesson.parts != usual_parts(lesson.way, lesson.bell):
        for part in lesson.parts:
            lines += ["", "[[part]]", *_part(part, lesson.way)]
    return "\n".join(lines) + "\n"


def _catalogued(own: Way) -> Way | None:
    """The way of the catalogue that this one is, but for what a lesson may change; None if it is another way."""
    if own.key not in KEYS:
        return None
    known = way(own.key)
    if len(known.stages) != len(own.stages):
        return None
    stages = tuple(_with_own(new, old) for new, old in zip(own.stages, known.stages, strict=True))
    return known if replace(known, stages=stages, stations=own.stations) == own else None


def _with_own(stage: Stage, old: Stage) -> Stage:
    return replace(
        old, question=stage.question, product=stage.product, cards=stage.cards, minutes=stage.minutes,
        size=stage.size, roles=stage.roles, spare_role=stage.spare_role, move=stage.move, each=stage.each,
        parts=stage.parts,
    )  # fmt: skip


def _changed(stage: Stage, old: Stage) -> list[str]:
    """The stage's block, with what the lesson changes; nothing where it changes nothing."""
    if stage == old:
        return []
    lines = ["", "[[stage]]", *pairs(name=stage.name)]
    for key in ("question", "product", "roles", "spare_role", "move", "each", "parts"):
        new = getattr(stage, key)
        if new != getattr(old, key):
            lines.append(f"{key} = {value(new)}")
    if stage.size is not None and stage.size != old.size:
        lines.append(f"size = {value(three(stage.size))}")
    if stage.minutes != old.minutes:
        lines.append(f"minutes = {value(three(stage.minutes))}")
    if stage.cards != old.cards:
        lines += card_lines(stage.cards) or ["card = []"]
    return lines


def _part(part: Part, lesson_way: Way) -> list[str]:
    stage = lesson_way.stages[part.stage] if part.stage is not None else None
    return pairs(
        name=part.name if stage is None or part.name != stage.name else None,
        stage=stage.name if stage else None,
        minutes=three(part.minutes) if stage is None or part.minutes != stage.minutes else None,
        each=_each(part, stage),
        never_cut=part.never_cut or None,
        priority=part.priority.value if part.priority is not Priority.MUST else None,
    )


def _each(part: Part, stage: Stage | None) -> float | None:
    usual = stage.each or None if stage else None
    return None if part.each == usual else part.each or 0
