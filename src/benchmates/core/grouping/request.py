"""What is asked of the grouping engine, in the teacher's words."""

from __future__ import annotations

from dataclasses import dataclass, field

from benchmates.core.grouping.wishes import Wishes
from benchmates.core.lesson.plan import Lesson
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.history import History
from benchmates.core.roster.musts import Must
from benchmates.core.terms import PupilId, Seed


@dataclass(frozen=True)
class Request:
    """Make groups for every stage of this lesson with these pupils.

    Notes
    -----
    ``absent`` pupils sit nowhere and are left out of musts. ``seconds`` may only cut the search short; the number of
    steps is fixed by ``seed`` and size, so equal requests give equal groups. ``sizes`` are least and most instead of
    the way's own limits.
    """

    class_list: ClassList
    lesson: Lesson
    musts: tuple[Must, ...] = ()
    history: History = History()
    wishes: Wishes = field(default_factory=Wishes.usual)
    absent: frozenset[PupilId] = frozenset()
    seed: Seed = 1
    seconds: float = 10.0
    sizes: tuple[int, int] | None = None

    @property
    def present(self) -> ClassList:
        """The class less those who are away."""
        return self.class_list.without(self.absent)
