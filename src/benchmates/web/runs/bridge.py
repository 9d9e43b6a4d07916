"""Rows to plans, requests and sheets, and back."""

from __future__ import annotations

import json
from collections.abc import Iterable

from benchmates.core.grouping.result import GroupPlan
from benchmates.core.grouping.result_json import read_plan
from benchmates.core.roster.history import History, Sitting
from benchmates.core.terms import PupilId
from benchmates.web.runs.models import PlanRow, SittingRow


def as_plan(row: PlanRow) -> GroupPlan:
    """The groups that a row holds."""
    return read_plan(json.dumps(row.plan).encode())


RINGS = ("Inner ring", "Outer ring")


def as_history(rows: Iterable[SittingRow]) -> History:
    """Who has worked with whom.

    Two lessons of one date may have stages of one name, which must count apart: the lesson is named along. Sitting
    in a ring is remembered, so that others go inside next time, but a ring is not a group: each pupil counts alone.
    """
    return History(
        tuple(
            Sitting(
                date=s.date,
                stage=f"{s.lesson_id}/{s.number} {s.stage}" + (f" {s.pupil}" if s.group in RINGS else ""),
                group=s.group,
                pupil=PupilId(s.pupil),
                role=s.role,
            )
            for s in rows
        )
    )
