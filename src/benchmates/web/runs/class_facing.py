"""What the class may see, and nothing else: the wall view is built from these fields alone.

A list of what is allowed, not a list of what is hidden: a field added to pupils or plans later stays off the wall
until somebody writes it here.
"""

from __future__ import annotations

from dataclasses import dataclass

from benchmates.core.grouping.result import Group, StageGroups
from benchmates.core.strategy.relation import Relation
from benchmates.core.terms import PupilId, joined
from benchmates.drawing.tokens import token_of
from benchmates.web.runs.queries import Drawn


@dataclass(frozen=True)
class Place:
    """One pupil on the wall: display name and job."""

    name: str
    job: str


@dataclass(frozen=True)
class WallGroup:
    """One group on the wall: its label, what it is called aloud, where it sits."""

    label: str
    called: str
    where: str
    places: tuple[Place, ...]


@dataclass(frozen=True)
class Wall:
    """One stage on the wall. ``alone`` stages have a name and a place a pupil instead of groups."""

    name: str
    question: str
    product: str
    minutes: str
    until: str
    groups: tuple[WallGroup, ...]
    alone: tuple[Place, ...]
    what: str
    following: str
    is_rings: bool = False


def wall(drawn: Drawn, number: int) -> Wall:
    """Stage ``number`` of the groups, counted from 0."""
    assert drawn.plan is not None
    stage = drawn.plan.stages[number]
    own = drawn.lesson.way.stages[stage.source]
    slot = (
        next((s for s in drawn.times.slots if s.stage == number and s.kind != "move"), None)
        if drawn.times
        else None
    )
    singles = all(len(g.members) == 1 for g in stage.groups)
    shown = stage.relation not in (Relation.INDIVIDUAL, Relation.WHOLE)
    return Wall(
        name=stage.name,
        question=own.question,
        product=own.product,
        minutes=f"{slot.minutes:g}" if slot else "",
        until=drawn.clock(slot.start + slot.minutes) if slot and drawn.lesson.start else "",
        groups=tuple(_group(g, drawn.names) for g in stage.groups) if shown and not singles else (),
        alone=_alone(stage, drawn.names) if shown and singles else (),
        what=stage.relation.in_words,
        following=_following(drawn, number),
        is_rings=stage.relation is Relation.INNER_OUTER,
    )


def _group(group: Group, names: dict[PupilId, str]) -> WallGroup:
    token = token_of(group.label)
    part = group.label[1:] if token else ""
    bench = f"bench {group.bench}" if (group.bench or "").isdigit() else group.bench or ""
    return WallGroup(
        label=group.label,
        called=f"{token.shape} {part}".strip() if token else group.label,
        where=group.station or bench,
        places=tuple(Place(names[p], _job(group, p)) for p in group.members),
    )


def _job(group: Group, pupil: PupilId) -> str:
    led = joined(list(group.leads.get(pupil, ())))
    return ", ".join(filter(None, (group.roles.get(pupil, ""), f"leads {led}" if led else "")))


def _alone(stage: StageGroups, names: dict[PupilId, str]) -> tuple[Place, ...]:
    places = [(g.station or g.bench or "", g.members[0]) for g in stage.groups]
    words = {p: f"place {w}" if w.isdigit() else w for w, p in places}
    return tuple(
        sorted((Place(names[p], words[p]) for _, p in places), key=lambda place: place.name.casefold())
    )


def _following(drawn: Drawn, number: int) -> str:
    assert drawn.plan is not None
    if number + 1 >= len(drawn.plan.stages):
        return ""
    after = drawn.plan.stages[number + 1]
    return f"{after.name}, {after.relation.in_words}"
