"""The record of changes: every write passes through here, and from here it can be taken back."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from django.apps import apps
from django.core import serializers
from django.db import models, transaction

from benchmates.web.people.models import Change, Department, SchoolClass, Staff

STEPS_BACK = 20


def _as_row(thing: models.Model) -> dict[str, Any]:
    row: dict[str, Any] = json.loads(serializers.serialize("json", [thing]))[0]
    return row


@dataclass
class Recorder:
    """What one change touched. ``again`` is the earlier change if this very post was stored before."""

    again: Change | None = None
    klass: int | None = None
    lesson: int | None = None
    what: str = ""
    before: list[dict[str, Any]] = field(default_factory=list)
    after: list[dict[str, Any]] = field(default_factory=list)

    def save(self, thing: models.Model) -> None:
        """Store a row, remembering how it stood."""
        old = type(thing)._default_manager.filter(pk=thing.pk).first() if thing.pk else None
        thing.save()
        thing.refresh_from_db()
        new = _as_row(thing)
        self.before.append(_as_row(old) if old else {**new, "fields": None})
        self.after.append(new)

    def create_all(self, things: Sequence[models.Model]) -> None:
        """Store many new rows of one kind at once."""
        for thing in type(things[0])._default_manager.bulk_create(things) if things else ():
            row = _as_row(thing)
            self.before.append({**row, "fields": None})
            self.after.append(row)

    def delete(self, thing: models.Model) -> None:
        """Take a row away, remembering it."""
        row = _as_row(thing)
        self.before.append(row)
        self.after.append({**row, "fields": None})
        thing.delete()


@contextmanager
def recorded(
    *,
    by: Staff,
    key: str,
    what: str = "",
    klass: SchoolClass | None = None,
    lesson: int | None = None,
    undoes: Change | None = None,
) -> Iterator[Recorder]:
    """One transaction, one line in the record. The same key twice stores once: look at ``again`` first."""
    with transaction.atomic():
        again = Change.objects.filter(key=key).defer("before", "after").first()
        note = Recorder(again=again, klass=klass.pk if klass else None, lesson=lesson, what=what)
        yield note
        if again is None and note.after:
            Change.objects.create(
                department_id=by.department_id, klass=note.klass, lesson=note.lesson, by=by, what=note.what[:200],
                key=key, before=note.before, after=note.after, undoes=undoes,
            )  # fmt: skip


def _put(rows: list[dict[str, Any]], note: Recorder) -> None:
    """Bring the rows to the state given, last touched first; those with no fields go away."""
    for row in reversed(rows):
        if row["fields"] is None:
            thing = apps.get_model(row["model"])._default_manager.filter(pk=row["pk"]).first()
            if thing is not None:
                note.delete(thing)
            continue
        for found in serializers.deserialize("python", [row]):
            note.save(found.object)


def undo(*, by: Staff, change: Change, key: str) -> Change | None:
    """Take one change back; taking back a taking-back puts the first change on again."""
    first = change
    depth = 0
    while first.undoes is not None:
        first, depth = first.undoes, depth + 1
    verb = "put back" if depth % 2 else "took back"
    with recorded(by=by, key=key, lesson=change.lesson, undoes=change) as note:
        if note.again is not None or Change.objects.filter(undoes=change).exists():
            return note.again
        note.klass = change.klass
        note.what = f"{verb}: {first.what}"
        _put(change.before, note)
    return Change.objects.filter(key=key).first()


@dataclass(frozen=True)
class Steps:
    """What the next press of Undo and of Put back would do; None where there is nothing."""

    back: Change | None
    on: Change | None


def steps(*, department: Department, klass: int | None) -> Steps:
    """Read the record of one class (or of the department's own things) as a pile of steps to take back."""
    rows = list(
        Change.objects.filter(department=department, klass=klass)
        .order_by("-pk")
        .defer("before", "after")[: 10 * STEPS_BACK]
    )
    done: list[Change] = []
    undone: list[Change] = []
    takes_back: dict[int, bool] = {}
    for row in reversed(rows):
        takes_back[row.pk] = row.undoes_id is not None and not takes_back.get(row.undoes_id, False)
        if row.undoes_id is None:
            done.append(row)
            undone.clear()
        elif takes_back[row.pk]:
            done[:] = [d for d in done if d.pk != row.undoes_id]
            undone.append(row)
        else:
            undone[:] = [u for u in undone if u.pk != row.undoes_id]
            done.append(row)
    return Steps(back=done[-1] if done else None, on=undone[-1] if undone else None)


def last_changes(*, department: Department, klass: int | None, count: int = 3) -> list[Change]:
    """The newest changes, newest last, for the title block."""
    rows = Change.objects.filter(department=department, klass=klass).order_by("-pk").defer("before", "after")
    return list(rows[:count])[::-1]


def count(*, department: Department, klass: int | None) -> int:
    """How many changes there have been; they are lettered in order, as on a drawing."""
    return Change.objects.filter(department=department, klass=klass).count()


def taken_back_class(*, department: Department) -> Change | None:
    """The newest taking-back after which a class was gone, if it still is: pressing it again puts the class back."""
    kept = SchoolClass.objects.filter(department=department).values("pk")
    gone = Change.objects.filter(department=department, klass__isnull=False).exclude(klass__in=kept)
    last = gone.order_by("-pk").defer("before", "after").first()
    return last if last is not None and last.undoes_id is not None else None
