"""Lessons grouped and printed for the tests; nothing here is the room under test."""

from __future__ import annotations

import datetime as dt
import io
import math
from functools import cache

from pypdf import PdfReader

from benchmates.core.grouping.absences import if_away
from benchmates.core.grouping.make import make_groups
from benchmates.core.grouping.request import Request
from benchmates.core.grouping.result import GroupPlan
from benchmates.core.lesson.plan import Lesson, lesson_for
from benchmates.core.lesson.timing import Timetable, timetable
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.pupil import Pupil
from benchmates.core.strategy.catalogue import way
from benchmates.core.strategy.shape import plan_shape
from benchmates.core.terms import PupilId
from benchmates.sheets.pack import Pack, print_pack

CLASS_FACING = ("group-cards.pdf", "stage-strip.pdf", "wall.pdf")
EVERY = (*CLASS_FACING, "run-sheet.pdf")

# Invented; first names with an initial, as cards show them.
FIRST = (
    "Alba", "Bram", "Cai", "Della", "Ewan", "Femi", "Greta", "Hana", "Idris", "Jonty", "Kezia", "Lowri", "Mirek",
    "Noor", "Otis", "Priya", "Quill", "Ravi", "Saoirse", "Tomasz", "Umi", "Wren", "Yusra", "Zeke", "Anwen", "Boyd",
)  # fmt: skip


def named(*names: str) -> ClassList:
    return ClassList(tuple(Pupil(PupilId(f"id-{k}"), name) for k, name in enumerate(names)))


def class_of(number: int) -> ClassList:
    return named(*(f"{name} {name[-1].upper()}" for name in FIRST[:number]))


def lesson_of(key: str) -> Lesson:
    return lesson_for(
        way(key), title="Card cantilever", bell=60, start=dt.time(9, 5), date=dt.date(2026, 11, 25), class_name="8B",
        insists=True,
    )  # fmt: skip


def grouped(class_list: ClassList, lesson: Lesson) -> tuple[GroupPlan, Timetable, Request]:
    request = Request(class_list, lesson, seconds=0.2)
    return (
        make_groups(request),
        timetable(lesson, plan_shape(lesson.way, len(class_list), size=lesson.size)),
        request,
    )


def printed(class_list: ClassList, lesson: Lesson, *, paper: str = "a4", large: bool = False) -> Pack:
    plan, times, request = grouped(class_list, lesson)
    away = if_away(plan, request)
    return print_pack(lesson, plan, class_list, timetable=times, away_lines=away, paper=paper, large=large)


@cache
def pack(key: str, number: int = 22, *, paper: str = "a4", large: bool = False) -> Pack:
    return printed(class_of(number), lesson_of(key), paper=paper, large=large)


def text_of(pdf: bytes) -> str:
    pages = (page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)
    return " ".join(" ".join(pages).split())


def sizes_of(pdf: bytes) -> dict[str, float]:
    """Every piece of text with the size it is drawn at: the font's size through both matrices."""
    found: dict[str, float] = {}

    def see(text: str, cm: list[float], tm: list[float], _font: object, size: float) -> None:
        if text.strip():
            grown = math.sqrt(abs((tm[0] * tm[3] - tm[1] * tm[2]) * (cm[0] * cm[3] - cm[1] * cm[2])))
            drawn = size * grown
            found[text.strip()] = min(drawn, found.get(text.strip(), drawn))

    for page in PdfReader(io.BytesIO(pdf)).pages:
        page.extract_text(visitor_text=see)
    return found
