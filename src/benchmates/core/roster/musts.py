"""What must hold in every group: apart, together, near an adult, fixed in a place or a role."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from benchmates.core.terms import PupilId


class Kind(StrEnum):
    """The four musts."""

    APART = "apart"
    TOGETHER = "together"
    NEAR_ADULT = "near_adult"
    FIXED = "fixed"


@dataclass(frozen=True)
class Must:
    """One must, as one row of the teacher's list.

    ``because`` is staff-only and short; ``where`` (only for ``fixed``) names a bench, a group or a role as the
    teacher wrote it: "bench 3", "group B", "role scribe", or the bare word. ``row`` is the row it was read from.
    """

    kind: Kind
    pupils: tuple[PupilId, ...]
    because: str = ""
    where: str | None = None
    row: int | None = None
