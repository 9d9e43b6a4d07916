"""The run sheet's fields: the teacher's own copy, which never leaves the teacher's hand."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from benchmates.core.grouping.absences import AwayLine
from benchmates.core.lesson.timing import Slot, clock, in_words
from benchmates.core.terms import counted, joined
from benchmates.drawing.tokens import spoken
from benchmates.sheets.following import where_of
from benchmates.sheets.source import Source, day
from benchmates.sheets.turns import is_grouped


@dataclass(frozen=True)
class Transition:
    """One changeover as the teacher says it, in the order it is said."""

    stop: str
    where: str
    who: str
    take: str
    first: str
    long: str


@dataclass(frozen=True)
class Stretch:
    """One part on the clock. ``begins`` and ``finish`` are clock times, or minutes from the bell."""

    name: str
    begins: str
    finish: str
    minutes: str
    kind: str
    never_cut: bool
    question: str
    product: str
    roles: str
    groups: str
    transition: Transition | None


@dataclass(frozen=True)
class RunSheet:
    """The staff copy of one lesson."""

    lesson: str
    way: str
    class_name: str
    room: str
    date: str
    bell: str
    counted: str
    stretches: tuple[Stretch, ...]
    over: tuple[str, ...]
    away: tuple[str, ...]
    told: tuple[str, ...]
    cautions: tuple[str, ...]
    kit: tuple[str, ...]
    drawn_by: str


def run_sheet(source: Source, away_lines: Iterable[AwayLine]) -> RunSheet:
    """The staff copy: minutes, transitions, a line for every single absence, what was told and what to look out for."""
    lesson, plan, way = source.lesson, source.plan, source.lesson.way
    start = f", from {lesson.start:%H:%M}" if lesson.start else ", from the bell"
    return RunSheet(
        lesson=lesson.title,
        way=way.name,
        class_name=lesson.class_name,
        room=lesson.room,
        date=day(lesson),
        bell=in_words(lesson.bell) + start,
        counted=counted(len(plan.present), "pupil"),
        stretches=tuple(_stretch(source, slot) for slot in source.times.slots),
        over=tuple(source.times.told),
        away=tuple(line.told for line in away_lines),
        told=plan.told,
        cautions=way.cautions,
        kit=way.kit,
        drawn_by="Benchmates",
    )


def _stretch(source: Source, slot: Slot) -> Stretch:
    number = slot.stage
    stage = source.stage(number) if number is not None and slot.kind != "move" else None
    return Stretch(
        name=slot.name.removeprefix("Move: ").capitalize() if slot.kind == "move" else slot.name,
        begins=_time(source, slot.start),
        finish=_time(source, slot.finish),
        minutes=f"{round(slot.minutes, 2):g}",
        kind=slot.kind,
        never_cut=slot.never_cut,
        question=stage.question if stage else "",
        product=stage.product if stage else "",
        roles=joined(stage.roles) if stage else "",
        groups=_groups(source, number) if number is not None and slot.kind != "move" else "",
        transition=_transition(source, slot, number) if slot.kind == "move" and number is not None else None,
    )


def _time(source: Source, minute: float) -> str:
    start = source.lesson.start
    if start:
        at = clock(start, minute)
        return f"{at:%H:%M}"
    # A classroom clock shows whole minutes; cut down, as on the wall and the cards, nobody runs late by it.
    whole = int(minute)
    return f"{whole // 60}:{whole % 60:02d}"


def _groups(source: Source, number: int) -> str:
    """How many groups of which sizes: "2 of 4 and 3 of 5"."""
    stage = source.plan.stages[number]
    if not is_grouped(stage):
        return stage.relation.in_words
    sizes = sorted((len(group.members) for group in stage.groups), reverse=True)
    return joined([f"{sizes.count(size)} of {size}" for size in dict.fromkeys(sizes)])


def _transition(source: Source, slot: Slot, number: int) -> Transition:
    stage, before = source.plan.stages[number], source.stage(number - 1) if number else None
    return Transition(
        stop=f"{source.plan.stages[number - 1].name}." if number else "Look up.",
        where=_where(source, number),
        who=f"{stage.relation.in_words.capitalize()}.",
        take=_take(source, number, before.product if before else ""),
        first=source.stage(number).question,
        long=in_words(slot.minutes),
    )


def _take(source: Source, number: int, product: str) -> str:
    moves = source.stage(number).moves
    if moves == "artefact":
        return "Nothing: the work moves, you stay."
    if moves == "role":
        return "Nothing: roles change, you stay."
    return product


def _where(source: Source, number: int) -> str:
    stage = source.plan.stages[number]
    if not is_grouped(stage):
        return "Places of your own." if any(g.station for g in stage.groups) else "Your own place."
    spots = [f"{spoken(g.label)} {where_of(g)}".strip() for g in stage.groups if where_of(g)]
    return f"{_shortened(spots)}." if spots else "Where your group sits."


def _shortened(spots: Sequence[str]) -> str:
    # Beyond six groups the strip is quicker to read than a sentence.
    return joined(list(spots)) if len(spots) <= 6 else "The place on the strip"
