"""One pupil, with no more than the school needs to make groups."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from benchmates.core.terms import PupilId


class Talk(StrEnum):
    """How a pupil tends to take part; blank is usual."""

    QUIET = "quiet"
    TAKES_OVER = "takes over"


@dataclass(frozen=True)
class Pupil:
    """A pupil as held here. Everything after ``year`` is optional and staff-only.

    Notes
    -----
    ``None`` means not recorded and never counts: means and sums run over recorded values.
    ``attainment`` is prior attainment, a whole number on any one scale. ``works_well_with`` holds ids.
    """

    id: PupilId
    name: str
    year: str | None = None
    attainment: int | None = None
    gender: str | None = None
    eal: bool | None = None
    adult_support: bool | None = None
    confident_reader: bool | None = None
    talk: Talk | None = None
    works_well_with: tuple[PupilId, ...] = ()
    bench: str | None = None
