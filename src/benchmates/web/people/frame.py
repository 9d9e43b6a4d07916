"""What frames every sheet: the eight sheets of a lesson above, the title block at the foot."""

from __future__ import annotations

from dataclasses import dataclass

from django.urls import reverse
from django.utils import timezone

from benchmates.core.terms import counted
from benchmates.web.people import record
from benchmates.web.people.models import SchoolClass
from benchmates.web.people.rules import StaffRequest

SHEETS = (
    "Class list", "Way of working", "Lesson plan", "Groups", "Teach", "Evidence", "Findings", "Reflection",
)  # fmt: skip


@dataclass(frozen=True)
class LessonFacts:
    """As much of a lesson as the frame shows; lessons come after people, so they are handed in."""

    pk: int
    title: str
    room: str = ""
    when: str = ""
    bell: str = ""
    ended: bool = False
    has_groups: bool = False


@dataclass(frozen=True)
class SheetLink:
    """One of the eight sheets: where it is, if it is there yet."""

    number: int
    name: str
    address: str
    here: bool


def _letters(number: int) -> str:
    """A, B, .. Z, AA, AB, .. as drawings count their changes."""
    text = ""
    while number > 0:
        number, rest = divmod(number - 1, 26)
        text = chr(65 + rest) + text
    return text


def _links(here: int, klass: SchoolClass | None, lesson: LessonFacts | None) -> list[SheetLink]:
    address = dict.fromkeys(range(1, 9), "")
    if klass is not None:
        address[1] = reverse("people:class", args=[klass.pk])
        address[2] = reverse("lessons:finder", args=[klass.pk])
    if lesson is not None:
        address[2] += f"?lesson={lesson.pk}"
        address[3] = reverse("runs:plan", args=[lesson.pk])
        address[4] = reverse("runs:groups", args=[lesson.pk])
        if lesson.has_groups:
            address[5] = reverse("runs:wall", args=[lesson.pk, 1])
    return [SheetLink(n, SHEETS[n - 1], address[n], n == here) for n in range(1, 9)]


def frame(
    request: StaffRequest,
    number: int,
    *,
    klass: SchoolClass | None = None,
    pupils: int | None = None,
    lesson: LessonFacts | None = None,
    sheet_name: str = "",
    scale: str = "",
) -> dict[str, object]:
    """The context every sheet is rendered with."""
    department = request.staff.department
    scope = klass.pk if klass else None
    changes = record.last_changes(department=department, klass=scope)
    letters = record.count(department=department, klass=scope)
    rows = [
        (_letters(letters - len(changes) + k + 1), timezone.localtime(c.at).strftime("%a %H:%M"), c.what)
        for k, c in enumerate(changes)
    ]
    return {
        "sheets": _links(number, klass, lesson),
        "klass": klass,
        "lesson": lesson,
        "steps": record.steps(department=department, klass=scope),
        "foot": {
            "school": department.school,
            "department": department.name,
            "invented": department.invented,
            "class_name": klass.name if klass else "",
            "pupils": counted(pupils, "pupil") if pupils is not None else "",
            "drawn_by": request.staff.name,
            "scale": scale,
            "sheet": f"{number} {sheet_name or SHEETS[number - 1]}" if number else sheet_name,
            "changes": rows,
        },
    }
