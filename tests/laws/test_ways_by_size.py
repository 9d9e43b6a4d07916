"""Every way of working, at every class size: groups in which all holds, or a reason.

What holds is worked out twice: by ``tests/laws/relations.py`` and by the project's own checker, which share no code.
"""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from benchmates.core.errors import CannotGroup, CannotPlan
from benchmates.core.grouping.checking import faults_in
from benchmates.core.grouping.make import make_groups
from benchmates.core.grouping.request import Request
from benchmates.core.roster.history import History
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.strategy.catalogue import way, ways
from benchmates.core.terms import PupilId
from tests.invented import full_class, ids, in_fours, lesson_in
from tests.laws.relations import broken, least_repeats

KEYS = [w.key for w in ways()]
SIZES = range(8, 37)
SECONDS = 0.3


def faults(request: Request) -> list[str]:
    """Everything found by either side; none where the engine gives a reason instead of groups."""
    try:
        plan = make_groups(request)
    except (CannotPlan, CannotGroup) as refused:
        return [] if refused.told and all(t.strip() for t in refused.told) else ["refused without a reason"]
    checked = faults_in(
        plan,
        request.class_list,
        musts=request.musts,
        history=request.history,
        wishes=request.wishes,
        adults=request.lesson.adults,
        absent=request.absent,
        lesson=request.lesson,
    )
    own = broken(plan, request.lesson.way, request.present.ids, request.musts)
    return [*own, *(f"checker: {fault}" for fault in checked)]


# Every way with a third of the sizes, each size with a third of the ways; the whole table is `make bench-full`.
SAMPLE = [(key, n) for (k, key), n in product(enumerate(KEYS), SIZES) if (k + n) % 3 == 0]


@pytest.mark.parametrize("key", KEYS)
def test_every_stage_holds_or_there_is_a_reason(key: str) -> None:
    for pupils in [n for k, n in SAMPLE if k == key]:
        seed = 1 + pupils % 3
        request = Request(
            full_class(pupils, seed),
            lesson_in(way(key)),
            history=in_fours(pupils, 2, seed),
            seed=seed,
            seconds=SECONDS,
        )
        assert faults(request) == [], (key, pupils, seed)


@st.composite
def requests(draw: st.DrawFn) -> Request:
    """A class with musts, a history, somebody away; few enough musts that most can be had."""
    pupils = draw(st.integers(8, 36))
    everyone = ids(pupils)
    seed = draw(st.integers(1, 10_000))
    pairs = st.lists(st.sampled_from(everyone), min_size=2, max_size=2, unique=True).map(tuple)
    kinds = [Must(Kind.APART, p) for p in draw(st.lists(pairs, max_size=4))]
    kinds += [Must(Kind.TOGETHER, p) for p in draw(st.lists(pairs, max_size=2))]
    if draw(st.booleans()):
        bench = draw(st.integers(1, 3))
        kinds.append(Must(Kind.FIXED, (draw(st.sampled_from(everyone)),), where=f"bench {bench}"))
    away = draw(st.sets(st.sampled_from(everyone), max_size=2))
    history = in_fours(pupils, draw(st.integers(1, 8)), seed) if draw(st.booleans()) else History()
    return Request(
        full_class(pupils, seed),
        lesson_in(way(draw(st.sampled_from(KEYS)))),
        musts=tuple(kinds),
        history=history,
        absent=frozenset(away),
        seed=seed,
        seconds=SECONDS,
    )


def told(request: Request) -> str:
    """A request as one would type it again."""
    musts = [(m.kind.value, *m.pupils, m.where) for m in request.musts]
    away = sorted(request.absent)
    return f"{request.lesson.way.key}, {len(request.class_list)} pupils, seed {request.seed}, {musts}, away {away}"


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(requests())
def test_musts_hold_in_every_stage_of_every_way(request: Request) -> None:
    assert faults(request) == [], told(request)


def test_the_fewest_repeats_of_a_cross_agree_with_trying_every_table() -> None:
    """The network's figure is itself held to complete search on small tables."""

    def tables(rows: tuple[int, ...], columns: tuple[int, ...]):
        if not rows:
            yield ()
            return
        for first in product(*(range(min(rows[0], c) + 1) for c in columns)):
            if sum(first) == rows[0]:
                for rest in tables(rows[1:], tuple(c - x for c, x in zip(columns, first, strict=True))):
                    yield (first, *rest)

    for homes, groups in [
        ((2, 3), (2, 3)),
        ((3, 3, 3), (4, 5)),
        ((4, 4), (4, 4)),
        ((2, 2, 4), (3, 5)),
        ((5, 4), (3, 3, 3)),
    ]:
        costs = [
            sum(x * (x - 1) // 2 for row in t for x in row)
            for t in tables(homes, groups)
            if all(sum(c) == g for c, g in zip(zip(*t, strict=True), groups, strict=True))
        ]
        assert least_repeats(homes, groups) == min(costs)


def test_a_slip_in_any_stage_is_found() -> None:
    """The laws themselves bite: two pupils of different groups change places in one stage."""
    from dataclasses import replace

    for key in ("snowball", "rainbow-groups", "envoys", "market-place", "role-cards"):
        w = way(key)
        plan = make_groups(Request(full_class(24), lesson_in(w), seconds=SECONDS))
        k = max(j for j, s in enumerate(plan.stages) if s.of is not None and len(s.groups) > 1)
        stage = plan.stages[k]
        one, other = stage.groups[0], stage.groups[1]
        a, b = one.members[0], other.members[0]
        swapped = (
            replace(one, members=tuple(b if p == a else p for p in one.members)),
            replace(other, members=tuple(a if p == b else p for p in other.members)),
        )
        stages = list(plan.stages)
        stages[k] = replace(stage, groups=(*swapped, *stage.groups[2:]))
        assert broken(replace(plan, stages=tuple(stages)), w, [PupilId(p) for p in plan.present]), key
