"""Who may see a lesson: whoever may see its class."""

from __future__ import annotations

from django.http import Http404

from benchmates.web.lessons import queries
from benchmates.web.lessons.models import LessonRow
from benchmates.web.people.models import Staff


def lesson_for(staff: Staff, pk: int) -> LessonRow:
    """A lesson of the teacher's own department; others do not exist for this teacher."""
    row = queries.lesson_row(staff, pk)
    if row is None:
        raise Http404
    return row
