"""Every minute of a lesson on the clock: stages, moves, reports and the frame, fitted into the bell."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from benchmates.core.errors import CannotPlan
from benchmates.core.lesson.minutes import TINY, feedback_minutes, groups_heard, in_halves, replan, share_out
from benchmates.core.lesson.plan import Lesson, Part, Priority, asks_again_told, dead_time_told
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.shape import PlannedStage, Shape
from benchmates.core.terms import Minutes, Span, Told, as_told, counted, joined, unmet_in

__all__ = ["Slot", "Timetable", "clock", "replan", "timetable"]

MOVES = {"artefact": "pass the work on", "role": "swap roles"}
Kind = Literal["frame", "stage", "move", "feedback"]


@dataclass(frozen=True)
class Slot:
    """One stretch on the clock. ``start`` is in minutes from the bell; ``stage`` is an index of ``shape.stages``.

    A move carries the stage it leads to. ``heard`` of ``groups`` can report (feedback only).
    """

    name: str
    start: Minutes
    minutes: Minutes
    kind: Kind
    stage: int | None = None
    never_cut: bool = False
    groups: int = 0
    heard: int = 0

    @property
    def finish(self) -> Minutes:
        """Minutes from the bell at which this stretch ends."""
        return self.start + self.minutes


@dataclass(frozen=True)
class Timetable:
    """A lesson on the clock. ``over`` and ``spare`` are minutes beyond and short of the bell; one of them is 0."""

    slots: tuple[Slot, ...]
    over: Minutes
    spare: Minutes
    told: tuple[str, ...]
    unmet: tuple[int, ...] = ()

    @property
    def sentences(self) -> tuple[Told, ...]:
        """What is told of the minutes, each sentence with whether it tells of something that could not be had."""
        return as_told(self.told, self.unmet)

    def finish_by(self, start: dt.time) -> tuple[dt.time, ...]:
        """The clock time by which each slot ends."""
        return tuple(clock(start, slot.finish) for slot in self.slots)


def clock(start: dt.time, minute: Minutes) -> dt.time:
    """The clock time so many minutes after the start; half a minute is 30 seconds."""
    return (dt.datetime.combine(dt.date(2000, 1, 1), start) + dt.timedelta(minutes=minute)).time()


@dataclass(frozen=True)
class _Stretch:
    """A slot before its minutes are known."""

    slot: Slot
    span: Span
    priority: Priority
    each: Minutes | None = None
    turn_of: int | None = None  # the planned stage from which a rotation moves on


def timetable(lesson: Lesson, shape: Shape) -> Timetable:
    """Fit a lesson into its bell.

    Safety, clearing up, dismissal and moves keep their minutes; the rest shrinks from planned towards least, or grows
    from planned towards most, all by one share, in half minutes. A lesson that is too long even at its least is not
    refused: ``over`` says by how much.

    Raises
    ------
    CannotPlan
        A stage stands in no part of the lesson.
    """
    stretches = list(_stretches(lesson, shape))
    minutes = _fitted(stretches, lesson.bell)
    slots: list[Slot] = []
    for stretch, given in zip(stretches, minutes, strict=True):
        start = slots[-1].finish if slots else 0.0
        heard = min(stretch.slot.groups, groups_heard(given, stretch.each)) if stretch.each else 0
        slots.append(replace(stretch.slot, start=round(start, 6), minutes=given, heard=heard))
    left = lesson.bell - slots[-1].finish if slots else float(lesson.bell)
    over, spare = max(0.0, round(-left, 6)), max(0.0, round(left, 6))
    told = tuple(_sentences(lesson, stretches, slots, over=over, spare=spare))
    return Timetable(tuple(slots), over, spare, tuple(t.text for t in told), unmet_in(told))


def _stretches(lesson: Lesson, shape: Shape) -> Iterator[_Stretch]:
    held = {part.stage for part in lesson.parts}
    for planned in shape.stages:
        if planned.source not in held:
            raise CannotPlan(
                f"The stage “{planned.name}” stands in no part of the lesson. Give it its minutes."
            )
    last_groups = 0
    for part in lesson.parts:
        if part.stage is None:
            yield _stretch(part, None, "frame", last_groups)
            continue
        for index, planned in enumerate(shape.stages):
            if planned.source != part.stage:
                continue
            if planned.stage.move > 0:
                yield _move(shape, index)
            stretch = _stretch(replace(part, name=_name(part, planned)), index, "stage", last_groups)
            turn_of = planned.of if planned.relation is Relation.ROTATE else None
            yield replace(stretch, turn_of=turn_of)
            last_groups = _groups(planned) or last_groups


def _name(part: Part, planned: PlannedStage) -> str:
    """A part that carries the stage's own name takes the name of the turn, where a rotation has several."""
    return planned.name if part.name == planned.stage.name else part.name


def _groups(planned: PlannedStage) -> int:
    """How many groups this stage leaves to report; none where pupils sit alone, together or in rings."""
    if not planned.relation.keeps_musts or set(planned.sizes) == {1}:
        return 0
    return len(planned.sizes) - (1 if planned.stage.to_teacher else 0)


