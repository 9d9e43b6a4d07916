"""The sheets of a lesson: its drawing, its groups, and what is done with them."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from benchmates.core.errors import CannotRead, Trouble
from benchmates.core.lesson.plan import Lesson, lesson_for
from benchmates.core.roster.musts import Kind
from benchmates.core.strategy.plain import plain_groups
from benchmates.core.terms import counted
from benchmates.web.lessons import actions as lesson_actions
from benchmates.web.lessons import bridge as lesson_bridge
from benchmates.web.lessons.models import LessonRow
from benchmates.web.lessons.rules import lesson_for as lesson_row_for
from benchmates.web.people import actions as people_actions
from benchmates.web.people import forms as people_forms
from benchmates.web.people import queries as people
from benchmates.web.people.frame import frame
from benchmates.web.people.models import SchoolClass
from benchmates.web.people.posts import number_in, post_key
from benchmates.web.people.rules import StaffRequest, class_for, for_staff
from benchmates.web.people.views import list_to_keep
from benchmates.web.runs import actions, forms, jobs, queries
from benchmates.web.runs.models import Job

USUAL_BELL = 60


def _plain_lesson(klass: SchoolClass, title: str = "Groups") -> Lesson:
    lesson = lesson_for(plain_groups(), title=title, bell=USUAL_BELL)
    return forms.placed(lesson, klass)


@require_POST
@for_staff
def keep_and_make(request: StaffRequest) -> HttpResponse:
    """The second press: a class, a lesson with plain groups of four, and its groups."""
    name, found = list_to_keep(request)
    assert found.pupils is not None
    key = post_key(request)
    klass = people_actions.keep_class(by=request.staff, key=key, name=name, pupils=found.pupils)
    return _draw_and_make(request, klass, key)


@require_POST
@for_staff
def plain_groups_for(request: StaffRequest, pk: int) -> HttpResponse:
    """A lesson of plain groups of four, made at once."""
    return _draw_and_make(request, class_for(request.staff, pk), post_key(request))


def _draw_and_make(request: StaffRequest, klass: SchoolClass, key: str) -> HttpResponse:
    row = lesson_actions.draw_lesson(
        by=request.staff, key=f"L{key}"[:64], klass=klass, lesson=_plain_lesson(klass)
    )
    return _make(request, row, f"M{key}"[:64], "runs:groups")


def _make(request: StaffRequest, row: LessonRow, key: str, there: str) -> HttpResponse:
    """Ask for groups; if they take longer than a page may wait, show that they are being made."""
    if row.ended_on is not None:
        messages.warning(request, "This lesson has ended, so its groups stay as they were. Undo reopens it.")
        return redirect(there, row.pk)
    if forms.dead_time_told(lesson_bridge.as_lesson(row)):
        messages.warning(request, "No groups were made: this lesson asks one question at every size.")
        return redirect("runs:plan", row.pk)
    job = jobs.start(by=request.staff, key=key, lesson=row)
    return (
        redirect("runs:making", row.pk, job.pk)
        if job.state == Job.WAITING
        else _made(request, row, job, there)
    )


def _made(request: StaffRequest, row: LessonRow, job: Job, there: str) -> HttpResponse:
    current = queries.current_plan(row)
    if job.state == Job.REFUSED:
        return redirect("runs:groups", row.pk)
    if current is not None:
        messages.success(
            request, current.compared or f"Groups made for {counted(len(current.plan['present']), 'pupil')}."
        )
    return redirect(there, row.pk)


@require_POST
@for_staff
def make(request: StaffRequest, pk: int) -> HttpResponse:
    """Make groups, or make them again."""
    row = lesson_row_for(request.staff, pk)
    there = "runs:plan" if request.POST.get("there") == "plan" else "runs:groups"
    return _make(request, row, post_key(request), there)


@require_GET
@for_staff
def making(request: StaffRequest, pk: int, job: int) -> HttpResponse:
    """What shows while groups are being made; asks again by itself, with or without scripting."""
    row = lesson_row_for(request.staff, pk)
    found = row.jobs.filter(pk=job).first()
    if found is None:
        raise Http404
    jobs.wait(found)
    found.refresh_from_db()
    if found.state != Job.WAITING:
        answer = _made(request, row, found, "runs:groups")
        if request.headers.get("HX-Request"):
            there = answer.headers["Location"]
            answer = HttpResponse(headers={"HX-Redirect": there})
        return answer
    context = {**_frame(request, row, None, 4), "job": found}
    return render(
        request, "runs/_making.html" if request.headers.get("HX-Request") else "runs/making.html", context
    )


def _frame(
    request: StaffRequest, row: LessonRow, drawn: queries.Drawn | None, number: int
) -> dict[str, object]:
    lesson = drawn.lesson if drawn else lesson_bridge.as_lesson(row)
    has_groups = drawn.plan is not None if drawn else queries.current_plan(row) is not None
    pupils = len(drawn.plan.present) if drawn and drawn.plan else row.klass.pupils.count()
    facts = lesson_bridge.facts(row, lesson, has_groups=has_groups)
    scale = "1 tick = 1 minute" if number == 3 else ""
    return frame(request, number, klass=row.klass, pupils=pupils, lesson=facts, scale=scale)


@require_GET
@for_staff
def plan_sheet(request: StaffRequest, pk: int) -> HttpResponse:
    """The lesson as threads; the words of its stages; its print."""
    row = lesson_row_for(request.staff, pk)
    plan_row = queries.current_plan(row)
    drawn = queries.draw(row, plan_row)
    context = {
        **_frame(request, row, drawn, 3),
        "row": row,
        "plain": drawn.lesson,
        "made_of": forms.made_of(drawn.lesson),
        "told": forms.told_lines(drawn),
        "drawing": forms.drawing(drawn, follow=request.GET.get("follow", "")),
        "stages": forms.stage_lines(drawn.lesson),
        "times": forms.time_lines(drawn),
        "dead": forms.dead_time_told(drawn.lesson),
        "sheets_to_print": forms.PRINTS,
        "print_notices": forms.print_notices(drawn),
        "refused": queries.last_refusal(row),
    }
    return render(request, "runs/plan.html", context)


@require_GET
@for_staff
def groups_sheet(request: StaffRequest, pk: int) -> HttpResponse:
    """Who works with whom at every stage; musts and wishes beside them."""
    row = lesson_row_for(request.staff, pk)
    plan_row = queries.current_plan(row)
    drawn = queries.draw(row, plan_row)
    rows = people.pupil_rows(row.klass)
    names = {r.pid: r.name for r in rows}
    musts = people.must_lines(row.klass.musts.all(), names)
    refused = queries.last_refusal(row)
    clash = [m for m in musts if refused and m.row in refused.clash]
    context = {
        **_frame(request, row, drawn, 4),
        "row": row,
        "plan_row": plan_row,
        "stages": forms.group_stages(drawn),
        "has_cards": any(stage.cards for stage in drawn.lesson.way.stages),
        "told": forms.told_lines(drawn),
        "rows": rows,
        "musts": musts,
        "kinds": people.MUST_WORDS.items(),
        "wishes": people_forms.wish_lines(row.klass, rows),
        "refused": refused,
        "clash": clash,
        # The set is irreducible: with one of it gone, the refusal no longer says what is so.
        "mended": refused is not None and len(clash) < len(set(refused.clash)),
        "differs": forms.differs(drawn, rows),
        "sheets_to_print": forms.PRINTS,
        "print_notices": forms.print_notices(drawn),
    }
    return render(request, "runs/groups.html", context, status=200)


@require_POST
@for_staff
def apart(request: StaffRequest, pk: int) -> HttpResponse:
    """ "Not together again": one press on two pupils of a group."""
    row = lesson_row_for(request.staff, pk)
    pair = request.POST.get("pair", "").split("\x1f")
    try:
        people_actions.add_must(
            by=request.staff, key=post_key(request), klass=row.klass, kind=Kind.APART, pupils=pair
        )
    except CannotRead as trouble:
        messages.warning(request, " ".join(trouble.told))
    else:
        messages.success(
            request, "Kept apart from now on. Make groups again, and it holds; Undo takes it back."
        )
    return redirect("runs:groups", row.pk)


@require_POST
@for_staff
def lead(request: StaffRequest, pk: int) -> HttpResponse:
    """Who leads a question card in one group."""
    row = lesson_row_for(request.staff, pk)
    number, group, card = [*request.POST.get("card", "").split("\x1f"), "", "", ""][:3]
    pupil = request.POST.get("pupil", "")
    stage_number = number_in(number)
    if stage_number is not None:
        actions.set_lead(
            by=request.staff,
            key=post_key(request),
            lesson=row,
            stage=stage_number,
            group=group,
            card=card,
            pupil=pupil,
        )
    return redirect("runs:groups", row.pk)


@require_POST
@for_staff
def ended(request: StaffRequest, pk: int) -> HttpResponse:
    """This lesson has ended: who sat with whom is remembered, nothing is asked."""
    row = lesson_row_for(request.staff, pk)
    on = row.date if row.date is not None and row.date <= timezone.localdate() else timezone.localdate()
    places = actions.end_lesson(by=request.staff, key=post_key(request), lesson=row, on=on)
    if places:
        messages.success(
            request, "The lesson has ended. Who worked with whom counts from now on; Undo reopens it."
        )
    else:
        messages.warning(request, "There were no groups to remember, or the lesson had ended already.")
    return redirect("runs:groups", row.pk)


def _open_lesson(request: StaffRequest, klass: SchoolClass) -> LessonRow | None:
    """The lesson from whose groups the sheet was opened, if it is this class's and has not ended."""
    number = number_in(request.GET.get("lesson", ""))
    return klass.lessons.filter(pk=number, ended_on=None).first() if number else None


