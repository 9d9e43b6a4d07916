"""Making groups in a child process: plain values in, plain values out, no Django."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from benchmates.core.errors import CannotGroup, Trouble
from benchmates.core.grouping.request import Request


@dataclass(frozen=True)
class Answer:
    """Groups, or the reason why there are none; ``clash`` holds the rows of musts that cannot all hold."""

    plan: dict[str, Any] | None
    told: tuple[str, ...] = ()
    clash: tuple[int, ...] = ()


def solve(request: Request) -> Answer:
    """Make groups; what a teacher can mend comes back as words."""
    from benchmates.core.grouping.make import make_groups
    from benchmates.core.grouping.result_json import as_json

    try:
        return Answer(as_json(make_groups(request)))
    except CannotGroup as trouble:
        rows = tuple(row for row in map(_row_of, trouble.clash) if row is not None)
        return Answer(None, trouble.told, rows)
    except Trouble as trouble:
        return Answer(None, trouble.told)


def _row_of(clash: object) -> int | None:
    """The row of the list of musts from which one of a clashing set was read."""
    return getattr(getattr(clash, "must", clash), "row", None)


def warm() -> bool:
    """Compile the search for later: a first compilation in mid-lesson would cost seconds."""
    from benchmates.core.grouping.make import make_groups
    from benchmates.core.lesson.plan import lesson_for
    from benchmates.core.roster.class_list import ClassList
    from benchmates.core.roster.pupil import Pupil
    from benchmates.core.strategy.plain import plain_groups
    from benchmates.core.terms import PupilId

    pupils = ClassList(tuple(Pupil(PupilId(str(k)), str(k)) for k in range(8)))
    make_groups(Request(pupils, lesson_for(plain_groups(), title="warm", bell=60), seconds=30.0))
    return True
