"""From seats back to groups with names: who sits where, in which role, with which paper and which card."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from benchmates.core.grouping.fixed import Fixing
from benchmates.core.grouping.result import Group, StageGroups
from benchmates.core.grouping.rota import Rota, roles_for
from benchmates.core.grouping.search.numbers import Ints
from benchmates.core.grouping.seats import Layout, StageSeats
from benchmates.core.strategy.relation import Relation
from benchmates.core.terms import PupilId

INNER = "Inner ring"


def tidy(occ: Ints, layout: Layout) -> Ints:
    """Put pupils who share all their groups in list order; nothing else changes."""
    neat = occ.copy()
    for f in range(layout.seatings):
        stages = [s for s in layout.stages if s.seating == f]
        kinds: dict[tuple[object, ...], list[int]] = {}
        for seat in range(occ.shape[1]):
            mark = tuple((s.group_of[seat], seat in s.movers) for s in stages)
            kinds.setdefault(mark, []).append(seat)
        for seats in kinds.values():
            # In a gallery everyone is alone at every visit and the order itself is the plan.
            if not all(s.is_alone for s in stages):
                neat[f, seats] = np.sort(occ[f, seats])
    return neat


def arrange(
    occ: Ints, layout: Layout, fixing: Fixing, ids: Sequence[PupilId], rota: Rota
) -> tuple[StageGroups, ...]:
    """The groups of every stage. ``occ`` (F, n) holds the pupil on each seat."""
    stages: list[StageGroups] = []
    parts = _parts(occ, layout, ids)
    for k, seats in enumerate(layout.stages):
        by_group = [[ids[occ[seats.seating, s]] for s in group] for group in seats.groups]
        movers = {ids[occ[seats.seating, s]] for s in seats.movers}
        groups = [
            Group(
                label=label,
                members=tuple(members),
                bench=None if place is None or place >= len(fixing.benches) else fixing.benches[place],
                station=_station(layout, k, g),
                artefact=_artefact(seats, members),
                roles=_roles(stages, seats, members, movers, g, fixing, rota),
                leads=_leads(seats, members, parts.get(_homes(layout, seats)), rota),
            )
            for g, (label, place, members) in enumerate(
                zip(seats.labels, seats.places, by_group, strict=True)
            )
        ]
        if seats.planned.relation is Relation.INDIVIDUAL and not _is_gallery(layout, k):
            groups = _in_list_order(groups, ids)
        planned = seats.planned
        stages.append(
            StageGroups(
                planned.name, planned.relation, planned.of, tuple(groups), planned.source, planned.turn
            )
        )
    return tuple(stages)


def _in_list_order(groups: Sequence[Group], ids: Sequence[PupilId]) -> list[Group]:
    alone = {g.members[0]: g for g in groups}
    return [Group(str(k + 1), (p,), roles=alone[p].roles, leads=alone[p].leads) for k, p in enumerate(ids)]


def _is_gallery(layout: Layout, k: int) -> bool:
    return any(s.root == k and j != k for j, s in enumerate(layout.stages))


# ---- stations and papers


def _station(layout: Layout, k: int, group: int) -> str | None:
    """Where a group stands in a carousel, or whose work a pupil visits in a gallery (by place number)."""
    seats = layout.stages[k]
    rounds = [
        s.planned
        for s in layout.stages
        if s.root == seats.root
        and s.planned.relation is Relation.ROTATE
        and s.planned.stage.moves == "pupils"
    ]
    if not rounds or seats.planned.relation is Relation.RETURN:
        return str(group + 1) if rounds and seats.is_alone else None
    groups = len(seats.labels)
    stations = groups if seats.is_alone else (layout.shape.way.stations or groups)
    turn = 0 if seats.planned.relation is not Relation.ROTATE else _turns_before(layout, k) + 1
    number = (group % stations + turn * rounds[0].stage.step) % stations + 1
    copy = "abcdefghijkl"[group // stations] if groups > stations else ""
    return f"{number}{copy}"


def _turns_before(layout: Layout, k: int) -> int:
    root = layout.stages[k].root
    return sum(s.root == root and s.planned.relation is Relation.ROTATE for s in layout.stages[:k])


def _artefact(seats: StageSeats, members: Sequence[PupilId]) -> dict[PupilId, PupilId] | None:
    """Whose paper each member holds: after every turn, that of one neighbour further back."""
    if seats.planned.relation is not Relation.ROTATE or seats.planned.stage.moves != "artefact":
        return None
    passed = seats.planned.turn + 1
    return {p: members[(i - passed) % len(members)] for i, p in enumerate(members)}


# ---- roles and cards


def _roles(
    stages: Sequence[StageGroups],
    seats: StageSeats,
    members: Sequence[PupilId],
    movers: set[PupilId],
    group: int,
    fixing: Fixing,
    rota: Rota,
) -> dict[PupilId, str]:
    stage = seats.planned.stage
    if seats.planned.relation is Relation.ROTATE and stage.moves == "role" and seats.planned.of is not None:
        return _moved_on(stages[seats.planned.of].groups[group].roles, members)
    if not stage.roles:
        return {}
    if seats.planned.relation.one_goes:
        given = {p: stage.roles[0] for p in members if p in movers}
        rota.note(given)
        return given
    if seats.planned.relation is Relation.INNER_OUTER:
        return dict.fromkeys(members, stage.roles[group]) if group < len(stage.roles) else {}
    return rota.share(members, roles_for(len(members), stage.roles, stage.spare_role), fixing.roles)


def _moved_on(before: Mapping[PupilId, str], members: Sequence[PupilId]) -> dict[PupilId, str]:
    """Everyone takes the role that their left-hand neighbour had."""
    holders = [p for p in members if p in before]
    return {p: before[holders[i - 1]] for i, p in enumerate(holders)}


def _parts(occ: Ints, layout: Layout, ids: Sequence[PupilId]) -> dict[int, dict[PupilId, str]]:
    """For the homes of a jigsaw, the part each pupil is expert in, by the index of the home stage."""
    found: dict[int, dict[PupilId, str]] = {}
    for stage in layout.stages:
        if stage.planned.part and stage.planned.of is not None:
            homes = layout.stages[stage.planned.of].root
            words = _part_words(stage, layout.stages[homes])
            found[homes] = {
                ids[occ[stage.seating, seat]]: words[stage.planned.part[g]]
                for seat, g in enumerate(stage.group_of)
            }
    return found


def _homes(layout: Layout, seats: StageSeats) -> int:
    """The home stage of a jigsaw's expert groups; any other stage is its own."""
    if seats.planned.part and seats.planned.of is not None:
        return layout.stages[seats.planned.of].root
    return seats.root


def _part_words(experts: StageSeats, homes: StageSeats) -> list[str]:
    given = experts.planned.stage.parts or homes.planned.stage.parts
    return [given[p] if p < len(given) else f"Part {p + 1}" for p in range(max(experts.planned.part) + 1)]


def _leads(
    seats: StageSeats, members: Sequence[PupilId], parts: Mapping[PupilId, str] | None, rota: Rota
) -> dict[PupilId, tuple[str, ...]]:
    """Which question cards each member leads: their part in a jigsaw, else the cards shared out by rota."""
    if parts is not None:
        return {p: (parts[p],) for p in members}
    words = [c.word for c in seats.planned.stage.cards]
    if not words or len(members) < 2:
        return {}
    led: dict[PupilId, list[str]] = {}
    # A three takes the fourth card between them: the least busy member leads a second one (handbook 2.2, 15).
    for start in range(0, len(words), len(members)):
        for pupil, word in rota.share(members, words[start : start + len(members)], {}).items():
            led.setdefault(pupil, []).append(word)
    return {p: tuple(led[p]) for p in members if p in led}
