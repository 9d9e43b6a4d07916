"""Does a finished plan hold? Worked out from the result alone, with nothing of the engine or of its checker.

The rules are those of the trade handbook, sections 2.1 and 2.2. Every function answers with plain sentences, one for
each thing that does not hold; none means that all holds.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import combinations, pairwise

import networkx as nx

from benchmates.core.grouping.result import Group, GroupPlan, StageGroups
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.way import Way

NO_MUSTS = (Relation.INDIVIDUAL, Relation.WHOLE, Relation.INNER_OUTER)
STATION = re.compile(r"(\d+)([a-l]?)")
NO_MUTUAL_FROM = (
    8  # with three visits, one place further each time, i and j can only both be visited in a class of six
)


def broken(plan: GroupPlan, way: Way, present: Sequence[str], musts: Sequence[Must] = ()) -> list[str]:
    """Everything that does not hold."""
    found = [
        f"{k + 1} {stage.name!r}: {words}"
        for k, stage in enumerate(plan.stages)
        for words in (
            *_people(stage, present),
            *_sizes(stage, way),
            *_relation(plan, k, way, musts),
            *_musts(stage, musts),
        )
    ]
    return [
        *found,
        *_one_each_time(plan),
        *_rings(plan),
        *_gallery(plan),
        *_carousel(plan, way),
        *_jigsaw(plan, musts),
    ]


# ---- people


def _people(stage: StageGroups, present: Sequence[str]) -> Iterator[str]:
    seated = [p for g in stage.groups for p in g.members]
    if sorted(seated) != sorted(present):
        yield f"{len(seated)} seats for {len(present)} present, {len(set(seated))} of them different"
    if again := [label for label, times in Counter(g.label for g in stage.groups).items() if times > 1]:
        yield f"labels used twice: {again}"
    for group in stage.groups:
        if not group.members:
            yield f"group {group.label} is empty"
        inside = set(group.members)
        for what in (group.roles, group.leads, group.artefact or {}):
            if not set(what) <= inside:
                yield f"group {group.label} gives roles, cards or papers to {set(what) - inside}"


def _sizes(stage: StageGroups, way: Way) -> Iterator[str]:
    size = way.stages[stage.source].size
    if (
        size is None
        or stage.relation not in (Relation.NEW, Relation.MERGE, Relation.CROSS)
        or way.stages[stage.source].by_part
    ):
        return
    for group in stage.groups:
        if not size.least <= len(group.members) <= size.most:
            yield f"group {group.label} has {len(group.members)}, not {size.least} to {size.most}"


# ---- relations


def _relation(plan: GroupPlan, k: int, way: Way, musts: Sequence[Must]) -> list[str]:
    stage = plan.stages[k]
    if stage.relation is Relation.INDIVIDUAL:
        return [f"group {g.label} is not one pupil" for g in stage.groups if len(g.members) != 1]
    if stage.relation is Relation.WHOLE:
        return [] if [g.label for g in stage.groups] == ["All"] else ["the class is not whole"]
    if stage.relation is Relation.NEW:
        return [f"{g.members} alone" for g in stage.groups if len(g.members) == 1]
    if stage.relation is Relation.INNER_OUTER:
        return [] if [g.label for g in stage.groups] == ["Inner ring", "Outer ring"] else ["no two rings"]
    if stage.of is None or not 0 <= stage.of < k:
        return ["follows nothing"]
    earlier = plan.stages[stage.of]
    match stage.relation:
        case Relation.SAME | Relation.RETURN:
            return _unchanged(stage, earlier)
        case Relation.ROTATE:
            return [*_unchanged(stage, earlier), *_moved_by_one(plan, k, way)]
        case Relation.MERGE:
            return _nested(earlier, stage)
        case Relation.SPLIT:
            return _nested(stage, earlier)
        case Relation.CROSS:
            return _crossed(stage, earlier, musts)
        case Relation.ONE_MOVES:
            return _one_moved(stage, earlier)
        case _:
            return _one_stayed(stage, earlier)


def _by_label(stage: StageGroups) -> dict[str, set[str]]:
    return {g.label: set(g.members) for g in stage.groups}


def _unchanged(stage: StageGroups, earlier: StageGroups) -> list[str]:
    return [] if _by_label(stage) == _by_label(earlier) else [f"not the groups of {earlier.name!r}"]


def _nested(inner: StageGroups, outer: StageGroups) -> list[str]:
    return [
        f"group {g.label} of {inner.name!r} lies in no one group of {outer.name!r}"
        for g in inner.groups
        if not any(set(g.members) <= set(o.members) for o in outer.groups)
    ]


def _one_moved(stage: StageGroups, earlier: StageGroups) -> list[str]:
    now, homes = _by_label(stage), _by_label(earlier)
    elsewhere = set(now) - set(homes)
    found = [] if len(elsewhere) <= 1 and set(homes) <= set(now) else [f"groups {set(now) ^ set(homes)}"]
    for label, home in homes.items():
        if len(home - now.get(label, set())) != 1:
            found.append(f"{len(home - now.get(label, set()))} left {label}, not one")
        if len(now.get(label, set()) - home) != (0 if elsewhere else 1):
            found.append(f"{len(now.get(label, set()) - home)} came to {label}")
    return found


def _one_stayed(stage: StageGroups, earlier: StageGroups) -> list[str]:
    now, homes = _by_label(stage), _by_label(earlier)
    found = [] if set(now) == set(homes) else ["not the same stalls"]
    for label, home in homes.items():
        if len(home & now.get(label, set())) != 1:
            found.append(f"{len(home & now.get(label, set()))} stayed at {label}, not one")
        goes_to = {other for other, there in now.items() if other != label and home & there}
        if len(goes_to) > 1:
            found.append(f"the rest of {label} are parted over {sorted(goes_to)}")
    return found


def _crossed(stage: StageGroups, earlier: StageGroups, musts: Sequence[Must]) -> list[str]:
    if musts:
        return []  # musts may force partners to meet again; how many is the checker's question
    again = sum(
        len(set(h.members) & set(g.members)) * (len(set(h.members) & set(g.members)) - 1) // 2
        for h in earlier.groups
        for g in stage.groups
    )
    least = least_repeats(
        tuple(sorted(len(g.members) for g in earlier.groups)),
        tuple(sorted(len(g.members) for g in stage.groups)),
    )
    return [] if again == least else [f"{again} pairs of earlier partners meet again, {least} would do"]


@lru_cache(maxsize=4096)
def least_repeats(homes: tuple[int, ...], groups: tuple[int, ...]) -> int:
    """The fewest pairs of partners who must meet again, by networkx's network simplex.

    From each home to each group run single arcs that cost 0, 1, 2, ... : the second pupil of a home in a group meets
    one earlier partner, the third meets two.
    """
    net = nx.MultiDiGraph()
    for h, size in enumerate(homes):
        net.add_node(("home", h), demand=-size)
        for g, places in enumerate(groups):
            for nth in range(min(size, places)):
                net.add_edge(("home", h), ("group", g), capacity=1, weight=nth)
    for g, places in enumerate(groups):
        net.add_node(("group", g), demand=places)
    return int(nx.network_simplex(net)[0])


# ---- what moves on by one


def _moved_by_one(plan: GroupPlan, k: int, way: Way) -> list[str]:
    stage = plan.stages[k]
    earlier = plan.stages[stage.of or 0]
    what = way.stages[stage.source].moves
    if what == "artefact":
        return [w for g in stage.groups for w in _paper(g, earlier.group_of(g.members[0]))]
    if what == "role":
        return [w for g in stage.groups for w in _role(g, earlier.group_of(g.members[0]))]
    if any(g.station is None for g in (*stage.groups, *earlier.groups)):
        return ["a group has no station"]
    return []  # which station when: _carousel and _gallery


def _paper(group: Group, before: Group) -> list[str]:
    """Each paper has gone to the next pupil round the table."""
    if group.artefact is None or set(group.artefact) != set(group.members):
        return [f"group {group.label}: not everyone holds a paper"]
    held = before.artefact or {p: p for p in before.members}
    order = before.members
    onward = {p: held[order[i - 1]] for i, p in enumerate(order)}
    return [] if dict(group.artefact) == onward else [f"group {group.label}: papers did not go on by one"]


def _role(group: Group, before: Group) -> list[str]:
    holders = [p for p in before.members if p in before.roles]
    onward = {p: before.roles[holders[i - 1]] for i, p in enumerate(holders)}
    return (
        []
        if dict(group.roles) == onward and holders
        else [f"group {group.label}: roles did not go on by one"]
    )


# ---- over several stages


def _one_each_time(plan: GroupPlan) -> Iterator[str]:
    """Threes that swap roles twice: each pupil has had each role. One who stays at the stall stays once."""
    for k, stage in enumerate(plan.stages):
        turns = [
            t
            for t in plan.stages
            if t.relation is Relation.ROTATE and t.of is not None and _root(plan, t.of) == k
        ]
        for group in stage.groups:
            if len(group.members) == 3 and len(turns) == 2 and group.roles and turns[0].groups[0].roles:
                for p in group.members:
                    held = [s.group_of(p).roles.get(p) for s in (stage, *turns)]
                    if len(set(held)) != 3 or None in held:
                        yield f"{p} holds {held} in turn"
    visits = [s for s in plan.stages if s.relation is Relation.ONE_STAYS]
    for first, second in combinations(visits, 2):
        homes = _by_label(plan.stages[_root(plan, first.of or 0)])
        for label, home in homes.items():
            if home & _by_label(first)[label] & _by_label(second)[label] and len(home) > 1:
                yield f"the same pupil stays at {label} twice"


def _root(plan: GroupPlan, k: int) -> int:
    stage = plan.stages[k]
    return (
        _root(plan, stage.of)
        if stage.of is not None and stage.relation in (Relation.ROTATE, Relation.SAME, Relation.RETURN)
        else k
    )


def _rings(plan: GroupPlan) -> Iterator[str]:
    rings = [set(s.groups[0].members) for s in plan.stages if s.relation is Relation.INNER_OUTER]
    for one, other in combinations(rings, 2):
        if one & other:
            yield f"{sorted(one & other)} sit in two inner rings"


def _gallery(plan: GroupPlan) -> Iterator[str]:
    """Nobody comments on their own work, each work gets as many comments, and no two pupils on each other's."""
    visits = [
        s for s in plan.stages if s.relation is Relation.ROTATE and all(len(g.members) == 1 for g in s.groups)
    ]
    if not visits:
        return
    start = plan.stages[_root(plan, visits[0].of or 0)]
    owner = {g.station: g.members[0] for g in start.groups}
    seen = [(g.members[0], owner.get(g.station)) for s in visits for g in s.groups]
    if len(owner) != len(start.groups) or any(whose is None for _, whose in seen):
        yield "a visit leads to nobody's work"
    if any(p == whose for p, whose in seen):
        yield "somebody comments on their own work"
    if len(set(seen)) != len(seen):
        yield "somebody comments on one work twice"
    if set(Counter(whose for _, whose in seen).values()) != {len(visits)}:
        yield "works get different numbers of comments"
    if len(start.groups) >= NO_MUTUAL_FROM and any((whose, p) in seen for p, whose in seen):
        yield "two pupils comment on each other's work"


