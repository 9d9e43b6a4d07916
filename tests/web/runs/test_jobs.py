"""Groups that take longer than a page may wait: shown as being made, and kept whoever still waits."""

from __future__ import annotations

from concurrent.futures import BrokenExecutor, Future

import pytest

from benchmates.core.roster.musts import Kind, Must
from benchmates.core.terms import PupilId
from benchmates.web.runs import jobs, queries
from benchmates.web.runs.models import Job
from benchmates.web.runs.solving import Answer, solve
from tests.cast import Cast


class Later:
    """A pool that answers only when told to."""

    def __init__(self) -> None:
        self.asked: list[tuple[Future[Answer], object]] = []

    def submit(self, work: object, request: object) -> Future[Answer]:
        future: Future[Answer] = Future()
        self.asked.append((future, request))
        return future


@pytest.fixture
def later(monkeypatch, settings) -> Later:
    settings.SOLVE_IN, settings.WAIT_SECONDS = "child", 0.01
    pool = Later()
    monkeypatch.setattr(jobs, "pool", lambda: pool)
    # The answer is kept in the test's own thread and on its own connection, inside the test's transaction.
    monkeypatch.setattr(jobs.connections, "close_all", lambda: None)
    jobs._kept.clear()
    return pool


def test_slow_groups_show_that_they_are_being_made_and_are_kept(cast: Cast, later: Later) -> None:
    url = f"/lesson/{cast.lesson.pk}/make/"
    answer = cast.teacher.post(url, {"key": "m"})
    assert "/making/" in answer["Location"]
    page = cast.teacher.get(answer["Location"]).content.decode()
    assert "Making groups" in page and "hx-get" in page and '<noscript><meta http-equiv="refresh"' in page
    future, request = later.asked[0]
    future.set_result(solve(request))
    assert cast.lesson.plans.filter(current=True).count() == 1
    assert cast.teacher.get(answer["Location"])["Location"] == f"/lesson/{cast.lesson.pk}/groups/"
    fragment = cast.teacher.get(answer["Location"], headers={"HX-Request": "true"})
    assert fragment["HX-Redirect"] == f"/lesson/{cast.lesson.pk}/groups/"


def test_second_press_while_groups_are_made_asks_once(cast: Cast, later: Later) -> None:
    for _ in range(2):
        cast.teacher.post(f"/lesson/{cast.lesson.pk}/make/", {"key": "m"})
    assert len(later.asked) == 1
    assert Job.objects.count() == 1


def test_lost_question_is_asked_again_after_a_restart(cast: Cast, later: Later) -> None:
    answer = cast.teacher.post(f"/lesson/{cast.lesson.pk}/make/", {"key": "m"})
    jobs._kept.clear()
    cast.teacher.get(answer["Location"])
    assert len(later.asked) == 2


def test_died_child_is_told_and_nothing_is_lost(cast: Cast, later: Later) -> None:
    answer = cast.teacher.post(f"/lesson/{cast.lesson.pk}/make/", {"key": "m"})
    later.asked[0][0].set_exception(BrokenExecutor("gone"))
    page = cast.teacher.get(answer["Location"], follow=True).content.decode()
    assert "Making groups was broken off" in page
    assert Job.objects.get().state == Job.REFUSED


def test_child_that_died_while_idle_is_replaced(cast: Cast, later: Later, monkeypatch) -> None:
    """A pool whose child is gone refuses the next question; asked of a new pool, it is answered."""
    tried: list[str] = []

    class Broken:
        def submit(self, work: object, request: object) -> Future[Answer]:
            tried.append("broken")
            raise BrokenExecutor("gone")

    pools = iter([Broken(), later])
    monkeypatch.setattr(jobs, "pool", lambda: next(pools))
    cast.teacher.post(f"/lesson/{cast.lesson.pk}/make/", {"key": "m"})
    assert tried == ["broken"]
    assert len(later.asked) == 1


def test_groups_of_a_lesson_that_ended_meanwhile_stay_as_they_were(cast: Cast, later: Later) -> None:
    cast.teacher.post(f"/lesson/{cast.lesson.pk}/make/", {"key": "m"})
    future, request = later.asked[0]
    answer = solve(request)
    future.set_result(answer)
    before = cast.lesson.plans.get(current=True).pk
    cast.teacher.post(f"/lesson/{cast.lesson.pk}/make/", {"key": "again"})
    cast.teacher.post(f"/lesson/{cast.lesson.pk}/ended/", {"key": "e"})
    later.asked[1][0].set_result(answer)
    assert cast.lesson.plans.get(current=True).pk == before
    assert Job.objects.order_by("-pk")[0].state == Job.REFUSED


def test_answered_question_is_not_asked_again_by_a_page_that_read_it_before(cast: Cast, later: Later) -> None:
    cast.teacher.post(f"/lesson/{cast.lesson.pk}/make/", {"key": "m"})
    stale = Job.objects.get()
    future, request = later.asked[0]
    future.set_result(solve(request))
    jobs.wait(stale)
    assert len(later.asked) == 1


def test_clash_comes_back_as_rows_and_words(cast: Cast) -> None:
    request = queries.request_for(cast.lesson, seed=1)
    both = (PupilId("Ravi K"), PupilId("Odile M"))
    from dataclasses import replace

    clashing = (*request.musts, Must(Kind.TOGETHER, both, row=99))
    answer = solve(replace(request, musts=clashing))
    assert answer.plan is None
    assert set(answer.clash) == {cast.must.pk, 99}
    assert answer.told


def test_no_transaction_is_open_while_groups_are_made(cast: Cast, monkeypatch) -> None:
    """Never solve inside a transaction: the test's own is the only one around."""
    from django.db import connection

    depth = len(connection.savepoint_ids)
    seen: list[int] = []
    monkeypatch.setattr(
        jobs, "solve", lambda request: (seen.append(len(connection.savepoint_ids)), solve(request))[1]
    )
    cast.teacher.post(f"/lesson/{cast.lesson.pk}/make/", {"key": "m"})
    assert seen == [depth]
