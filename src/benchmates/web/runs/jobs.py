"""Groups that take longer than a page may wait: ids in, a child process asked, the answer kept by an action."""

from __future__ import annotations

import logging
import multiprocessing
import threading
from concurrent.futures import BrokenExecutor, Executor, Future, ProcessPoolExecutor

from django.conf import settings
from django.db import connections

from benchmates.core.grouping.request import Request
from benchmates.web.lessons.models import LessonRow
from benchmates.web.people.models import Staff
from benchmates.web.runs import actions, queries
from benchmates.web.runs.models import Job
from benchmates.web.runs.solving import Answer, solve, warm

log = logging.getLogger("benchmates")
_lock = threading.Lock()
_pool: Executor | None = None
_kept: dict[int, threading.Event] = {}


def start(*, by: Staff, key: str, lesson: LessonRow, again: bool = False) -> Job:
    """Ask for groups and wait a little; the same key twice asks once."""
    job, new = Job.objects.get_or_create(
        key=key, defaults={"lesson": lesson, "by": by, "seed": queries.next_seed(lesson)}
    )
    if new:
        _submit(job)
    wait(job)
    job.refresh_from_db()
    return job


def wait(job: Job) -> None:
    """Wait until the answer is kept, but no longer than a page may; ask again if a restart lost the question."""
    if job.state == Job.WAITING and job.pk not in _kept:
        _submit(job)
    kept = _kept.get(job.pk)
    if kept is not None:
        kept.wait(settings.WAIT_SECONDS)


def _submit(job: Job) -> None:
    request = queries.request_for(job.lesson, seed=job.seed)
    if settings.SOLVE_IN == "here":
        actions.keep_answer(job=job, answer=solve(request))
        return
    done = threading.Event()
    with _lock:
        # An answer is kept before its event goes, so a question with neither is one that a restart lost.
        if job.pk in _kept or not Job.objects.filter(pk=job.pk, state=Job.WAITING).exists():
            return
        _kept[job.pk] = done
    try:
        future = _asked(request)
    except BaseException:
        _kept.pop(job.pk, None)
        raise
    future.add_done_callback(lambda answered: _keep(job.pk, answered, done))


def _asked(request: Request) -> Future[Answer]:
    """Ask the child. One that died while it was idle is known only now, and a new one takes its place."""
    global _pool
    try:
        return pool().submit(solve, request)
    except BrokenExecutor:
        with _lock:
            _pool = None
        return pool().submit(solve, request)


def _keep(pk: int, future: Future[Answer], done: threading.Event) -> None:
    """Runs in the pool's own thread: keep the answer whether or not anybody still waits for it."""
    try:
        job = Job.objects.select_related("lesson__klass", "by__department").get(pk=pk)
        actions.keep_answer(job=job, answer=_answer(future))
    except Exception:
        log.exception("The answer to job %s could not be kept", pk)
    finally:
        connections.close_all()
        done.set()
        _kept.pop(pk, None)


def _answer(future: Future[Answer]) -> Answer:
    global _pool
    try:
        return future.result()
    except BrokenExecutor:
        with _lock:
            _pool = None
        return Answer(
            None, ("Making groups was broken off.", "Nothing was changed. Press Make groups once more.")
        )
    except Exception:
        log.exception("Making groups failed")
        return Answer(
            None, ("Something broke while making groups.", "It is not your doing, and nothing was changed.")
        )


def pool() -> Executor:
    """The child processes; started anew if they died."""
    global _pool
    with _lock:
        if _pool is None:
            _pool = ProcessPoolExecutor(max_workers=1, mp_context=multiprocessing.get_context("spawn"))
        return _pool


def warm_up() -> None:
    """Compile ahead, in the child that will make groups."""
    if settings.SOLVE_IN == "child":
        pool().submit(warm).add_done_callback(_warmed)


def _warmed(future: Future[bool]) -> None:
    trouble = None if future.cancelled() else future.exception()
    if trouble is not None:
        log.warning("The search could not be made ready ahead: %s", trouble)


def stop() -> None:
    """Let no child outlive the server."""
    if _pool is not None:
        _pool.shutdown(wait=False, cancel_futures=True)
    for child in multiprocessing.active_children():
        child.kill()
