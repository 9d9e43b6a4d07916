"""Opening and closing a session; the sheets for what is not there."""

from __future__ import annotations

from importlib import resources

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.views.decorators.http import require_GET, require_POST

from benchmates.web.people.rules import SESSION_KEY, staff_for_key

FACES = {400: "AtkinsonHyperlegible-Regular.ttf", 700: "AtkinsonHyperlegible-Bold.ttf"}


@require_GET
def open_session(request: HttpRequest, key: str) -> HttpResponse:
    """Open a session for whoever holds the teacher link."""
    staff = staff_for_key(key)
    if staff is None:
        return render(request, "site/no_key.html", {"tried": True}, status=403)
    request.session.cycle_key()
    request.session[SESSION_KEY] = staff.pk
    return redirect("people:door")


@require_GET
def typeface(request: HttpRequest, weight: int) -> HttpResponse:
    """The typeface of page and print, from its installed package; the content says which kind of font it is."""
    if weight not in FACES:
        raise Http404
    data = (resources.files("fontpkg_atkinson_hyperlegible") / "files" / FACES[weight]).read_bytes()
    return HttpResponse(data, content_type="font/ttf", headers={"Cache-Control": "public, max-age=86400"})


@require_POST
def close_session(request: HttpRequest) -> HttpResponse:
    """Close the session, for a computer that others use."""
    request.session.flush()
    return redirect("people:door")


def _plain(request: HttpRequest, status: int, title: str, *told: str) -> HttpResponse:
    return render(request, "site/plain.html", {"title": title, "told": told}, status=status)


def not_there(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """404."""
    return _plain(
        request, 404, "There is no such sheet",
        "The address may be mistyped, or the class or lesson was taken away since.",
        "If it was taken away by mistake, Undo on the first page puts it back.",
    )  # fmt: skip


def not_allowed(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """403."""
    return _plain(
        request, 403, "This sheet is not open to you", "Open the teacher link first, then try again."
    )


def not_understood(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """400."""
    return _plain(
        request, 400, "That could not be read",
        "What the browser sent was too large or broken. A class list of up to 8 MB will do. Nothing was changed.",
    )  # fmt: skip


def form_too_old(request: HttpRequest, reason: str = "") -> HttpResponse:
    """A form from another session, or one without its key."""
    return _plain(
        request, 403, "This form is too old",
        "It was opened in another session. Nothing was changed.",
        "Go back, load the sheet again, and press once more.",
    )  # fmt: skip


def our_fault(request: HttpRequest) -> HttpResponse:
    """500: rendered without the request, since anything may be broken."""
    return HttpResponse(render_to_string("site/our_fault.html"), status=500)
