"""Random lessons for the laws of drawing: any chain of stages over any class of 2 to 36."""

from __future__ import annotations

import functools
import operator

from hypothesis import strategies as st

from benchmates.core.grouping.result import StageGroups
from benchmates.core.strategy.relation import Relation
from benchmates.drawing.drawn import Drawing
from tests.drawing.lessons import (
    FRAME,
    NINE,
    Row,
    Seats,
    cut,
    individual,
    letters,
    on_the_clock,
    pupils,
    stage,
)


@st.composite
def partitions(draw: st.DrawFn, order: list[int]) -> Seats:
    sizes = []
    left = len(order)
    while left:
        size = draw(st.integers(1, min(left, 6)))
        sizes.append(size)
        left -= size
    return cut(order, sizes)


@st.composite
def nested(draw: st.DrawFn) -> Drawing:
    """Groups that only ever merge: alone or small, then larger, then all together."""
    n = draw(st.integers(2, 36))
    now = draw(partitions(draw(st.permutations(range(n)))))
    stages = [stage("Small", Relation.NEW, now, [f"{k + 1}" for k in range(len(now))])]
    while len(now) > 1 and len(stages) < 5:
        ends = sorted({*draw(st.sets(st.integers(1, len(now) - 1), max_size=len(now) - 1)), len(now)})
        now = [functools.reduce(operator.iadd, now[a:b], []) for a, b in zip([0, *ends], ends, strict=False)]
        labels = (
            [f"{chr(65 + k)}" for k in range(len(now))]
            if len(now) < 26
            else [str(k) for k in range(len(now))]
        )
        stages.append(
            stage(f"Merge {len(stages)}", Relation.MERGE, now, labels, of=len(stages) - 1, source=len(stages))
        )
    return _drawing(draw, n, stages)


@st.composite
def any_lesson(draw: st.DrawFn) -> Drawing:
    """Every relation in any order, whether or not it makes a good lesson."""
    n = draw(st.integers(2, 36))
    stages: list[StageGroups] = []
    for k in range(draw(st.integers(1, 9))):
        stages.append(_any_stage(draw, n, k, stages))
    return _drawing(draw, n, stages)


def _any_stage(draw: st.DrawFn, n: int, k: int, before: list[StageGroups]) -> StageGroups:
    relation = draw(st.sampled_from(list(Relation)))
    order = draw(st.permutations(range(n)))
    of = draw(st.integers(0, k - 1)) if k else None
    match relation:
        case Relation.INDIVIDUAL:
            return individual("On your own", n, source=k)
        case Relation.WHOLE:
            return stage("All", relation, [order], ["All"], source=k)
        case Relation.INNER_OUTER:
            inner = draw(st.integers(1, n - 1))
            return stage(
                "Rings", relation, [order[:inner], order[inner:]], ["Inner ring", "Outer ring"], source=k
            )
        case Relation.ROTATE if draw(st.booleans()):
            works = dict(zip(range(n), draw(st.permutations(range(n))), strict=True))
            return stage("Visit", relation, [[p] for p in range(n)], [str(p + 1) for p in range(n)], of=of, source=k,
                         artefact=works)  # fmt: skip
    seats = draw(partitions(order))
    stations = [f"Place {draw(st.integers(1, 4))}" for _ in seats] if relation is Relation.ROTATE else None
    return stage(f"Stage {k}", relation, seats, letters(len(seats)), of=of, source=k, stations=stations)


def _drawing(draw: st.DrawFn, n: int, stages: list[StageGroups]) -> Drawing:
    rows: list[Row] = list(FRAME) if draw(st.booleans()) else []
    for k, s in enumerate(stages):
        if k and draw(st.booleans()):
            rows.append(("Move", draw(st.sampled_from([0.5, 1, 2])), "move", k, False))
        rows.append((s.name, draw(st.sampled_from([1, 2, 3, 5, 8, 15])), "stage", k, False))
    return Drawing(pupils(n), on_the_clock(rows), tuple(stages), draw(st.sampled_from([None, NINE])))
