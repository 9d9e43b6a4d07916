"""What a drawing is made from: pupils, the slots of the lesson on the clock, and the groups of every stage."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

from benchmates.core.grouping.result import GroupPlan, StageGroups
from benchmates.core.roster.class_list import ClassList
from benchmates.core.terms import PupilId


class SlotLike(Protocol):
    """A slot of a timetable: one stretch of the lesson on the clock, in minutes from the bell."""

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


@dataclass(frozen=True)
class DrawnSlot:
    """One stretch of the lesson. ``stage`` is an index into the drawing's stages; None means the whole class."""

    name: str
    start: float
    minutes: float
    kind: str = "frame"
    stage: int | None = None
    never_cut: bool = False

    @property
    def end(self) -> float:
        """When it ends, in minutes from the bell."""
        return self.start + self.minutes

    @property
    def is_move(self) -> bool:
        """Whether this is a changeover, in which threads bend."""
        return self.kind == "move"


@dataclass(frozen=True)
class Drawing:
    """A lesson ready to be drawn: pupils (id, name) in list order, slots in the order of the clock, groups by stage."""

    pupils: tuple[tuple[PupilId, str], ...]
    slots: tuple[DrawnSlot, ...]
    stages: tuple[StageGroups, ...]
    bell: dt.time | None = None

    def __post_init__(self) -> None:
        if not self.pupils or all(s.is_move for s in self.slots):
            raise ValueError("a drawing needs a pupil and a slot that is not a move")
        known = {p for p, _ in self.pupils}
        for slot in self.slots:
            if slot.stage is not None and not 0 <= slot.stage < len(self.stages):
                raise ValueError(
                    f"{slot.name!r} speaks of stage {slot.stage}, and there are {len(self.stages)}"
                )
        for stage in self.stages:
            seated = [p for g in stage.groups for p in g.members]
            if len(seated) != len(known) or set(seated) != known:
                raise ValueError(f"{stage.name!r} does not seat every pupil once")

    @cached_property
    def names(self) -> dict[PupilId, str]:
        """Name by id."""
        return dict(self.pupils)

    @property
    def ids(self) -> tuple[PupilId, ...]:
        """Ids in list order."""
        return tuple(p for p, _ in self.pupils)

    @property
    def end(self) -> float:
        """The last minute drawn."""
        return max(s.end for s in self.slots)

    def stage_of(self, slot: DrawnSlot) -> StageGroups | None:
        """The groups of a slot; None when the whole class is together."""
        return None if slot.stage is None or slot.is_move else self.stages[slot.stage]

    def clock(self, minute: float) -> str:
        """A minute of the lesson as a clock time ("09:43"), or as "12 min" when no start is given."""
        if self.bell is None:
            return f"{minute:g} min"
        seconds = (self.bell.hour * 60 + self.bell.minute + minute) * 60
        return f"{int(seconds // 3600) % 24:02d}:{int(seconds // 60) % 60:02d}"


def from_plan(
    slots: Iterable[SlotLike], plan: GroupPlan, class_list: ClassList, *, bell: dt.time | None = None
) -> Drawing:
    """Draw a plan: the slots of its timetable, its groups, and the names of those present.

    Parameters
    ----------
    slots
        ``Timetable.slots``, or anything with the same attributes; slots of no length are left out.
    plan
        The groups; only the pupils present in it are drawn.
    class_list
        Gives the names and their order.
    bell
        The clock time at which the lesson starts, if known.
    """
    present = set(plan.present)
    return Drawing(
        pupils=tuple((p.id, p.name) for p in class_list if p.id in present),
        slots=tuple(
            DrawnSlot(s.name, float(s.start), float(s.minutes), str(s.kind), s.stage, s.never_cut)
            for s in slots
            if s.minutes > 0
        ),
        stages=plan.stages,
        bell=bell,
    )
