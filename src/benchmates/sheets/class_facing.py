"""What a class may see: the only words that reach a sheet for pupils."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from benchmates.core.grouping.result import Group, GroupPlan, StageGroups
from benchmates.core.lesson.plan import Lesson
from benchmates.core.strategy.way import Stage
from benchmates.core.terms import PupilId
from benchmates.sheets.token_stub import spoken, token_svg


class Slot(Protocol):
    """One stretch of the timetable, in minutes after the start."""

    @property
    def name(self) -> str: ...
    @property
    def start(self) -> float: ...
    @property
    def minutes(self) -> float: ...
    @property
    def kind(self) -> str: ...
    @property
    def stage(self) -> int | None: ...
    @property
    def never_cut(self) -> bool: ...


class Timetable(Protocol):
    """The stretches of a lesson in order."""

    @property
    def slots(self) -> Sequence[Slot]: ...


@dataclass(frozen=True)
class ShownCard:
    """A question card and the display name of who leads it."""

    word: str
    letter: str
    shape: str
    question: str
    leader: str


@dataclass(frozen=True)
class ShownMember:
    """A pupil in a group: display name, role, and the role's job."""

    name: str
    role: str
    job: str


@dataclass(frozen=True)
class ShownGroup:
    """One group of one stage."""

    label: str
    spoken: str
    token: str
    bench: str
    members: tuple[ShownMember, ...]
    cards: tuple[ShownCard, ...]


@dataclass(frozen=True)
class ShownStage:
    """One grouped stage; ``next`` says what to do afterwards."""

    name: str
    question: str
    product: str
    clock: str
    next: str
    groups: tuple[ShownGroup, ...]


@dataclass(frozen=True)
class ShownRow:
    """One pupil's way through the stages: an index into ``places`` at each."""

    name: str
    places: tuple[str, ...]


@dataclass(frozen=True)
class ClassFacing:
    """All that the class-facing templates are given."""

    stages: tuple[ShownStage, ...]
    rows: tuple[ShownRow, ...]


def clock(lesson: Lesson, minute: float) -> str:
    """The time of day at a minute, or minutes after the start where no start is known."""
    whole = int(minute + 0.5)
    if lesson.start is None:
        return f"{whole}:00 after the start"
    moment = dt.datetime.combine(dt.date(2000, 1, 1), lesson.start) + dt.timedelta(minutes=whole)
    return f"{moment:%H:%M}"


def is_grouped(stage: StageGroups) -> bool:
    """Whether the stage has groups to find, rather than one class or pupils alone."""
    return stage.relation.value not in ("individual", "whole")


def class_facing(
    lesson: Lesson, plan: GroupPlan, names: Mapping[PupilId, str], timetable: Timetable
) -> ClassFacing:
    """Pick out what a class may see; nothing else of the lesson, the plan or the class goes on."""
    grouped = [i for i, stage in enumerate(plan.stages) if is_grouped(stage)]
    stages = []
    for place, index in enumerate(grouped):
        after = plan.stages[grouped[place + 1]].name if place + 1 < len(grouped) else ""
        follow = f"Next: {after}. Find your new group on the strip." if after else "Next: listen for the teacher."
        stages.append(_stage(lesson, plan.stages[index], index, names, timetable, follow))
    rows = tuple(
        ShownRow(names[pupil], tuple(_place(plan.stages[i], pupil) for i in grouped))
        for pupil in sorted(plan.present, key=lambda p: names[p].casefold())
    )
    return ClassFacing(tuple(stages), rows)


def _place(stage: StageGroups, pupil: PupilId) -> str:
    return next((g.label for g in stage.groups if pupil in g.members), "")


def _stage(
    lesson: Lesson, groups: StageGroups, index: int, names: Mapping[PupilId, str], timetable: Timetable, follow: str
) -> ShownStage:
    source = lesson.way.stages[groups.source]
    ends = [s.start + s.minutes for s in timetable.slots if s.stage == index and s.kind == "stage"]
    shown = tuple(_group(lesson, source, g, names) for g in groups.groups)
    until = f"until {clock(lesson, max(ends))}" if ends else ""
    return ShownStage(groups.name, source.question, source.product, until, follow, shown)


def _group(lesson: Lesson, stage: Stage, group: Group, names: Mapping[PupilId, str]) -> ShownGroup:
    members = tuple(
        ShownMember(names[p], group.roles.get(p, ""), lesson.way.job(group.roles.get(p, "")))
        for p in group.members
    )
    leaders = {word: names[p] for p in group.members for word in group.leads.get(p, ())}
    cards = tuple(
        ShownCard(c.word, c.word[:1].upper(), c.shape, c.question, leaders.get(c.word, "")) for c in stage.cards
    )
    where = group.station or group.bench or ""
    return ShownGroup(group.label, spoken(group.label), token_svg(group.label), where, members, cards)
