"""The first page, the preview of a list, and the sheet of one class."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_GET, require_POST

from benchmates.core.errors import CannotRead
from benchmates.core.terms import counted
from benchmates.web.people import actions, forms, lists, queries, record
from benchmates.web.people.frame import frame
from benchmates.web.people.glance import lesson_at_a_glance
from benchmates.web.people.models import Change, SchoolClass
from benchmates.web.people.posts import post_key, whole_number
from benchmates.web.people.rules import StaffRequest, class_for, for_staff


@require_GET
@for_staff
def door(request: StaffRequest) -> HttpResponse:
    """Paste names, or open a class."""
    classes = list(queries.classes(request.staff.department))
    context = {
        **frame(request, 1, sheet_name="Class lists"),
        "classes": classes,
        "glance": lesson_at_a_glance(),
        "gone": record.taken_back_class(department=request.staff.department),
    }
    return render(request, "people/door.html", context)


@require_POST
@for_staff
def preview(request: StaffRequest) -> HttpResponse:
    """Show what would be held; nothing is stored yet."""
    sent = lists.sent_list(request)
    if sent is None:
        messages.warning(
            request, "Nothing came. Paste the names of your class, one a line, or choose a file."
        )
        return redirect("people:door")
    try:
        found = lists.read_sent(sent, lists.chosen_headings(request))
    except CannotRead as trouble:
        found = lists.Preview.unreadable(trouble)
    context = {**frame(request, 1, sheet_name="Class list, not kept yet"), "found": found, "sent": sent}
    return render(request, "people/preview.html", context, status=200 if found.ready else 422)


def list_to_keep(request: StaffRequest) -> tuple[str, lists.Preview]:
    """The list as it was looked at, read again from what the form carried."""
    sent = lists.sent_list(request)
    if sent is None:
        raise CannotRead("The list did not come with the form.", "Paste the names again.")
    found = lists.read_sent(sent, lists.chosen_headings(request))
    if found.pupils is None or not found.ready:
        raise CannotRead("This list cannot be kept as it is.", faults=found.faults)
    return (request.POST.get("name") or "").strip()[:80] or sent.class_name, found


@require_POST
@for_staff
def keep(request: StaffRequest) -> HttpResponse:
    """Keep the list."""
    name, found = list_to_keep(request)
    assert found.pupils is not None
    klass = actions.keep_class(by=request.staff, key=post_key(request), name=name, pupils=found.pupils)
    messages.success(request, f"{klass.name} is kept: {counted(len(found.pupils), 'pupil')}.")
    return redirect("people:class", klass.pk)


@require_GET
@for_staff
def class_sheet(request: StaffRequest, pk: int) -> HttpResponse:
    """One class: its pupils, what is recorded, its musts and wishes, its lessons."""
    klass = class_for(request.staff, pk)
    rows = queries.pupil_rows(klass)
    names = {row.pid: row.name for row in rows}
    for row in rows:
        row.works_well_names = "; ".join(names.get(pid, pid) for pid in row.works_well_with)  # type: ignore[attr-defined]
    context = {
        **frame(request, 1, klass=klass, pupils=len(rows)),
        "rows": rows,
        "musts": queries.must_lines(klass.musts.all(), names),
        "kinds": queries.MUST_WORDS.items(),
        "genders": sorted({row.gender for row in rows if row.gender}),
        "lessons": forms.lesson_lines(klass),
        "wishes": forms.wish_lines(klass, rows),
    }
    return render(request, "people/class.html", context)


@require_POST
@for_staff
def describe(request: StaffRequest, pk: int) -> HttpResponse:
    """Name, room and adults of a class."""
    klass = class_for(request.staff, pk)
    name = (request.POST.get("name") or "").strip()[:80] or klass.name
    room = (request.POST.get("room") or "").strip()[:60]
    adults = whole_number(request, "adults", klass.adults, 1, 6)
    actions.describe_class(
        by=request.staff, key=post_key(request), klass=klass, name=name, room=room, adults=adults
    )
    return redirect("people:class", klass.pk)


@require_POST
@for_staff
def record_fields(request: StaffRequest, pk: int) -> HttpResponse:
    """Optional fields of the whole class in one press."""
    klass = class_for(request.staff, pk)
    fields = forms.optional_fields(request, queries.pupil_rows(klass))
    changed = actions.record_pupils(by=request.staff, key=post_key(request), klass=klass, fields=fields)
    messages.success(request, f"Recorded for {counted(changed, 'pupil')}. Blanks never count.")
    return redirect(reverse("people:class", args=[klass.pk]) + "#recorded")


@require_POST
@for_staff
def join(request: StaffRequest, pk: int) -> HttpResponse:
    """One more pupil."""
    klass = class_for(request.staff, pk)
    name = " ".join((request.POST.get("name") or "").split())[:80]
    if name:
        actions.add_pupil(by=request.staff, key=post_key(request), klass=klass, name=name)
        messages.success(request, f"{name} joined the list. Groups made before do not hold this pupil yet.")
    else:
        messages.warning(request, "No name was written, so nobody joined.")
    return redirect("people:class", klass.pk)


@require_POST
@for_staff
def leave(request: StaffRequest, pk: int) -> HttpResponse:
    """One pupil fewer."""
    klass = class_for(request.staff, pk)
    actions.take_off(by=request.staff, key=post_key(request), klass=klass, pid=request.POST.get("pupil", ""))
    return redirect("people:class", klass.pk)


@require_POST
@for_staff
def must_add(request: StaffRequest, pk: int) -> HttpResponse:
    """Add a must."""
    klass = class_for(request.staff, pk)
    try:
        must = forms.must_sent(request, queries.pupil_rows(klass))
        actions.add_must(by=request.staff, key=post_key(request), klass=klass, **must)
        messages.success(request, "The must is added. It holds the next time you make groups.")
    except CannotRead as trouble:
        for line in (*trouble.told, *(str(fault) for fault in trouble.faults)):
            messages.warning(request, line)
    return _back(request, klass)


@require_POST
@for_staff
def must_remove(request: StaffRequest, pk: int, must: int) -> HttpResponse:
    """Take a must away."""
    klass = class_for(request.staff, pk)
    actions.remove_must(by=request.staff, key=post_key(request), klass=klass, must=must)
    messages.success(request, "The must is taken away. Undo puts it back.")
    return _back(request, klass)


@require_POST
@for_staff
def wishes(request: StaffRequest, pk: int) -> HttpResponse:
    """Weigh the wishes."""
    klass = class_for(request.staff, pk)
    actions.set_wishes(
        by=request.staff, key=post_key(request), klass=klass, weights=forms.weights_sent(request)
    )
    messages.success(request, "Wishes weighed. They count the next time you make groups.")
    return _back(request, klass)


@require_POST
@for_staff
def take_back(request: StaffRequest, change: int) -> HttpResponse:
    """Undo one change, or put it back."""
    row = Change.objects.filter(pk=change, department=request.staff.department_id).first()
    if row is None:
        raise Http404
    now = record.steps(department=request.staff.department, klass=row.klass)
    if row.pk not in {step.pk for step in (now.back, now.on) if step is not None}:
        messages.warning(
            request, "That was taken back already, or something newer stands on it. Nothing was changed."
        )
    else:
        done = record.undo(by=request.staff, change=row, key=post_key(request))
        if done is not None:
            messages.success(request, f"{done.what[0].upper()}{done.what[1:]}.")
    if row.klass and not SchoolClass.objects.filter(pk=row.klass).exists():
        return redirect("people:door")
    return _back(request, None)


def _back(request: HttpRequest, klass: SchoolClass | None) -> HttpResponseRedirect:
    """To the sheet the form stood on, if that is one of ours."""
    there = request.POST.get("back") or request.headers.get("referer") or ""
    if url_has_allowed_host_and_scheme(there, allowed_hosts={request.get_host()}):
        return HttpResponseRedirect(there)
    return redirect("people:class", klass.pk) if klass else redirect("people:door")
