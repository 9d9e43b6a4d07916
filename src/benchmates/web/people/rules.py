"""Who may: a teacher whose link opened this session, within the teacher's own department."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.hashers import check_password
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render

from benchmates.web.people.models import SchoolClass, Staff

SESSION_KEY = "staff"


class StaffRequest(HttpRequest):
    """A request that a known teacher sent."""

    staff: Staff


def staff_of(request: HttpRequest) -> Staff | None:
    """The teacher whose session this is."""
    pk = request.session.get(SESSION_KEY)
    return Staff.objects.select_related("department").filter(pk=pk).first() if pk else None


def staff_for_key(key: str) -> Staff | None:
    """The teacher to whom this link was given."""
    for staff in Staff.objects.exclude(key_hash=""):
        if check_password(key, staff.key_hash):
            return staff
    return None


def for_staff(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Refuse, in words, whoever came without the teacher link."""

    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if getattr(request, "staff", None) is None:
            return render(request, "site/no_key.html", status=403)
        return view(request, *args, **kwargs)

    return guarded


def class_for(staff: Staff, pk: int) -> SchoolClass:
    """A class of the teacher's own department; others do not exist for this teacher."""
    return get_object_or_404(
        SchoolClass.objects.select_related("department"), pk=pk, department=staff.department_id
    )
