"""One pupil's lesson in words: time, place, partners and job. It is the text alternative of the drawing."""

from __future__ import annotations

import re

from benchmates.core.grouping.result import Group, StageGroups
from benchmates.core.terms import PupilId, joined
from benchmates.drawing.drawn import Drawing
from benchmates.drawing.scenes import Look, look_of, owner_of, visited
from benchmates.drawing.tokens import spoken

Step = tuple[str, str]


def follow_list(drawing: Drawing, pupil: PupilId) -> list[Step]:
    """What one pupil does: (clock time, sentence) for every stage of the way of working.

    Parts of the lesson in which the whole class does one thing, such as the register, are left out.
    """
    steps = []
    for slot in drawing.slots:
        stage = drawing.stage_of(slot)
        if stage is not None:
            told = _told(drawing, stage, pupil)
            said = (
                slot.name if told in slot.name.lower() else f"{slot.name}: {told}"
            )  # never "Sketch alone: alone"
            steps.append((drawing.clock(slot.start), said))
    return steps


def follow_data(drawing: Drawing) -> dict[str, dict[str, object]]:
    """Every pupil's name and steps by id, ready for JSON, so that a page can follow another thread by itself."""
    return {
        str(p): {"name": name, "steps": [list(step) for step in follow_list(drawing, p)]}
        for p, name in drawing.pupils
    }


def follow_options(drawing: Drawing) -> list[tuple[str, str]]:
    """(id, name) of every pupil, by name, for the select."""
    return sorted(((str(p), name) for p, name in drawing.pupils), key=lambda o: (o[1].casefold(), o[0]))


def _told(drawing: Drawing, stage: StageGroups, pupil: PupilId) -> str:
    group = stage.group_of(pupil)
    match look_of(stage):
        case Look.WHOLE:
            return "all together"
        case Look.ALONE:
            return "alone"
        case Look.RINGS:
            return _ring(stage, group, pupil)
        case Look.VISITS:
            return _visit(drawing, group)
    parts = [_place(drawing, stage, group, pupil)]
    partners = _names(drawing, tuple(p for p in group.members if p != pupil))
    parts.append(f" with {partners}" if partners else ", alone")
    owner = owner_of(group, pupil)
    if owner is not None:
        parts.append(f"; holds {drawing.names[owner]}'s paper")
    if pupil in group.roles:
        parts.append(f"; {group.roles[pupil]}")
    if group.leads.get(pupil):
        parts.append(f"; leads {joined(group.leads[pupil])}")
    return "".join(parts)


def _ring(stage: StageGroups, group: Group, pupil: PupilId) -> str:
    ring = "in the inner ring" if group is stage.groups[0] else "in the outer ring"
    return f"{ring}; {group.roles[pupil]}" if pupil in group.roles else ring


def _visit(drawing: Drawing, group: Group) -> str:
    target = visited(group)
    if target is None:
        return "alone, at your own work"
    owner = PupilId(target) if target in drawing.names else _owner_of_place(drawing, target)
    return f"at {drawing.names[owner]}'s work" if owner is not None else f"at place {target}"


def _owner_of_place(drawing: Drawing, place: str) -> PupilId | None:
    """Who sits at a numbered place when everyone is at their own work."""
    for stage in drawing.stages:
        if look_of(stage) is Look.ALONE:
            return next((g.members[0] for g in stage.groups if g.label == place), None)
    return None


def _place(drawing: Drawing, stage: StageGroups, group: Group, pupil: PupilId) -> str:
    """Where, and for envoys and stallholders whether they go or stay."""
    where = spoken(group.label)
    if group.station:
        where += f" at {_numbered('station', group.station)}"
    elif group.bench:
        where += f", {_numbered('bench', group.bench)}"
    if stage.relation.one_goes and stage.of is not None:
        home = drawing.stages[stage.of].group_of(pupil)
        return f"stays at {where}" if home.label == group.label else f"goes to {where}"
    return where


def _numbered(kind: str, place: str) -> str:
    """A bare number with its noun, "bench 3"; a place with a name of its own as it is."""
    return f"{kind} {place}" if re.fullmatch(r"\d+[a-z]?", place) else place


def _names(drawing: Drawing, pupils: tuple[PupilId, ...]) -> str:
    # A name and its letter stay on one line.
    return joined([drawing.names[p].replace(" ", "\u00a0") for p in pupils])
