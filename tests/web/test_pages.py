"""Every page: opens for its teacher alone, is not there for a stranger, runs the same number of queries at any size."""

from __future__ import annotations

import json

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from benchmates.web.lessons.models import LessonRow
from benchmates.web.people.models import PupilRow, SchoolClass
from benchmates.web.runs.models import SittingRow
from tests.cast import SECRETS, Cast

PAGES = (
    "/",
    "/class/{klass}/",
    "/class/{klass}/way/",
    "/class/{klass}/way/?hear=compare+and+decide&bell=60",
    "/class/{klass}/sat/",
    "/ways/",
    "/ways/jigsaw/",
    "/ways/jigsaw/file/",
    "/lesson/{lesson}/",
    "/lesson/{lesson}/groups/",
    "/lesson/{lesson}/wall/1/",
    "/lesson/{lesson}/wall/2/",
)


def address(page: str, cast: Cast) -> str:
    return page.format(klass=cast.klass.pk, lesson=cast.lesson.pk)


@pytest.fixture
def made(cast: Cast) -> Cast:
    cast.teacher.post(f"/lesson/{cast.lesson.pk}/make/", {"key": "m"})
    return cast


@pytest.mark.parametrize("page", PAGES)
def test_page_opens_for_its_teacher(made: Cast, page: str) -> None:
    answer = made.teacher.get(address(page, made))
    assert answer.status_code == 200
    assert answer["Cache-Control"] == "no-store"
    assert "script-src 'self'" in answer["Content-Security-Policy"]


@pytest.mark.parametrize("page", PAGES)
def test_page_shows_a_stranger_nothing(made: Cast, page: str) -> None:
    answer = made.stranger.get(address(page, made))
    text = answer.content.decode()
    assert "Year 10 Textiles" not in text and "Tamsin" not in text
    if "{" in page:
        assert answer.status_code == 404
        assert "There is no such sheet" in text


@pytest.mark.parametrize("page", PAGES)
def test_page_refuses_in_words_without_the_link(made: Cast, page: str) -> None:
    answer = made.pupil.get(address(page, made))
    assert answer.status_code == 403
    assert "These sheets are for teachers" in answer.content.decode()


def test_no_page_holds_script_or_style_of_its_own(made: Cast) -> None:
    for page in PAGES:
        text = made.teacher.get(address(page, made)).content.decode()
        assert "<style" not in text and " style=" not in text and " onclick" not in text, page
        bare = text.replace('<script id="who" type="application/json">', "")
        assert all("src=" in part.split(">")[0] for part in bare.split("<script")[1:]), page


def count(cast: Cast, page: str) -> int:
    with CaptureQueriesContext(
        connection,
    ) as seen:
        assert cast.teacher.get(page).status_code == 200
    return len(seen)


def test_query_counts_do_not_grow(made: Cast) -> None:
    """The same number at 3 and at 300 classes, pupils, lessons and sittings."""
    pages = [
        address(p, made)
        for p in ("/", "/class/{klass}/", "/lesson/{lesson}/", "/lesson/{lesson}/groups/", "/ways/")
    ]
    made.teacher.get("/")  # takes in the message that is waiting
    few = [count(made, page) for page in pages]
    department = made.klass.department
    SchoolClass.objects.bulk_create(SchoolClass(department=department, name=f"Class {k}") for k in range(300))
    LessonRow.objects.bulk_create(
        LessonRow(klass=made.klass, title=f"Lesson {k}", way_key="w", way_name="w", toml="")
        for k in range(300)
    )
    PupilRow.objects.bulk_create(
        PupilRow(klass=made.klass, pid=f"p{k}", place=100 + k, name=f"Pupil {k}") for k in range(300)
    )
    lessons = list(LessonRow.objects.filter(klass=made.klass)[:300])
    SittingRow.objects.bulk_create(
        SittingRow(
            klass=made.klass, lesson=lesson, date="2026-09-08", number=0, stage="s", group="A", pupil="Ravi K"
        )
        for lesson in lessons
    )
    assert [count(made, page) for page in pages] == few


def test_wall_holds_no_secret(made: Cast) -> None:
    """Seeded secrets stand on the staff sheets, so the test could fail; on the wall there are none."""
    staff_page = made.teacher.get(f"/class/{made.klass.pk}/").content.decode()
    assert all(secret in staff_page for secret in ("SECRET-reason", "SECRET-gender", "7777777"))
    plan = made.lesson.plans.get(current=True).plan
    for k in range(len(plan["stages"])):
        text = made.teacher.get(f"/lesson/{made.lesson.pk}/wall/{k + 1}/").content.decode()
        assert not [secret for secret in SECRETS if secret in text]
        assert "compromise" not in text.casefold()


def test_link_opens_a_session_and_a_wrong_one_does_not(cast: Cast) -> None:
    from django.contrib.auth.hashers import make_password

    cast.staff.key_hash = make_password("right")
    cast.staff.save()
    assert cast.pupil.get("/open/wrong/").status_code == 403
    assert cast.pupil.get("/").status_code == 403
    assert cast.pupil.get("/open/right/").status_code == 302
    assert cast.pupil.get("/").status_code == 200
    assert cast.staff.key_hash.startswith("argon2$")


def test_missing_page_says_so_in_words(cast: Cast) -> None:
    answer = cast.teacher.get("/nowhere/")
    assert answer.status_code == 404
    assert "There is no such sheet" in answer.content.decode()


def test_broken_page_says_it_is_not_the_teachers_doing(cast: Cast, monkeypatch) -> None:
    from benchmates.web.people import queries

    def broken(*args: object) -> None:
        raise RuntimeError("broken on purpose")

    monkeypatch.setattr(queries, "classes", broken)
    cast.teacher.raise_request_exception = False
    answer = cast.teacher.get("/")
    assert answer.status_code == 500
    assert "It is not your doing" in answer.content.decode()
    assert "broken on purpose" not in answer.content.decode()


def test_stored_plan_is_the_exchange_format(made: Cast) -> None:
    plan = made.lesson.plans.get().plan
    assert json.loads(json.dumps(plan)) == plan
    assert {"format", "way", "seed", "present", "stages", "compromise", "told"} <= set(plan)
