"""Who may see a lesson: whoever may see its class."""

from __future__ import annotations

from django.http import Http404

from benchmates.web.lessons.models import LessonRow
from benchmates.web.people.models import Staff


def lesson_row(staff: Staff, pk: int) -> LessonRow | None:
    """A lesson of the teacher's own department, if there is one of this number."""
    return (
        LessonRow.objects.select_related("klass__department")
        .filter(pk=pk, klass__department=staff.department_id)
        .first()
    )


def lesson_for(staff: Staff, pk: int) -> LessonRow:
    """A lesson of the teacher's own department; others do not exist for this teacher."""
    row = lesson_row(staff, pk)
    if row is None:
        raise Http404
    return row
