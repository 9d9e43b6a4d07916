"""Finding a way of working, looking at all of them, and the words of a lesson."""

from __future__ import annotations

from dataclasses import replace

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_GET, require_POST

from benchmates.core.errors import CannotPlan, CannotRead, Trouble
from benchmates.core.lesson.finder import fitting
from benchmates.core.lesson.plan import lesson_for as draw_for
from benchmates.core.strategy import catalogue
from benchmates.core.strategy.catalogue import read_way, write_way
from benchmates.core.strategy.way import Purpose
from benchmates.web.lessons import actions, bridge, forms, queries
from benchmates.web.lessons.models import LessonRow
from benchmates.web.lessons.rules import lesson_for, lesson_row
from benchmates.web.people.frame import LessonFacts, frame
from benchmates.web.people.models import SchoolClass
from benchmates.web.people.posts import number_in, post_key, whole_number
from benchmates.web.people.rules import StaffRequest, class_for, for_staff


@require_GET
@for_staff
def finder(request: StaffRequest, pk: int) -> HttpResponse:
    """From what a teacher would like to overhear to the two or three ways that fit."""
    klass = class_for(request.staff, pk)
    pupils = klass.pupils.count()
    purpose = forms.purpose_sent(request)
    bell = whole_number(request, "bell", forms.USUAL_BELL, 20, 240)
    context = {
        "overheard": forms.overheard(purpose),
        "purpose": purpose,
        "bell": bell,
        "bells": sorted({*forms.BELLS, bell}),
        "pupils": pupils,
        "klass": klass,
        "fits": _fits(klass, purpose, pupils, bell) if purpose and pupils else None,
    }
    if request.headers.get("HX-Request"):
        return render(request, "lessons/_fits.html", context)
    lesson = _open_lesson(request, klass)
    return render(
        request,
        "lessons/finder.html",
        {**frame(request, 2, klass=klass, pupils=pupils, lesson=lesson), **context},
    )


def _fits(klass: SchoolClass, purpose: Purpose, pupils: int, bell: int) -> list[forms.FitLine]:
    offered = fitting(purpose, pupils=pupils, minutes=bell, ways=queries.all_ways(klass.department))
    return forms.fit_lines(offered, pupils=pupils, bell=bell, purpose=purpose)


def _open_lesson(request: StaffRequest, klass: SchoolClass) -> LessonFacts | None:
    """The lesson from which the finder was opened, so that its other sheets stay one press away."""
    number = number_in(request.GET.get("lesson", ""))
    row = None if number is None else lesson_row(request.staff, number)
    if row is None or row.klass_id != klass.pk:
        return None
    return bridge.facts(row, bridge.as_lesson(row), has_groups=True)


@require_POST
@for_staff
def draw(request: StaffRequest, pk: int) -> HttpResponse:
    """Begin a lesson round the chosen way."""
    klass = class_for(request.staff, pk)
    chosen = forms.choice_sent(request)
    way = queries.way_of(klass.department, chosen.way)
    lesson = draw_for(
        way, title=way.name, bell=chosen.bell, room=klass.room, class_name=klass.name, purpose=chosen.purpose,
        size=chosen.size, adults=max(1, klass.adults), insists=True,
    )  # fmt: skip
    lesson = replace(lesson, insists=False)
    row = actions.draw_lesson(by=request.staff, key=post_key(request), klass=klass, lesson=lesson)
    return redirect("runs:plan", row.pk)


@require_GET
@for_staff
def catalogue_sheet(request: StaffRequest) -> HttpResponse:
    """All ways of working, and the department's own."""
    context = {
        **frame(request, 2, sheet_name="Ways of working"),
        "ways": forms.way_lines(catalogue.ways()),
        "own": forms.way_lines(queries.own_ways(request.staff.department)),
    }
    return render(request, "lessons/ways.html", context)


@require_GET
@for_staff
def way_sheet(request: StaffRequest, key: str) -> HttpResponse:
    """One way of working in full."""
    way = queries.way_of(request.staff.department, key)
    context = {**frame(request, 2, sheet_name=way.name), "way": way, "line": forms.way_lines([way])[0]}
    return render(request, "lessons/way.html", context)


