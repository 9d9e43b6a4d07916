"""The teacher's run sheet: a staff copy, never built from what the class sees."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from benchmates.core.grouping.result import GroupPlan
from benchmates.core.lesson.plan import Lesson
from benchmates.core.terms import PupilId, joined
from benchmates.sheets.class_facing import Slot, Timetable, clock


class Away(Protocol):
    """What to do when one pupil is away."""

    @property
    def pupil(self) -> PupilId: ...
    @property
    def told(self) -> str: ...


@dataclass(frozen=True)
class RunLine:
    """One stretch of the lesson as a teacher runs it."""

    name: str
    minutes: str
    finish: str
    kind: str
    never_cut: bool
    question: str
    product: str
    roles: str
    say: str
    groups: tuple[str, ...]


@dataclass(frozen=True)
class RunSheet:
    """All that the run sheet's template is given."""

    lines: tuple[RunLine, ...]
    away: tuple[str, ...]
    told: tuple[str, ...]
    block: tuple[tuple[str, str], ...]


def run_sheet(
    lesson: Lesson, plan: GroupPlan, names: Mapping[PupilId, str], timetable: Timetable, away: Sequence[Away]
) -> RunSheet:
    """Put the lesson in the order of the clock, with what to say at each move."""
    block = (
        ("Lesson", lesson.title), ("Class", lesson.class_name), ("Room", lesson.room),
        ("Date", lesson.date.isoformat() if lesson.date else ""), ("Pupils", str(len(plan.present))),
        ("Bell", clock(lesson, lesson.bell)), ("Sheet", "Run sheet, staff copy"),
    )  # fmt: skip
    return RunSheet(
        tuple(_line(lesson, plan, names, slot) for slot in timetable.slots),
        tuple(line.told for line in away), plan.told, tuple((k, v) for k, v in block if v),
    )  # fmt: skip


def _line(lesson: Lesson, plan: GroupPlan, names: Mapping[PupilId, str], slot: Slot) -> RunLine:
    finish = clock(lesson, slot.start + slot.minutes)
    bare = RunLine(slot.name, f"{slot.minutes:g}", finish, slot.kind, slot.never_cut, "", "", "", "", ())
    if slot.stage is None:
        return bare
    planned = plan.stages[slot.stage]
    source = lesson.way.stages[planned.source]
    if slot.kind != "stage":
        say = f"“Stop, pens down. {planned.name} next. Find your place on the strip and go there now.”"
        return RunLine(slot.name, bare.minutes, finish, slot.kind, slot.never_cut, "", "", "", say, ())
    groups = tuple(f"{g.label}: {joined([names[p] for p in g.members])}" for g in planned.groups)
    return RunLine(
        slot.name, bare.minutes, finish, slot.kind, slot.never_cut, source.question, source.product,
        joined(source.roles), "", groups if len(groups) < len(plan.present) else (),
    )  # fmt: skip
