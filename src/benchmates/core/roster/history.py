"""Who has worked with whom, and in which role, in lessons that have ended."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations

from benchmates.core.terms import PupilId


@dataclass(frozen=True)
class Sitting:
    """One pupil in one group of one stage on one date. ``role`` is empty where none was recorded."""

    date: dt.date
    stage: str
    group: str
    pupil: PupilId
    role: str = ""


@dataclass(frozen=True)
class History:
    """All sittings of one class."""

    sittings: tuple[Sitting, ...] = ()

    def meetings(self, among: Iterable[PupilId]) -> Counter[tuple[PupilId, PupilId]]:
        """How often each pair has met; each group of each date and stage counts once.

        Keys are (earlier, later) in the order of ``among``; pupils not in ``among`` are left out.
        """
        order = {p: k for k, p in enumerate(among)}
        groups: dict[tuple[dt.date, str, str], set[PupilId]] = {}
        for s in self.sittings:
            if s.pupil in order:
                groups.setdefault((s.date, s.stage, s.group), set()).add(s.pupil)
        met: Counter[tuple[PupilId, PupilId]] = Counter()
        for members in groups.values():
            met.update(combinations(sorted(members, key=order.__getitem__), 2))
        return met

    def roles_held(self) -> Counter[tuple[PupilId, str]]:
        """How often each pupil has held each role."""
        return Counter((s.pupil, s.role) for s in self.sittings if s.role)