def _carousel(plan: GroupPlan, way: Way) -> Iterator[str]:
    stages = [s for s in plan.stages if s.groups[0].station is not None and len(s.groups[0].members) > 1]
    been: dict[str, list[int]] = {}
    for stage in stages:
        places = [g.station for g in stage.groups]
        if len(set(places)) != len(places):
            yield f"two groups share a place in {stage.name!r}: {places}"
        for group in stage.groups:
            place = STATION.fullmatch(group.station or "")
            if place is None:
                yield f"no station in {stage.name!r}, group {group.label}: {group.station!r}"
            else:
                been.setdefault(group.label, []).append(int(place[1]))
    for label, route in been.items():
        if len(set(route)) != len(route):
            yield f"group {label} visits {route}"
        many = way.stations or len(been)
        if any((b - a) % many != 1 for a, b in pairwise(route)):
            yield f"group {label} does not go on by one: {route}"


def _jigsaw(plan: GroupPlan, musts: Sequence[Must]) -> Iterator[str]:
    """Every home with enough pupils covers every part, unless a must holds two of its pupils to one part."""
    experts = next((s for s in plan.stages if s.relation is Relation.CROSS and _has_parts(plan, s)), None)
    if experts is None or any(m.kind is not Kind.APART for m in musts):
        return
    part = {p: re.sub(r" [a-l]$", "", g.label) for g in experts.groups for p in g.members}
    parts = set(part.values())
    homes = plan.stages[_root(plan, experts.of or 0)]
    for home in homes.groups:
        if len(home.members) >= len(parts) and {part[p] for p in home.members} != parts:
            yield f"home {home.label} lacks {parts - {part[p] for p in home.members}}"
        if any(home.leads.get(p) != (part[p],) for p in home.members):
            yield f"home {home.label}: the cards are not the parts"


def _has_parts(plan: GroupPlan, stage: StageGroups) -> bool:
    return all(g.leads for g in plan.stages[_root(plan, stage.of or 0)].groups) and bool(
        stage.groups[0].leads
    )


# ---- musts


def _musts(stage: StageGroups, musts: Sequence[Must]) -> Iterator[str]:
    if stage.relation in NO_MUSTS or all(len(g.members) == 1 for g in stage.groups):
        return
    for must in musts:
        here = [p for g in stage.groups for p in g.members if p in must.pupils]
        groups = [stage.group_of(p) for p in here]
        labels = [g.label for g in groups]
        if must.kind is Kind.APART and len(set(labels)) != len(labels):
            yield f"{here} are to be apart and sit in {labels}"
        if must.kind is Kind.TOGETHER and len(set(labels)) > 1:
            yield f"{here} are to be together and sit in {labels}"
        if must.kind is Kind.FIXED and must.where and must.where.startswith("bench "):
            for p, group in zip(here, groups, strict=True):
                if group.bench != must.where.removeprefix("bench "):
                    yield f"{p} is fixed at {must.where} and sits at {group.bench}"
