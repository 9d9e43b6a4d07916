"""Fixed pupils: which seats a named bench, group or role leaves them, and how the benches are called.

Some pupils cannot be asked to move: their bench is settled first and the moves come to them (handbook 3.6). A pupil
fixed without a place keeps one bench through the whole lesson.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from benchmates.core.errors import CannotPlan
from benchmates.core.grouping.seats import Layout, StageSeats
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.strategy.relation import Relation
from benchmates.core.terms import PupilId, Told


@dataclass
class Fixing:
    """What the fixed musts come to on the seats of one layout.

    ``seats`` are the only seats left to a pupil in a seating; ``apart`` are pairs (with their stage) that one role
    cannot serve both of; ``roles`` are given by name; ``benches`` names every place.
    """

    benches: tuple[str, ...] = ()
    seats: dict[tuple[int, PupilId], frozenset[int]] = field(default_factory=dict)
    apart: list[tuple[int, PupilId, PupilId]] = field(default_factory=list)
    stay: list[PupilId] = field(default_factory=list)
    roles: dict[PupilId, list[str]] = field(default_factory=dict)
    told: list[Told] = field(default_factory=list)

    def only(self, seating: int, pupil: PupilId, seats: frozenset[int]) -> None:
        """Leave the pupil no more than these seats."""
        known = self.seats.get((seating, pupil))
        self.seats[seating, pupil] = seats if known is None else known & seats


def settle(musts: Sequence[Must], layout: Layout, present: ClassList) -> Fixing:
    """Turn every ``fixed`` must into seats, roles and bench names.

    Raises
    ------
    CannotPlan
        A group or role that no stage of this lesson has.
    """
    fixed = [(m, p) for m in musts if m.kind is Kind.FIXED for p in m.pupils]
    fixing = Fixing(benches=_bench_names([_bench_of(m, p, layout, present) for m, p in fixed], layout))
    for must, pupil in fixed:
        name = present.pupil(pupil).name
        kind, what = _place(must, pupil, layout, present)
        if kind == "role":
            _fix_role(fixing, layout, pupil, what, name)
        elif kind == "group":
            _fix_group(fixing, layout, pupil, what, name)
        elif kind == "bench" and not fixing.benches:
            fixing.told.append(
                Told(
                    f"{name} keeps a bench, and here pupils go round on their own: bring the work to {name}."
                )
            )
        elif kind == "bench":
            _fix_bench(fixing, layout, pupil, _place_of(what, name, fixing))
        else:
            fixing.stay.append(pupil)
        if any(
            s.planned.relation is Relation.ROTATE and s.planned.stage.moves == "pupils" for s in layout.stages
        ):
            fixing.told.append(
                Told(f"{name} keeps one place: bring each station to that bench when the groups move on.")
            )
    _part_same_roles(fixing, layout)
    return fixing


def anchored_groups(
    fixing: Fixing, musts: Sequence[Must], layout: Layout, present: ClassList
) -> frozenset[int]:
    """Groups at whose bench a pupil is fixed while all but one are to move on."""
    if not any(s.planned.relation is Relation.ONE_STAYS for s in layout.stages):
        return frozenset()
    wanted = {_bench_of(m, p, layout, present) for m in musts if m.kind is Kind.FIXED for p in m.pupils}
    return frozenset(k for k, bench in enumerate(fixing.benches) if bench in wanted)


# ---- reading a place


def _place(must: Must, pupil: PupilId, layout: Layout, present: ClassList) -> tuple[str, str]:
    """("role" | "group" | "bench" | "stay", its name) from what the teacher wrote."""
    where = (must.where or "").strip()
    if not where:
        bench = present.pupil(pupil).bench
        return ("bench", bench) if bench else ("stay", "")
    first, _, rest = where.replace(":", " ").replace("=", " ").partition(" ")
    if first.casefold() in ("bench", "group", "role") and rest.strip():
        return first.casefold(), rest.strip()
    if where.casefold() in {r.casefold() for r in _roles(layout)}:
        return "role", where
    if where.casefold() in {label.casefold() for s in layout.stages for label in s.labels if s.keeps_musts}:
        return "group", where
    return "bench", where


def _roles(layout: Layout) -> set[str]:
    return {r for s in layout.stages for r in (*s.planned.stage.roles, s.planned.stage.spare_role) if r}


def _bench_of(must: Must, pupil: PupilId, layout: Layout, present: ClassList) -> str | None:
    kind, what = _place(must, pupil, layout, present)
    return what if kind == "bench" else None


def _bench_names(wanted: Sequence[str | None], layout: Layout) -> tuple[str, ...]:
    """A name for every place: numbers, except where a pupil is fixed to a bench with a name of its own.

    A bench that is asked for has to exist in every stage, so it takes a place that every stage has.
    """
    counts = [
        1 + max((p for p in s.places if p is not None), default=-1) for s in layout.stages if s.keeps_musts
    ]
    most, every = max(counts, default=0), min(counts, default=0)
    names: list[str | None] = [None] * most
    for bench in dict.fromkeys(b for b in wanted if b):
        own = int(bench) - 1 if bench.isdecimal() else -1
        free = [k for k in range(most) if names[k] is None]
        if not free:
            break
        within = [k for k in free if k < every] or free
        names[own if own in within else within[-1]] = bench
    numbers = iter(str(k) for k in range(1, 2 * most + 2) if str(k) not in names)
    return tuple(name or next(numbers) for name in names)


# ---- from a place to seats


def _place_of(bench: str, name: str, fixing: Fixing) -> int:
    if bench not in fixing.benches:
        raise CannotPlan(
            f"{name} is to stay at bench {bench}, but there are more benches named than groups.",
            f"There are {len(fixing.benches)} groups; name fewer benches.",
        )
    return fixing.benches.index(bench)


def _fix_bench(fixing: Fixing, layout: Layout, pupil: PupilId, place: int) -> None:
    for seating in range(layout.seatings):
        stages = [s for s in layout.stages if s.seating == seating and s.keeps_musts]
        if stages:
            fixing.only(seating, pupil, _seats_where(stages, lambda s, group: s.places[group] == place))


def _fix_group(fixing: Fixing, layout: Layout, pupil: PupilId, label: str, name: str) -> None:
    if not any(s.keeps_musts for s in layout.stages):
        fixing.told.append(
            Told(f"{name} is fixed in group {label}; this lesson has no groups to be fixed in.", met=False)
        )
        return
    with_label = [s for s in layout.stages if s.keeps_musts and any(_is_in(g, label) for g in s.labels)]
    if not with_label:
        raise CannotPlan(
            f"{name} is to stay in group {label}, but no stage has a group {label}.",
            "Name a group that exists, or a bench.",
        )
    for seating in {s.seating for s in with_label}:
        stages = [s for s in with_label if s.seating == seating]
        fixing.only(seating, pupil, _seats_where(stages, lambda s, group: _is_in(s.labels[group], label)))


def _is_in(group: str, label: str) -> bool:
    """Whether a group is the one named or a part of it: "A1" and "A1a" lie in "A"."""
    rest = group.casefold().removeprefix(label.casefold())
    return group.casefold().startswith(label.casefold()) and (not rest or (len(label) < 3 and len(rest) < 3))


def _seats_where(stages: Sequence[StageSeats], fits: Callable[[StageSeats, int], bool]) -> frozenset[int]:
    return frozenset(
        seat for seat in range(len(stages[0].group_of)) if all(fits(s, s.group_of[seat]) for s in stages)
    )


def _fix_role(fixing: Fixing, layout: Layout, pupil: PupilId, role: str, name: str) -> None:
    known = {r.casefold(): r for r in _roles(layout)}
    if role.casefold() not in known:
        # A class keeps its musts over many lessons; a role that nobody has today breaks none of them.
        fixing.told.append(
            Told(f"{name} is fixed as {role}; no stage of this lesson has that role.", met=False)
        )
        return
    role = known[role.casefold()]
    fixing.roles.setdefault(pupil, []).append(role)
    for stage in layout.stages:
        if stage.planned.relation.one_goes and role in stage.planned.stage.roles[:1]:
            fixing.only(stage.seating, pupil, stage.movers)
        elif role in stage.planned.stage.roles and _turns_roles(stage):
            fixing.told.append(
                Told(
                    f"Roles go round in “{stage.planned.name}”, so {name} is {role} in one turn of it only.",
                    met=False,
                )
            )


def _turns_roles(stage: StageSeats) -> bool:
    return stage.planned.relation is Relation.ROTATE and stage.planned.stage.moves == "role"


def _part_same_roles(fixing: Fixing, layout: Layout) -> None:
    """Two pupils fixed to one role that a group has once must sit in different groups."""
    for a, b in combinations(fixing.roles, 2):
        for role in set(fixing.roles[a]) & set(fixing.roles[b]):
            for stage in layout.stages:
                if stage.planned.stage.roles.count(role) == 1 and not stage.planned.relation.one_goes:
                    fixing.apart.append((stage.root, a, b))
