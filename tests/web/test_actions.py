"""Every action meets the whole cast: it works, refuses GET, shows the stranger nothing, stores once, can be undone."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest
from django.core import serializers

from benchmates.web.lessons.models import LessonRow, OwnWay
from benchmates.web.people.models import Change, MustRow, PupilRow, SchoolClass
from benchmates.web.runs.models import PlanRow, SittingRow
from tests.cast import Cast

TABLES = (SchoolClass, PupilRow, MustRow, LessonRow, OwnWay, PlanRow, SittingRow)
Post = tuple[str, dict[str, object]]

OWN_WAY = """format = 1
key = "two-rounds"
name = "Two rounds"
purposes = ["generate"]
assess = "Ask one pupil of each pair."
remainder = "One three."
room = "As it stands."
[why]
text = "Rehearse an idea before it is heard."
mark = "C"
[[stage]]
name = "Pairs"
relation = "new"
size = [2, 2, 3]
minutes = [2, 3, 4]
question = "What else could it be?"
product = "Two ideas."
"""


def _make(cast: Cast) -> None:
    cast.teacher.post(f"/lesson/{cast.lesson.pk}/make/", {"key": "before"})


ACTIONS: dict[str, tuple[Callable[[Cast], Post], bool]] = {
    "keep": (lambda c: ("/names/keep/", {"names": "Cai Y\nDella G\nEwan I", "name": "Year 8 Food"}), False),
    "describe": (lambda c: (f"/class/{c.klass.pk}/describe/", {"name": "10T", "room": "Studio", "adults": "2"}), False),
    "join": (lambda c: (f"/class/{c.klass.pk}/join/", {"name": "Zeke O"}), False),
    "leave": (lambda c: (f"/class/{c.klass.pk}/leave/", {"pupil": "Ravi K"}), False),
    "record": (
        lambda c: (
            f"/class/{c.klass.pk}/record/",
            {f"{c.klass.pupils.first().pk}:attainment": "104", f"{c.klass.pupils.first().pk}:eal": "yes"},
        ),
        False,
    ),
    "must": (
        lambda c: (
            f"/class/{c.klass.pk}/must/",
            {"kind": "together", "pupil": ["Femi A", "Gwen P"], "because": "buddy"},
        ),
        False,
    ),
    "must away": (lambda c: (f"/class/{c.klass.pk}/must/{c.must.pk}/away/", {}), False),
    "wishes": (lambda c: (f"/class/{c.klass.pk}/wishes/", {"new_partners": "20", "attainment": "0"}), False),
    "draw": (lambda c: (f"/class/{c.klass.pk}/lesson/", {"choice": "envoys/60//share findings"}), False),
    "stage": (
        lambda c: (
            f"/lesson/{c.lesson.pk}/stage/0/",
            {"question": "Which first?", "product": "One card", "word": ["Fit", ""], "card_question": ["Why?", ""]},
        ),
        False,
    ),
    "describe lesson": (
        lambda c: (
            f"/lesson/{c.lesson.pk}/describe/",
            {"title": "Needs", "bell": "50", "start": "09:05", "date": "2026-10-14"},
        ),
        False,
    ),
    "insist": (lambda c: (f"/lesson/{c.lesson.pk}/insist/", {}), False),
    "own way": (lambda c: ("/ways/own/", {"toml": OWN_WAY}), False),
    "make": (lambda c: (f"/lesson/{c.lesson.pk}/make/", {}), False),
    "make again": (lambda c: (f"/lesson/{c.lesson.pk}/make/", {}), True),
    "plain groups": (lambda c: (f"/class/{c.klass.pk}/groups/", {}), False),
    "not together": (lambda c: (f"/lesson/{c.lesson.pk}/apart/", {"pair": "Femi A\x1fHana S"}), True),
    "ended": (lambda c: (f"/lesson/{c.lesson.pk}/ended/", {}), True),
    "sat": (
        lambda c: (
            f"/class/{c.klass.pk}/sat/",
            {f"sat-{row.pk}": "AABB"[k % 4] for k, row in enumerate(c.klass.pupils.all())},
        ),
        False,
    ),
}  # fmt: skip


def everything() -> dict[str, object]:
    """Every row but the record itself."""
    return {
        table.__name__: json.loads(serializers.serialize("json", table.objects.order_by("pk")))
        for table in TABLES
    }


@pytest.fixture(params=ACTIONS)
def post(request, cast: Cast) -> Post:
    made, groups_first = ACTIONS[request.param]
    if groups_first:
        _make(cast)
    url, data = made(cast)
    return url, {"key": "one-press", **data}


def test_action_works_and_is_recorded(cast: Cast, post: Post) -> None:
    before, changes = everything(), Change.objects.count()
    answer = cast.teacher.post(*post)
    assert answer.status_code == 302, answer.content[:2000]
    assert everything() != before
    assert Change.objects.count() > changes
    newest = Change.objects.latest("pk")
    assert newest.by == cast.staff and newest.what


def test_action_refuses_get(cast: Cast, post: Post) -> None:
    before = everything()
    answer = cast.teacher.get(post[0])
    # Groups as they sat are entered on a sheet of their own, which GET shows.
    assert answer.status_code == (200 if post[0].endswith("/sat/") else 405)
    assert everything() == before


def test_action_is_not_there_for_a_stranger(cast: Cast, post: Post) -> None:
    before, changes = everything(), Change.objects.count()
    answer = cast.stranger.post(*post)
    if post[0] in ("/names/keep/", "/ways/own/"):  # these write in the asker's own department
        assert not Change.objects.filter(department=cast.klass.department_id).exclude(by=cast.staff).exists()
        return
    assert answer.status_code == 404
    assert b"Tamsin" not in answer.content
    assert (everything(), Change.objects.count()) == (before, changes)


def test_action_is_refused_without_the_link(cast: Cast, post: Post) -> None:
    before = everything()
    answer = cast.pupil.post(*post)
    assert answer.status_code == 403
    assert "teacher link" in answer.content.decode()
    assert everything() == before


def test_action_sent_twice_stores_once(cast: Cast, post: Post) -> None:
    first = cast.teacher.post(*post)
    stored, changes = everything(), Change.objects.count()
    second = cast.teacher.post(*post)
    assert (first.status_code, second.status_code) == (302, 302)
    assert everything() == stored
    assert Change.objects.count() == changes


def test_action_is_undone_and_put_back(cast: Cast, post: Post) -> None:
    before, changes = everything(), Change.objects.count()
    cast.teacher.post(*post)
    after = everything()
    rows = list(Change.objects.order_by("pk")[changes:])
    for k, row in enumerate(reversed(rows)):
        cast.teacher.post(f"/undo/{row.pk}/", {"key": f"undo-{k}"})
    assert everything() == before
    undone = list(Change.objects.order_by("pk")[changes + len(rows) :])
    for k, row in enumerate(reversed(undone)):
        cast.teacher.post(f"/undo/{row.pk}/", {"key": f"back-{k}"})
    assert everything() == after