@require_GET
@for_staff
def way_file(request: StaffRequest, key: str) -> HttpResponse:
    """A way as the plain file it is, to change and bring back as one's own."""
    text = write_way(queries.way_of(request.staff.department, key))
    answer = HttpResponse(text, content_type="application/toml; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{key}.toml"'
    return answer


@require_POST
@for_staff
def keep_own(request: StaffRequest) -> HttpResponse:
    """Check a way that the department wrote, and keep it."""
    upload = request.FILES.get("file")
    text = request.POST.get("toml", "")
    if isinstance(upload, UploadedFile) and upload.size:
        data, filename = upload.read(), str(upload.name)
        upload.seek(0)
    else:
        data, filename = text.encode(), "your way"
    try:
        way = read_way(data, filename=filename)
        if way.key in {w.key for w in catalogue.ways()}:
            raise CannotPlan(
                f"“{way.key}” is the key of a way in the catalogue.", "Give yours a key of its own."
            )
    except Trouble as trouble:
        context = {
            **frame(request, 2, sheet_name="Ways of working"),
            "ways": forms.way_lines(catalogue.ways()),
            "own": forms.way_lines(queries.own_ways(request.staff.department)),
            "told": trouble.told[:1] if isinstance(trouble, CannotRead) else trouble.told,
            "faults": getattr(trouble, "faults", ()),
            "toml": data.decode("utf-8", "replace"),
        }
        return render(request, "lessons/ways.html", context, status=422)
    actions.keep_way(by=request.staff, key=post_key(request), way=way)
    messages.success(request, f"{way.name} is kept. It is offered beside the others from now on.")
    return redirect("lessons:way", way.key)


@require_POST
@for_staff
def write_stage(request: StaffRequest, pk: int, stage: int) -> HttpResponse:
    """The words of one stage."""
    row = lesson_for(request.staff, pk)
    stages = bridge.as_lesson(row).way.stages
    if not 0 <= stage < len(stages):
        raise CannotPlan("This lesson has no such stage.", "Load the sheet again.")
    question = " ".join((request.POST.get("question") or "").split())[:300]
    product = " ".join((request.POST.get("product") or "").split())[:300]
    cards = forms.cards_sent(request, stages[stage])
    actions.write_stage(
        by=request.staff,
        key=post_key(request),
        row=row,
        stage=stage,
        question=question,
        product=product,
        cards=cards,
    )
    messages.success(
        request, f"{stages[stage].name}: cards, wall sheet, run sheet and board have the new words."
    )
    return _to_plan(request, row, f"#stage-{stage}")


@require_POST
@for_staff
def describe(request: StaffRequest, pk: int) -> HttpResponse:
    """Title, bell, start, date, room and size."""
    row = lesson_for(request.staff, pk)
    old = bridge.as_lesson(row)
    actions.describe_lesson(
        by=request.staff, key=post_key(request), row=row,
        title=(request.POST.get("title") or "").strip()[:80] or old.title,
        bell=whole_number(request, "bell", old.bell, 20, 240),
        start=forms.time_sent(request, "start"),
        date=forms.date_sent(request, "date"),
        room=(request.POST.get("room") or "").strip()[:40],
        size=forms.size_sent(request),
    )  # fmt: skip
    return _to_plan(request, row)


@require_POST
@for_staff
def insist(request: StaffRequest, pk: int) -> HttpResponse:
    """One question at every size after all."""
    row = lesson_for(request.staff, pk)
    actions.insist(by=request.staff, key=post_key(request), row=row)
    return _to_plan(request, row)


def _to_plan(request: StaffRequest, row: LessonRow, where: str = "") -> HttpResponse:
    there = request.POST.get("back", "")
    if there and url_has_allowed_host_and_scheme(there, allowed_hosts={request.get_host()}):
        return HttpResponseRedirect(there + where)
    answer = redirect("runs:plan", row.pk)
    answer["Location"] += where
    return answer