def _move(shape: Shape, index: int) -> _Stretch:
    minutes = shape.stages[index].stage.move
    slot = Slot(f"Move: {_move_in_words(shape, index)}", 0, minutes, "move", stage=index)
    return _Stretch(slot, Span(minutes, minutes, minutes), Priority.MUST)


def _move_in_words(shape: Shape, index: int) -> str:
    planned = shape.stages[index]
    if planned.relation is Relation.RETURN and shape.stages[index - 1].stage.moves == "artefact":
        return "hand the work back"
    if planned.relation is Relation.RETURN and set(planned.sizes) == {1}:
        return "back to your own place"
    return MOVES.get(planned.stage.moves, planned.relation.in_words)


def _stretch(part: Part, stage: int | None, kind: Kind, groups: int) -> _Stretch:
    span, planned = part.minutes, part.minutes.planned
    if part.never_cut:
        span = Span(planned, planned, planned)
    if part.each is None:
        return _Stretch(Slot(part.name, 0, 0, kind, stage, part.never_cut), span, part.priority)
    needed = math.ceil(2 * feedback_minutes(groups, part.each)) / 2
    if groups and span.least < span.planned:  # few groups need no more than it takes to hear them all
        span = Span(min(span.least, needed), min(span.planned, needed), min(span.most, needed))
    slot = Slot(part.name, 0, 0, "feedback", stage, part.never_cut, groups=groups)
    return _Stretch(slot, span, part.priority, part.each)


def _fitted(stretches: Sequence[_Stretch], bell: int) -> tuple[Minutes, ...]:
    """Minutes of every stretch, in halves; minutes as they were written, where those fill the bell or cannot."""
    if not stretches:
        return ()
    exact = share_out([stretch.span for stretch in stretches], bell)
    loose = [i for i, s in enumerate(stretches) if s.span.least < s.span.most]
    as_written = all(abs(exact[i] - stretches[i].span.planned) < TINY for i in loose)
    if as_written or abs(sum(exact) - bell) > TINY:
        return exact
    alike: dict[int, list[int]] = {}
    for index in loose:
        alike.setdefault(_turn_of(stretches, index), []).append(index)
    rounded = in_halves([exact[i] for i in alike], [len(turns) for turns in alike.values()])
    shown = {i: given for given, turns in zip(rounded, alike.values(), strict=True) for i in turns}
    return tuple(shown.get(i, minutes) for i, minutes in enumerate(exact))


def _turn_of(stretches: Sequence[_Stretch], index: int) -> int:
    """The first turn of the rotation a stretch belongs to, or itself: turns of equal plan stay equal."""
    here = stretches[index]
    if here.turn_of is None:
        return index
    for earlier in range(index):
        if stretches[earlier].slot.stage == here.turn_of and stretches[earlier].span == here.span:
            return _turn_of(stretches, earlier)
    return index


def _sentences(
    lesson: Lesson, stretches: Sequence[_Stretch], slots: Sequence[Slot], *, over: Minutes, spare: Minutes
) -> Iterator[Told]:
    if over:
        yield Told(f"This runs {in_words(over)} over the bell, with every stage at its shortest.", met=False)
        yield from _would_save(stretches)
    elif any(_shortened(stretch, slot) for stretch, slot in zip(stretches, slots, strict=True)):
        planned = sum(stretch.span.planned for stretch in stretches)
        yield Told(
            f"As planned it would take {in_words(planned)}; the stages are shortened to fit {lesson.bell}.",
            met=False,
        )
    if spare:
        yield Told(f"{in_words(spare).capitalize()} of the bell are free: teach, or add a stage.")
    if lesson.bell < lesson.way.least_minutes:
        least = lesson.way.least_minutes
        yield Told(f"{lesson.way.name} is rarely worth it in under {least} minutes.", met=False)
    for stretch, slot in zip(stretches, slots, strict=True):
        if stretch.each and slot.heard < slot.groups:
            yield Told(
                f"{slot.name}: {slot.heard} of {counted(slot.groups, 'group')} can report in "
                f"{in_words(slot.minutes)}; hearing all takes {in_words(feedback_minutes(slot.groups, stretch.each))}.",
                met=False,
            )
    if lesson.insists:
        yield from (Told(text, met=False) for text in dead_time_told(lesson))
    if not lesson.way.one_question_ok:
        yield from (Told(text, met=False) for text in asks_again_told(lesson))


def _shortened(stretch: _Stretch, slot: Slot) -> bool:
    return slot.minutes < stretch.span.planned - TINY


def _would_save(stretches: Sequence[_Stretch]) -> Iterator[Told]:
    could = [s for s in stretches if s.priority is Priority.COULD and s.span.least > 0]
    if could:
        minutes = sum(s.span.least for s in could)
        yield Told(f"Leaving out {joined([s.slot.name for s in could])} saves {in_words(minutes)}.")
    yield Told("Ask for smaller groups or fewer stages, or spread the lesson over two bells.")


def in_words(minutes: Minutes) -> str:
    """Minutes with their unit: "1 minute", "17.75 minutes"."""
    return f"{round(minutes, 2):g} {'minute' if minutes == 1 else 'minutes'}"
