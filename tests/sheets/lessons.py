"""Lessons with groups made by hand. Every name is invented."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from benchmates.core.grouping.result import Compromise, Group, GroupPlan, StageGroups
from benchmates.core.lesson.plan import Lesson
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.pupil import Pupil
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.way import Card, Claim, Purpose, Size, Stage, Way
from benchmates.core.terms import TOKEN_LETTERS, PupilId, Span

SCRIPTS = (
    "ليلى حداد", "נועה לוי", "आरव शर्मा", "অনন্যা দাস", "王小明", "さくら 田中", "김민준", "Ελένη Παππά",
    "Юлія Коваль", "Nguyễn Thị Hồng", "สมชาย ใจดี", "கவிதா ராமன்", "ნინო ბერიძე", "Արամ Պետրոսյան", "Robin 🌟",
)  # fmt: skip
SECRET = "ZQSECRET"


@dataclass(frozen=True)
class Slot:
    name: str
    start: float
    minutes: float
    kind: str
    stage: int | None = None
    never_cut: bool = False


@dataclass(frozen=True)
class Table:
    slots: tuple[Slot, ...]


@dataclass(frozen=True)
class AwayLine:
    pupil: PupilId
    told: str


def example(number: int, *, names: tuple[str, ...] = (), start: dt.time | None = dt.time(9, 15), jigsaw: bool = False):
    """A class of so many: pairs, then fours (or fours, then experts), as arguments of ``print_pack``."""
    shown = [*names, *(f"Pupil {i + 1} Alder" for i in range(len(names), number))]
    pupils = tuple(
        Pupil(PupilId(f"{SECRET}id{i}"), n, attainment=987654, gender=f"{SECRET}gender")
        for i, n in enumerate(shown)
    )
    ids = [p.id for p in pupils]
    fours = [tuple(ids[i : i + 4]) for i in range(0, number, 4)]
    labels = [c if len(fours) <= 12 else f"{c}1" for c in TOKEN_LETTERS][: len(fours)]
    roles = ("chair", "scribe", "timekeeper", "spokesperson")
    cards = (Card("Fit", "Does it fit the hand?", "circle"), Card("Cost", "What would it cost to make?", "square"))
    home = tuple(
        Group(label, four, f"bench {i + 1}", roles=dict(zip(four, roles, strict=False)),
              leads={p: (c.word,) for p, c in zip(four, cards, strict=False)})
        for i, (label, four) in enumerate(zip(labels, fours, strict=True))
    )  # fmt: skip
    if jigsaw:
        parts = ("Fit", "Finish", "Use", "Cost")
        other = tuple(Group(w, tuple(f[i] for f in fours if len(f) > i)) for i, w in enumerate(parts))
        stages = (("Home", Relation.NEW, home), ("Experts", Relation.CROSS, other))
    else:
        other = tuple(
            Group(f"{g.label}{k + 1}", g.members[k * 2 : k * 2 + 2])
            for g in home for k in range(2) if g.members[k * 2 : k * 2 + 2]
        )  # fmt: skip
        stages = (("Pairs", Relation.NEW, other), ("Fours", Relation.MERGE, home))
    minutes = Span(4, 6, 8)
    way = Way(
        "by-hand", "By hand", (Purpose.COMPARE,), Claim(SECRET + "why", "M"),
        tuple(Stage(n, r, minutes, size=Size(4, 2, 5), question="Which need matters most to a stall holder, and why?",
                    product="one ranked list", cards=cards, roles=roles) for n, r, _ in stages),
        (SECRET + "not",), SECRET + "assess", SECRET, SECRET,
        jobs=tuple((r, f"You are the {r}: keep it fair.") for r in roles),
    )  # fmt: skip
    plan = GroupPlan(
        "by-hand", 1, tuple(ids),
        tuple(StageGroups(n, r, None if i == 0 else 0, g, i) for i, (n, r, g) in enumerate(stages)),
        Compromise(()), 0, False, None, SECRET, 0.1, (), (SECRET + "told",),
    )  # fmt: skip
    table = Table((
        Slot("Register", 0, 5, "frame"), Slot("Pairs", 5, 6, "stage", 0), Slot("Move", 11, 1, "move", 1),
        Slot("Fours", 12, 8, "stage", 1), Slot("Clear up", 20, 6, "frame", None, True),
    ))  # fmt: skip
    away = tuple(AwayLine(i, f"If {n} is away: {SECRET}move.") for i, n in zip(ids, shown, strict=True))
    lesson = Lesson("Market-stall apron", way, (), 60, start, room="DT2", class_name="8B")
    return (lesson, plan, ClassList(pupils)), {"timetable": table, "away_lines": away}
