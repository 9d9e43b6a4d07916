"""What happens round every page: who is asking, and what a teacher reads when something cannot be done."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from whitenoise.middleware import WhiteNoiseMiddleware

from benchmates.core.errors import Trouble
from benchmates.web.people.rules import staff_of

Answer = Callable[[HttpRequest], HttpResponse]


class StaticFiles(WhiteNoiseMiddleware):
    """Style, script and typeface. They are small, so each goes out whole: under ASGI a file cannot be streamed."""

    @staticmethod
    def serve(static_file: Any, request: HttpRequest) -> HttpResponse:
        """One file, or that it has not changed."""
        found = static_file.get_response(request.method, request.META)
        content = b""
        if found.file is not None:
            with found.file:
                content = found.file.read()
        response = HttpResponse(content, status=int(found.status))
        del response["Content-Type"]
        for name, value in found.headers:
            response[name] = value
        return response


class QuietPages:
    """Names of pupils stay out of caches: pages are kept nowhere but on the screen."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if not request.path.startswith("/static/"):
            response.headers.setdefault("Cache-Control", "no-store")
        return response


class WhoIsAsking:
    """Put the teacher on the request, or None."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        request.staff = staff_of(request)  # type: ignore[attr-defined]
        return self.get_response(request)


class TroubleInWords:
    """Trouble that no page turned into something better becomes a sheet that says what is wrong."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        if not isinstance(exception, Trouble):
            return None
        return render(
            request,
            "site/trouble.html",
            {"told": exception.told, "faults": getattr(exception, "faults", ())},
            status=422,
        )
