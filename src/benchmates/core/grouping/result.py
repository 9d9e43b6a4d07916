"""What making groups gives back: the groups of every stage, what they cost, and how sure we are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from benchmates.core.strategy.relation import Relation
from benchmates.core.terms import PupilId, Seed, Told, as_told

FORMAT = 1


@dataclass(frozen=True)
class Group:
    """One group in one stage.

    ``label`` stays with its home place. ``station`` is set where groups move between stations. ``artefact`` maps each
    member to the pupil whose paper they hold, where papers move. ``roles`` maps member to role; ``leads`` maps member
    to the words of the question cards they lead.
    """

    label: str
    members: tuple[PupilId, ...]
    bench: str | None = None
    station: str | None = None
    artefact: Mapping[PupilId, PupilId] | None = None
    roles: Mapping[PupilId, str] = field(default_factory=dict)
    leads: Mapping[PupilId, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True)
class StageGroups:
    """The groups of one stage. ``source`` is the index of the way's stage that this one (or this turn) comes from."""

    name: str
    relation: Relation
    of: int | None
    groups: tuple[Group, ...]
    source: int
    turn: int = 0

    def group_of(self, pupil: PupilId) -> Group:
        """The group in which this pupil sits; ``KeyError`` if none."""
        for group in self.groups:
            if pupil in group.members:
                return group
        raise KeyError(pupil)


@dataclass(frozen=True)
class Compromise:
    """What the wishes cost: whole numbers, by wish and by stage; ``total`` is their sum."""

    by_stage: tuple[Mapping[str, int], ...]

    @property
    def by_wish(self) -> dict[str, int]:
        """Sum over stages, by wish, in the order of the first stage."""
        sums: dict[str, int] = {}
        for stage in self.by_stage:
            for wish, cost in stage.items():
                sums[wish] = sums.get(wish, 0) + cost
        return sums

    @property
    def total(self) -> int:
        """Sum over stages and wishes."""
        return sum(self.by_wish.values())


@dataclass(frozen=True)
class Repeat:
    """A pair together again in a stage: ``before`` meetings in lessons that ended, ``today`` earlier in this one."""

    pupils: tuple[PupilId, PupilId]
    stage: int
    before: int
    today: int


@dataclass(frozen=True)
class GroupPlan:
    """Groups for every stage of one lesson.

    ``told`` holds plain sentences, ``unmet`` which of them (from 0) tell of something that could not be had.
    """

    way: str
    seed: Seed
    present: tuple[PupilId, ...]
    stages: tuple[StageGroups, ...]
    compromise: Compromise
    bound: int
    proved: bool
    certificate: Mapping[str, object] | None
    stopped_because: str
    seconds: float
    repeats: tuple[Repeat, ...]
    told: tuple[str, ...]
    unmet: tuple[int, ...] = ()

    @property
    def sentences(self) -> tuple[Told, ...]:
        """What was achieved and what was not, each with which of the two it is."""
        return as_told(self.told, self.unmet)
