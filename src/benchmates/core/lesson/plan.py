"""A lesson as planned: the one object from which groups, minutes and sheets follow."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from enum import StrEnum

from benchmates.core.strategy.way import Purpose, Way
from benchmates.core.terms import Span


class Priority(StrEnum):
    """What goes first when the bell is near."""

    MUST = "must"
    SHOULD = "should"
    COULD = "could"


@dataclass(frozen=True)
class Part:
    """One stretch of the lesson on the clock.

    ``stage`` is the index of the way's stage this part carries, or None for the frame (register, briefing, clear up).
    ``never_cut`` marks safety, clear-up and dismissal. ``each`` (feedback): minutes for one group, with a quarter of a
    minute between groups.
    """

    name: str
    minutes: Span
    stage: int | None = None
    never_cut: bool = False
    priority: Priority = Priority.MUST
    each: float | None = None


@dataclass(frozen=True)
class Lesson:
    """A lesson: its title, its way of working with the stages' own questions, its bell and its room.

    ``parts`` in the order of the clock; every stage of the way stands in exactly one part, in order. ``size`` is the
    size a teacher asked for instead of the way's own.
    """

    title: str
    way: Way
    parts: tuple[Part, ...]
    bell: int
    start: dt.time | None = None
    date: dt.date | None = None
    room: str = ""
    class_name: str = ""
    purpose: Purpose | None = None
    size: int | None = None
    adults: int = 1
    insists: bool = False
