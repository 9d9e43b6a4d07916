"""Two other ways to make the same groups, to hold the search against in the same run on the same machine."""

from __future__ import annotations

import math
import random
import time
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from scipy.optimize import LinearConstraint, milp
from scipy.sparse import coo_array

from benchmates.core.grouping.cost import compromise
from benchmates.core.grouping.holding import musts_broken
from benchmates.core.grouping.request import Request
from benchmates.core.grouping.result import Group, StageGroups
from benchmates.core.grouping.seats import Layout, lay_out
from benchmates.core.roster.musts import Kind
from benchmates.core.strategy.shape import plan_shape

BROKEN = 100_000
MEETS_AGAIN = 300


@dataclass(frozen=True)
class Other:
    """What another method came to: compromise (None: no groups), a bound where it gives one, seconds."""

    total: int | None
    seconds: float
    bound: float | None = None
    steps: int = 0


def annealed(request: Request, seconds: float) -> Other:
    """Swap two pupils at a time, every plan weighed anew by the plain-Python referee, for so many seconds."""
    layout = lay_out(plan_shape(request.lesson.way, len(request.present)))
    chance = random.Random(request.seed)
    ids = list(request.present.ids)
    seatings = [chance.sample(ids, len(ids)) for _ in range(layout.seatings)]
    meetings = request.history.meetings(ids)

    def weigh() -> tuple[int, int]:
        stages = _stages(layout, seatings)
        total = compromise(stages, present=request.present, meetings=meetings, wishes=request.wishes).total
        broken = BROKEN * len(musts_broken(stages, request.musts, adults=request.lesson.adults))
        return total + broken + MEETS_AGAIN * _meet_again(layout, seatings), total

    began = time.perf_counter()
    now, _ = weigh()
    best, steps = (now, None), 0
    while (share := (time.perf_counter() - began) / max(seconds, 1e-9)) < 1:
        heat = 30 * (1.5 / 30) ** share
        a, b = chance.sample(range(len(ids)), 2)
        row = chance.choice(seatings)
        row[a], row[b] = row[b], row[a]
        then, total = weigh()
        steps += 1
        if then <= now or chance.random() < math.exp((now - then) / heat):
            now = then
            if now < best[0] or best[1] is None:
                best = (now, total)
        else:
            row[a], row[b] = row[b], row[a]
    valid = best[0] < BROKEN and best[0] == best[1]
    return Other(best[1] if valid else None, time.perf_counter() - began, steps=steps)


def _stages(layout: Layout, seatings: Sequence[Sequence[str]]) -> tuple[StageGroups, ...]:
    return tuple(
        StageGroups(
            s.planned.name,
            s.planned.relation,
            s.planned.of,
            tuple(
                Group(label, tuple(seatings[s.seating][seat] for seat in seats))
                for label, seats in zip(s.labels, s.groups, strict=True)
            ),
            s.planned.source,
        )
        for s in layout.stages
    )


def _meet_again(layout: Layout, seatings: Sequence[Sequence[str]]) -> int:
    """Partners that a cross should have parted and did not, in pairs."""
    again = 0
    for crossing in layout.crossings:
        earlier = layout.stages[crossing.earlier]
        home = {seatings[earlier.seating][s]: g for s, g in enumerate(earlier.group_of)}
        cells: dict[tuple[int, int], int] = {}
        for seat, group in enumerate(crossing.apart_in):
            cell = (home[seatings[crossing.seating][seat]], group)
            cells[cell] = cells.get(cell, 0) + 1
        again += sum(x * (x - 1) // 2 for x in cells.values())
    return again


# ---- the assignment model, by a general solver


def solved(request: Request, sizes: Sequence[int], seconds: float) -> Other:
    """One new stage as an assignment of pupils to groups, by scipy's milp (HiGHS)."""
    model = _Model(request, sizes)
    began = time.perf_counter()
    found = milp(
        np.array(model.cost, float),
        constraints=model.constraints(),
        integrality=np.array(model.whole),
        bounds=(0, np.array(model.upper, float)),
        options={"time_limit": seconds},
    )
    spent = time.perf_counter() - began
    total = None if found.x is None else round(float(found.fun))
    return Other(total, spent, bound=found.mip_dual_bound)


class _Model:
    """Variables and rows, built one wish at a time. x(p, g) is the first block."""

    def __init__(self, request: Request, sizes: Sequence[int]) -> None:
        if any(m.kind is not Kind.APART for m in request.musts):
            raise ValueError("this model knows apart pairs only")
        self.request, self.sizes = request, sizes
        self.people = list(request.present)
        self.cost: list[float] = []
        self.whole: list[int] = []
        self.upper: list[float] = []
        self.rows: list[tuple[dict[int, float], float, float]] = []
        self.number = {p.id: k for k, p in enumerate(self.people)}
        self.x = [[self._new(0, 1, whole=1) for _ in sizes] for _ in self.people]
        self._assign()
        self._wishes()

    def _new(self, cost: float, upper: float = np.inf, *, whole: int = 0) -> int:
        self.cost.append(cost)
        self.whole.append(whole)
        self.upper.append(upper)
        return len(self.cost) - 1

    def _assign(self) -> None:
        for row in self.x:
            self.rows.append((dict.fromkeys(row, 1.0), 1, 1))
        for g, size in enumerate(self.sizes):
            self.rows.append(({row[g]: 1.0 for row in self.x}, size, size))
            for must in self.request.musts:
                for a, b in combinations([self.number[p] for p in must.pupils], 2):
                    self.rows.append(({self.x[a][g]: 1.0, self.x[b][g]: 1.0}, 0, 1))

    def _wishes(self) -> None:
        weight = {
            w: self.request.wishes.weight(w, "Groups")
            for w in ("new_partners", "attainment", "gender", "works_well")
        }
        values = [p.attainment for p in self.people if p.attainment is not None]
        mean = int(sum(values) / len(values) + 0.5)
        two = sorted({p.gender for p in self.people if p.gender})
        met = self.request.history.meetings(self.request.present.ids)
        without = {p.id: self._new(weight["works_well"]) for p in self.people}
        for g in range(len(self.sizes)):
            at = [row[g] for row in self.x]
            for (a, b), times in met.items():
                both = self._new(weight["new_partners"] * times)
                self.rows.append(({at[self.number[a]]: 1, at[self.number[b]]: 1, both: -1}, -np.inf, 1))
            self._within(
                {x: p.attainment - mean for x, p in zip(at, self.people, strict=True)},
                weight["attainment"],
                0,
            )
            if len(two) == 2:
                sides = {x: 1 if p.gender == two[0] else -1 for x, p in zip(at, self.people, strict=True)}
                self._within(sides, weight["gender"], 1)
            for p in self.people:
                friends = {at[self.number[f]]: -1.0 for f in p.works_well_with}
                self.rows.append(({at[self.number[p.id]]: 1, without[p.id]: -1, **friends}, -np.inf, 0))

    def _within(self, amounts: dict[int, float], weight: float, free: float) -> None:
        over = self._new(weight)
        for sign in (1, -1):
            self.rows.append(({**{x: sign * a for x, a in amounts.items()}, over: -1}, -np.inf, free))

    def constraints(self) -> LinearConstraint:
        entries = [(r, c, v) for r, (row, _, _) in enumerate(self.rows) for c, v in row.items()]
        rows, columns, values = zip(*entries, strict=True)
        matrix = coo_array((values, (rows, columns)), shape=(len(self.rows), len(self.cost)))
        return LinearConstraint(matrix.tocsr(), [r[1] for r in self.rows], [r[2] for r in self.rows])
