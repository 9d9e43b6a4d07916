"""Invented classes for tests: every value is made up, from a seed."""

from __future__ import annotations

import datetime as dt
import random

from benchmates.core.lesson.plan import Lesson
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.history import History, Sitting
from benchmates.core.roster.pupil import Pupil
from benchmates.core.strategy.plain import plain_groups
from benchmates.core.strategy.way import Size, Way
from benchmates.core.terms import PupilId


def ids(pupils: int) -> list[PupilId]:
    return [PupilId(f"p{k:02}") for k in range(1, pupils + 1)]


def names_only(pupils: int) -> ClassList:
    """A class of which nothing but names is known."""
    return ClassList(tuple(Pupil(p, f"Pupil {p}") for p in ids(pupils)))


def full_class(pupils: int, seed: int = 1, *, blanks: float = 0.1) -> ClassList:
    """A class with most of the optional fields, some of them blank."""
    chance = random.Random(seed)
    everyone = ids(pupils)

    def perhaps(value):
        return None if chance.random() < blanks else value

    return ClassList(
        tuple(
            Pupil(
                p,
                f"Pupil {p}",
                attainment=perhaps(round(chance.gauss(50, 15))),
                gender=perhaps(chance.choice("FM")),
                eal=perhaps(chance.random() < 0.2),
                adult_support=perhaps(chance.random() < 0.15),
                works_well_with=tuple(chance.sample([q for q in everyone if q != p], min(3, pupils - 1))),
            )
            for p in everyone
        )
    )


def in_fours(pupils: int, lessons: int, seed: int = 1) -> History:
    """So many earlier lessons in fours, drawn at random."""
    chance = random.Random(seed)
    sittings = []
    for lesson in range(lessons):
        order = ids(pupils)
        chance.shuffle(order)
        day = dt.date(2026, 9, 7) + dt.timedelta(weeks=lesson)
        sittings += [Sitting(day, "fours", str(k // 4), p) for k, p in enumerate(order)]
    return History(tuple(sittings))


def lesson_in(way: Way | None = None, *, size: int | None = None, adults: int = 1) -> Lesson:
    """A lesson that is nothing but its way of working."""
    return Lesson("A lesson", way or plain_groups(), (), 60, size=size, adults=adults)


def groups_of(target: int, least: int, most: int) -> Lesson:
    return lesson_in(plain_groups(Size(target, least, most)))
