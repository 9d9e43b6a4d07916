"""Rows to core values and back."""

from __future__ import annotations

from collections.abc import Iterable

from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.roster.pupil import Pupil, Talk
from benchmates.core.terms import PupilId
from benchmates.web.people.models import MustRow, PupilRow, SchoolClass


def as_pupil(row: PupilRow) -> Pupil:
    """A row as a pupil."""
    return Pupil(
        id=PupilId(row.pid),
        name=row.name,
        year=row.year,
        attainment=row.attainment,
        gender=row.gender,
        eal=row.eal,
        adult_support=row.adult_support,
        confident_reader=row.confident_reader,
        talk=Talk(row.talk) if row.talk else None,
        works_well_with=tuple(PupilId(p) for p in row.works_well_with),
        bench=row.bench,
    )


def as_class_list(rows: Iterable[PupilRow]) -> ClassList:
    """Rows as a class list, in list order."""
    return ClassList(tuple(as_pupil(row) for row in rows))


def pupil_row(pupil: Pupil, *, klass: SchoolClass, place: int) -> PupilRow:
    """A pupil as a new row."""
    return PupilRow(
        klass=klass,
        pid=pupil.id,
        place=place,
        name=pupil.name,
        year=pupil.year,
        attainment=pupil.attainment,
        gender=pupil.gender,
        eal=pupil.eal,
        adult_support=pupil.adult_support,
        confident_reader=pupil.confident_reader,
        talk=pupil.talk.value if pupil.talk else None,
        works_well_with=list(pupil.works_well_with),
        bench=pupil.bench,
    )


def as_must(row: MustRow) -> Must:
    """A row as a must; its number travels along, so that a clash can name the row to take away."""
    return Must(
        kind=Kind(row.kind),
        pupils=tuple(PupilId(p) for p in row.pupils),
        because=row.because,
        where=row.where or None,
        row=row.pk,
    )
