"""What the pages of a class read."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Count, QuerySet

from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.terms import joined
from benchmates.web.people import bridge
from benchmates.web.people.models import Department, MustRow, PupilRow, SchoolClass

MUST_WORDS = {
    Kind.APART: "Keep apart",
    Kind.TOGETHER: "Keep together",
    Kind.NEAR_ADULT: "Near an adult",
    Kind.FIXED: "Fixed",
}


def classes(department: Department) -> QuerySet[SchoolClass]:
    """The classes of a department with their sizes, in one query."""
    return department.classes.annotate(size=Count("pupils")).order_by("name", "pk")


def pupil_rows(klass: SchoolClass) -> list[PupilRow]:
    """The rows of a class in list order."""
    return list(klass.pupils.all())


def class_list(klass: SchoolClass) -> ClassList:
    """A class as the core knows it."""
    return bridge.as_class_list(klass.pupils.all())


def musts(klass: SchoolClass) -> tuple[Must, ...]:
    """The musts of a class as the core knows them."""
    return tuple(bridge.as_must(row) for row in klass.musts.all())


@dataclass(frozen=True)
class MustLine:
    """A must as a teacher reads it."""

    row: int
    words: str
    pupils: str
    because: str
    where: str


def must_lines(rows: list[MustRow] | QuerySet[MustRow], names: dict[str, str]) -> list[MustLine]:
    """Musts in words. A pupil who left the list is shown by id."""
    return [
        MustLine(
            row=row.pk,
            words=MUST_WORDS[Kind(row.kind)],
            pupils=joined([names.get(p, p) for p in row.pupils]),
            because=row.because,
            where=row.where,
        )
        for row in rows
    ]


def recorded_counts(pupils: ClassList) -> dict[str, int]:
    """How many pupils have each optional field recorded; what a wish can lean on."""
    return {
        "attainment": sum(p.attainment is not None for p in pupils),
        "gender": sum(p.gender is not None for p in pupils),
        "eal": sum(p.eal is not None for p in pupils),
        "adult_support": sum(p.adult_support is not None for p in pupils),
        "confident_reader": sum(p.confident_reader is not None for p in pupils),
        "talk": sum(p.talk is not None for p in pupils),
        "works_well": sum(bool(p.works_well_with) for p in pupils),
    }
