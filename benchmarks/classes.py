"""The classes that figures are taken on: every one invented, from its own seed, the same on every machine."""

from __future__ import annotations

import datetime as dt
import random
from dataclasses import dataclass

from benchmates.core.grouping.request import Request
from benchmates.core.grouping.wishes import Wishes
from benchmates.core.lesson.plan import Lesson
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.history import History, Sitting
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.roster.pupil import Pupil
from benchmates.core.strategy.plain import plain_groups
from benchmates.core.strategy.way import Size, Way
from benchmates.core.terms import PupilId

WEIGHTS = Wishes({"new_partners": 10, "attainment": 1, "gender": 10, "works_well": 8})
LESSONS = 8
APART = 6
FRIENDS = 3


@dataclass(frozen=True)
class InventedClass:
    """Attainment around 50 (sd 15), eight earlier lessons in fours, six pairs apart, three friends each."""

    pupils: ClassList
    history: History
    musts: tuple[Must, ...]

    def request(self, lesson: Lesson, *, seed: int = 1, seconds: float = 10.0) -> Request:
        """Groups for this class in this lesson, with the weights that all figures share."""
        return Request(self.pupils, lesson, self.musts, self.history, WEIGHTS, seed=seed, seconds=seconds)


def invented(pupils: int, seed: int = 1) -> InventedClass:
    """A class by its size and seed."""
    chance = random.Random(pupils * 1000 + seed)
    ids = [PupilId(f"p{k:02}") for k in range(1, pupils + 1)]
    class_list = ClassList(
        tuple(
            Pupil(
                p,
                f"Pupil {k + 1}",
                attainment=max(0, min(100, round(chance.gauss(50, 15)))),
                gender=chance.choice("FM"),
                works_well_with=tuple(chance.sample([q for q in ids if q != p], FRIENDS)),
            )
            for k, p in enumerate(ids)
        )
    )
    return InventedClass(class_list, _in_fours(ids, chance), _apart(ids, chance))


def _in_fours(ids: list[PupilId], chance: random.Random) -> History:
    sittings: list[Sitting] = []
    for lesson in range(LESSONS):
        day = dt.date(2026, 9, 7) + dt.timedelta(weeks=lesson)
        order = chance.sample(ids, len(ids))
        sittings += [Sitting(day, "Fours", str(k // 4 + 1), p) for k, p in enumerate(order)]
    return History(tuple(sittings))


def _apart(ids: list[PupilId], chance: random.Random) -> tuple[Must, ...]:
    pairs: set[tuple[PupilId, ...]] = set()
    while len(pairs) < APART:
        pairs.add(tuple(sorted(chance.sample(ids, 2))))
    return tuple(Must(Kind.APART, pair) for pair in sorted(pairs))


def lesson_in(way: Way) -> Lesson:
    """A lesson that is nothing but its way of working."""
    return Lesson("A lesson", way, (), 60, adults=1)


def groups_of(target: int, least: int, most: int) -> Lesson:
    """A lesson of one stage in groups of this size."""
    return lesson_in(plain_groups(Size(target, least, most)))
