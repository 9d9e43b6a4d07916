"""What class-facing sheets are filled from, and the small answers that several of them give."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from benchmates.core.grouping.result import Group, GroupPlan
from benchmates.core.lesson.plan import Lesson
from benchmates.core.lesson.timing import Slot, Timetable, clock, in_words
from benchmates.core.strategy.way import Stage
from benchmates.core.terms import PupilId
from benchmates.drawing.tokens import spoken
from benchmates.sheets.class_facing import (
    Asked,
    Heading,
    Spot,
)
from benchmates.sheets.following import shared_noun, where_of


@dataclass(frozen=True)
class Source:
    """What class-facing fields are filled from. Names, not pupils: nothing else of a pupil gets this far."""

    lesson: Lesson
    plan: GroupPlan
    names: Mapping[PupilId, str]
    times: Timetable

    def stage(self, number: int) -> Stage:
        """The way's stage of a planned stage."""
        return self.lesson.way.stages[self.plan.stages[number].source]

    def slot(self, number: int) -> Slot | None:
        """The stretch on the clock in which a planned stage runs."""
        return next((s for s in self.times.slots if s.stage == number and s.kind != "move"), None)

    def by_name(self, pupils: tuple[PupilId, ...]) -> tuple[PupilId, ...]:
        """These pupils in the order of their names."""
        return tuple(sorted(pupils, key=lambda p: (self.names[p].casefold(), self.names[p])))


def heading(source: Source, title: str) -> Heading:
    """What every class-facing sheet says of its lesson."""
    lesson = source.lesson
    return Heading(title, lesson.title, lesson.class_name, day(lesson))


def day(lesson: Lesson) -> str:
    """The lesson's date as it is written on paper; empty if it has none."""
    return f"{lesson.date.day} {lesson.date:%B %Y}" if lesson.date else ""


def asked_in(source: Source, number: int) -> Asked:
    """What a planned stage asks of pupils, and until when."""
    stage = source.stage(number)
    return Asked(
        source.plan.stages[number].name, stage.question, stage.product, minutes_until(source, number)
    )


def minutes_until(source: Source, number: int) -> str:
    """How long a stage runs and until when, as far as it is known."""
    slot = source.slot(number)
    if slot is None:
        return ""
    start = source.lesson.start
    return in_words(slot.minutes) + (f", until {clock(start, slot.finish):%H:%M}" if start else "")


def spot_of(group: Group) -> Spot:
    """A group as it is shown and said."""
    return Spot(group.label, spoken(group.label), where_of(group))


def job_in(group: Group, pupil: PupilId) -> str:
    """A pupil’s role and the cards they lead, in one line."""
    return ", ".join(filter(None, (group.roles.get(pupil, ""), *leads_in(group, pupil))))


def leads_in(group: Group, pupil: PupilId) -> tuple[str, ...]:
    """The words a pupil leads; experts of one part are not told the part that names their group."""
    return tuple(
        w for w in group.leads.get(pupil, ()) if group.label != w and not group.label.startswith(f"{w} ")
    )


def frame_after(source: Source, number: int) -> str:
    """What the clock holds after the last stage."""
    here = source.slot(number)
    after = next(
        (s for s in source.times.slots if here and s.start >= here.finish and s.kind != "move"), None
    )
    return f"{after.name}." if after else ""


def shortly(wheres: tuple[str, ...]) -> tuple[str, ...]:
    """Places without the noun they share: "1a", "2a" for stations."""
    noun = shared_noun(wheres)
    return tuple(where.removeprefix(noun).strip() for where in wheres)