@require_http_methods(["GET", "HEAD", "POST"])
@for_staff
def sat(request: StaffRequest, pk: int) -> HttpResponse:
    """Groups they chose themselves, entered as they sat."""
    klass = class_for(request.staff, pk)
    rows = people.pupil_rows(klass)
    came_from = _open_lesson(request, klass)
    instead = came_from if came_from is not None and queries.has_one_grouping(came_from) else None
    context = {
        **frame(request, 4, klass=klass, pupils=len(rows), sheet_name="Groups as they sat"),
        "rows": rows,
        "instead": instead,
        "beside": came_from if instead is None else None,
    }
    context["letters"] = forms.sat_letters(len(rows))
    if request.method != "POST":
        return render(request, "runs/sat.html", context)
    try:
        groups = forms.groups_sent(request, rows)
        lesson = lesson_bridge.as_lesson(instead) if instead else _plain_lesson(klass, "Groups they chose")
        row = actions.keep_chosen(
            by=request.staff,
            key=post_key(request),
            klass=klass,
            lesson=lesson,
            groups=groups,
            instead=instead,
        )
    except Trouble as trouble:
        context |= {"told": trouble.told, "sent": request.POST}
        return render(request, "runs/sat.html", context, status=422)
    messages.success(request, "Kept as they sat. When the lesson ends, they count like any other groups.")
    return redirect("runs:groups", row.pk)
