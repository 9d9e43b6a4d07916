"""What leaves the teacher's screen: the wall view of a stage, and what is printed."""

from __future__ import annotations

import io
import zipfile
from dataclasses import replace

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET

from benchmates.core.lesson.timing import Timetable
from benchmates.core.strategy.relation import Relation
from benchmates.sheets.class_facing import WallPage
from benchmates.sheets.overviews import wall_page
from benchmates.sheets.source import Source
from benchmates.web.lessons.models import LessonRow
from benchmates.web.lessons.rules import lesson_for
from benchmates.web.people.rules import StaffRequest, for_staff
from benchmates.web.runs import queries

# A wall of so many groups is laid out in so many columns; more than eight stand smaller.
COLUMNS = {
    1: "three",
    2: "three",
    3: "three",
    4: "four",
    5: "five",
    6: "six",
    7: "eight",
    8: "eight",
}
SIZES = ("a4", "a5", "large")
# Heights on a wall of 16 to 9, in its own unit (a hundredth of its width): a group's heading, a name, a job.
USUAL, NARROW, TWO_ROWS = (7.7, 3.7, 1.8), (7.7, 2.9, 1.4), (6.6, 3.1, 1.7)
ROOM = 29.0


def layout(shown: WallPage) -> str:
    """Columns for a wall, and whether names must stand closer for everything to be seen without scrolling."""
    groups = len(shown.groups)
    columns = COLUMNS.get(groups, "six many")
    if groups > 8:
        return columns
    heading, name, job = TWO_ROWS if groups > 6 else NARROW if groups > 4 else USUAL
    longest = max((len(g.people) for g in shown.groups), default=0)
    line = name + (job if any(person.role for g in shown.groups for person in g.people) else 0)
    rows = 2 if groups > 6 else 1
    return columns if rows * (heading + longest * line + 0.7) <= ROOM else f"{columns} dense"


def _drawn(request: StaffRequest, pk: int) -> tuple[LessonRow, queries.Drawn]:
    row = lesson_for(request.staff, pk)
    return row, queries.draw(row, queries.current_plan(row))


@require_GET
@for_staff
def board(request: StaffRequest, pk: int, stage: int) -> HttpResponse:
    """One stage for the class, from the same list of what the class may see as the sheets."""
    row, drawn = _drawn(request, pk)
    if drawn.plan is None:
        messages.warning(request, "There are no groups to show yet.")
        return redirect("runs:groups", row.pk)
    if not 1 <= stage <= len(drawn.plan.stages):
        raise Http404
    # Groups of a lesson that was changed since have no times any more, but can still be shown.
    times = drawn.times or Timetable((), 0, 0, ())
    shown = wall_page(Source(drawn.lesson, drawn.plan, drawn.names, times), stage - 1)
    rings = drawn.plan.stages[stage - 1].relation is Relation.INNER_OUTER
    minutes, _, until = shown.asked.clock.partition(" ")
    context = {
        "wall": shown,
        "pk": row.pk,
        "columns": "rings" if rings else layout(shown),
        "minutes": minutes,
        "until": until,
        "before": stage - 1 or None,
        "after": stage + 1 if stage < len(drawn.plan.stages) else None,
    }
    return render(request, "runs/wall.html", context)


def _pack(row: LessonRow, drawn: queries.Drawn, size: str) -> dict[str, bytes]:
    """Every sheet of a lesson. Whoever is away decides a line each on the run sheet."""
    from benchmates.core.grouping.absences import if_away
    from benchmates.sheets.pack import print_pack

    assert drawn.plan is not None and drawn.times is not None
    listed, seated = drawn.class_list, drawn.plan.present
    # Whoever joined the list after the groups were made sits nowhere yet, and counts as away.
    missing = frozenset(listed.ids) - frozenset(seated)
    request = replace(queries.request_for(row, seed=drawn.plan.seed), class_list=listed, absent=missing)
    return print_pack(
        drawn.lesson,
        drawn.plan,
        drawn.class_list,
        timetable=drawn.times,
        away_lines=if_away(drawn.plan, request),
        paper="a5" if size == "a5" else "a4",
        large=size == "large",
    )


def _not_printable(request: StaffRequest, row: LessonRow, drawn: queries.Drawn) -> HttpResponse:
    """Say why there is no paper, on the sheet where it can be mended."""
    for line in drawn.cannot:
        messages.warning(request, line)
    return redirect("runs:groups", row.pk)


@require_GET
@for_staff
def print_sheet(request: StaffRequest, pk: int, size: str, sheet: str) -> HttpResponse:
    """One sheet as a PDF that opens in the browser."""
    row, drawn = _drawn(request, pk)
    if size not in SIZES or drawn.plan is None:
        raise Http404
    if drawn.times is None:
        return _not_printable(request, row, drawn)
    for name, data in _pack(row, drawn, size).items():
        if name == f"{sheet}.pdf":
            answer = HttpResponse(data, content_type="application/pdf")
            answer["Content-Disposition"] = f'inline; filename="{name}"'
            return answer
    raise Http404


@require_GET
@for_staff
def print_all(request: StaffRequest, pk: int, size: str) -> HttpResponse:
    """All sheets as one zip; equal input gives equal bytes."""
    row, drawn = _drawn(request, pk)
    if size not in SIZES or drawn.plan is None:
        raise Http404
    if drawn.times is None:
        return _not_printable(request, row, drawn)
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as bundle:
        for name, data in sorted(_pack(row, drawn, size).items()):
            bundle.writestr(zipfile.ZipInfo(name, date_time=(2000, 1, 1, 0, 0, 0)), data)
    answer = HttpResponse(packed.getvalue(), content_type="application/zip")
    answer["Content-Disposition"] = f'attachment; filename="benchmates-lesson-{row.pk}-{size}.zip"'
    return answer
