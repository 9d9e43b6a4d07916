"""What a form sent, and the key under which it is stored once."""

from __future__ import annotations

import hashlib

from django.http import HttpRequest

from benchmates.web.people.rules import StaffRequest

MOST_DIGITS = 9


def post_key(request: StaffRequest) -> str:
    """One key for one press: the form's own key together with what was sent.

    A second press of the same form stores nothing new; a teacher who goes back in the browser, mends the text and
    sends it again gets the mended text stored, although the form's key is the old one.
    """
    digest = hashlib.sha256(f"{request.staff.pk} {request.path}".encode())
    for name in sorted(request.POST):
        if name != "csrfmiddlewaretoken":
            digest.update(repr((name, request.POST.getlist(name))).encode())
    for name in sorted(request.FILES):
        for upload in request.FILES.getlist(name):
            digest.update(name.encode() + upload.read())
            upload.seek(0)
    return digest.hexdigest()


def number_in(text: str) -> int | None:
    """The whole number in a text; None for anything else, and for more digits than a number on these pages has."""
    try:
        return int(text) if len(text) <= MOST_DIGITS else None
    except ValueError:
        return None


def within(text: str, *, least: int, most: int) -> int | None:
    """The whole number in a text, held within its limits; None if it is not a number."""
    number = number_in(text)
    return None if number is None else max(least, min(most, number))


def whole_number(request: HttpRequest, name: str, usual: int, least: int, most: int) -> int:
    """A whole number from the address or the form, held within its limits; the usual one if it is not a number."""
    number = within(request.POST.get(name) or request.GET.get(name) or "", least=least, most=most)
    return usual if number is None else number
