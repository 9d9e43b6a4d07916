"""Cuts a drawing into scenes: stretches in which everyone keeps their place."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto

from benchmates.core.grouping.result import Group, StageGroups
from benchmates.core.strategy.relation import Relation
from benchmates.core.terms import PupilId
from benchmates.drawing.drawn import Drawing


class Look(Enum):
    """How a scene is drawn."""

    WHOLE = auto()
    ALONE = auto()
    PAIRS = auto()
    GROUPS = auto()
    RINGS = auto()
    VISITS = auto()  # single pupils at each other's work
    STATIONS = auto()


@dataclass(frozen=True)
class Scene:
    """One stretch, in minutes from the bell. ``stage`` is None when the whole class is together."""

    start: float
    end: float
    stage: StageGroups | None
    look: Look

    @property
    def groups(self) -> tuple[Group, ...]:
        """The groups that get a sleeve."""
        if self.stage is None or self.look in (Look.WHOLE, Look.ALONE, Look.VISITS):
            return ()
        return self.stage.groups


def scenes(drawing: Drawing) -> list[Scene]:
    """The scenes in order; moves are the gaps between them, and whole-class slots in a row are one scene."""
    made: list[Scene] = []
    for slot in drawing.slots:
        if slot.is_move:
            continue
        stage = drawing.stage_of(slot)
        look = look_of(stage)
        if look is Look.WHOLE:
            stage = None
        if made and look is Look.WHOLE and made[-1].look is Look.WHOLE and slot.start - made[-1].end < 0.01:
            made[-1] = Scene(made[-1].start, slot.end, None, look)
        else:
            made.append(Scene(slot.start, slot.end, stage, look))
    return made


def look_of(stage: StageGroups | None) -> Look:
    """How a stage is drawn. Papers that move leave the pupils in their places."""
    if stage is None or stage.relation is Relation.WHOLE:
        return Look.WHOLE
    if stage.relation is Relation.INNER_OUTER:
        return Look.RINGS
    if all(len(g.members) == 1 for g in stage.groups):
        return Look.VISITS if any(visited(g) for g in stage.groups) else Look.ALONE
    if any(g.station for g in stage.groups):
        return Look.STATIONS
    pupils = sum(len(g.members) for g in stage.groups)
    return Look.PAIRS if pupils / len(stage.groups) < 2.6 else Look.GROUPS


def visited(group: Group) -> str | None:
    """Whose work, or which place, a group of one has gone to; None when the pupil stays."""
    if len(group.members) != 1:
        return None
    owner = owner_of(group, group.members[0])
    if owner is not None:
        return owner
    return (
        None if group.station == group.label else group.station
    )  # a place of one's own bears one's own number


def owner_of(group: Group, pupil: PupilId) -> PupilId | None:
    """Whose paper a pupil holds or looks at; None for their own, or when nothing moves."""
    owner = None if group.artefact is None else group.artefact.get(pupil)
    return None if owner == pupil else owner
