"""A class: pupils in the order of their list."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from benchmates.core.roster.pupil import Pupil
from benchmates.core.terms import PupilId


@dataclass(frozen=True)
class ClassList:
    """The pupils of one class, in list order, each with an id of its own."""

    pupils: tuple[Pupil, ...]

    def __post_init__(self) -> None:
        if len({p.id for p in self.pupils}) != len(self.pupils):
            raise ValueError("two pupils share an id")

    def __len__(self) -> int:
        return len(self.pupils)

    def __iter__(self) -> Iterator[Pupil]:
        return iter(self.pupils)

    @property
    def ids(self) -> tuple[PupilId, ...]:
        """The ids in list order."""
        return tuple(p.id for p in self.pupils)

    def pupil(self, id: PupilId) -> Pupil:
        """The pupil of this id; ``KeyError`` if there is none."""
        for pupil in self.pupils:
            if pupil.id == id:
                return pupil
        raise KeyError(id)

    def names(self) -> dict[PupilId, str]:
        """Display name by id."""
        return {p.id: p.name for p in self.pupils}

    def without(self, absent: frozenset[PupilId]) -> ClassList:
        """The same class less those who are away."""
        return ClassList(tuple(p for p in self.pupils if p.id not in absent))
