"""What the class sees: the wall view of a stage, and what is printed."""

from __future__ import annotations

from django.http import HttpResponse
from django.views.decorators.http import require_GET

from benchmates.web.people.rules import StaffRequest, for_staff


@require_GET
@for_staff
def board(request: StaffRequest, pk: int, stage: int) -> HttpResponse:
    return HttpResponse("")


@require_GET
@for_staff
def print_sheet(request: StaffRequest, pk: int, size: str, sheet: str) -> HttpResponse:
    return HttpResponse("")


@require_GET
@for_staff
def print_all(request: StaffRequest, pk: int, size: str) -> HttpResponse:
    return HttpResponse("")
