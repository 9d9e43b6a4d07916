"""A request in whole numbers: what the search and the exact side see, without names.

Pupils are numbered in list order, seats and groups from 0. Only stages in which wishes or musts mean anything are
kept; ``tracked`` lists them by their index in the layout.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

import numpy as np

from benchmates.core.grouping.cost import mean_attainment, two_genders
from benchmates.core.grouping.fixed import Fixing
from benchmates.core.grouping.request import Request
from benchmates.core.grouping.search.numbers import Flags, Ints, Numbers
from benchmates.core.grouping.seats import Layout
from benchmates.core.grouping.wishes import NAMES
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.terms import PupilId


@dataclass(frozen=True)
class Problem:
    """The numbers with what it takes to read a seating back."""

    numbers: Numbers
    layout: Layout
    tracked: tuple[int, ...]
    ids: tuple[PupilId, ...]


def set_up(request: Request, layout: Layout, fixing: Fixing, musts: Sequence[Must]) -> Problem:
    """Put a request into numbers; ``musts`` are those between pupils who are present."""
    present = request.present
    number = {p: k for k, p in enumerate(present.ids)}
    tracked = tracked_stages(layout)
    return Problem(
        Numbers(
            **_stages(layout, tracked, request),
            **_pupils(request, number),
            **_musts(layout, tracked, musts, number, fixing, request.lesson.adults),
            **_crossings(layout, tracked, len(number)),
        ),
        layout,
        tracked,
        present.ids,
    )


def tracked_stages(layout: Layout) -> tuple[int, ...]:
    """Stages that make groups of their own in which a wish or a must can mean something."""
    return tuple(k for k, s in enumerate(layout.stages) if s.planned.relation.is_counted and not s.is_alone)


def _stages(layout: Layout, tracked: tuple[int, ...], request: Request) -> dict[str, Any]:
    n, many = layout.shape.pupils, len(tracked)
    most = max((len(layout.stages[t].labels) for t in tracked), default=1)
    arrays: dict[str, Ints] = {
        "seating": np.zeros(many, np.int64),
        "group_of": np.zeros((many, n), np.int64),
        "seats": np.zeros((many, n), np.int64),
        "start": np.zeros((many, most + 1), np.int64),
        "groups": np.zeros(many, np.int64),
        "origin": np.full(many, -1, np.int64),
        "weights": np.zeros((many, len(NAMES)), np.int64),
        "place": np.full((many, most), -1, np.int64),
    }
    free = np.zeros(many, np.uint8)
    for k, t in enumerate(tracked):
        stage = layout.stages[t]
        groups = len(stage.labels)
        arrays["seating"][k] = stage.seating
        arrays["group_of"][k] = stage.group_of
        arrays["seats"][k] = np.argsort(stage.group_of, kind="stable")
        sizes = np.bincount(stage.group_of, minlength=groups)
        arrays["start"][k] = n
        arrays["start"][k, : groups + 1] = np.concatenate(([0], np.cumsum(sizes)))
        arrays["groups"][k] = groups
        arrays["place"][k, :groups] = [-1 if p is None else p for p in stage.places]
        if stage.planned.relation.one_goes and stage.planned.of is not None:
            arrays["origin"][k] = tracked.index(layout.stages[stage.planned.of].root)
        free[k] = stage.planned.relation.is_free
        if groups > 1:
            arrays["weights"][k] = [request.wishes.weight(w, stage.planned.name) for w in NAMES]
    return {**arrays, "free": free}


def _pupils(request: Request, number: dict[PupilId, int]) -> dict[str, Any]:
    present = request.present
    n = len(present)
    met = np.zeros((n, n), np.int64)
    for pair, times in request.history.meetings(present.ids).items():
        one, two_of = number[pair[0]], number[pair[1]]
        met[one, two_of] = met[two_of, one] = times
    mean = mean_attainment(present) or 0
    two = two_genders(present) or ()
    codes = {g: k for k, g in enumerate(sorted({p.gender for p in present if p.gender is not None}))}
    likes = np.zeros((n, n), np.uint8)
    for pupil in present:
        for friend in pupil.works_well_with:
            if friend in number:
                likes[number[pupil.id], number[friend]] = 1
    return {
        "met": met,
        "off_mean": np.array([0 if p.attainment is None else p.attainment - mean for p in present], np.int64),
        "side": np.array([two.index(p.gender) + 1 if p.gender in two else 0 for p in present], np.int64),
        "gender": np.array([-1 if p.gender is None else codes[p.gender] for p in present], np.int64),
        "eal": np.array([p.eal is True for p in present], np.uint8),
        "supported": np.array([p.adult_support is True for p in present], np.uint8),
        "likes": likes,
        "names_some": likes.max(axis=1, initial=0),
    }


def _musts(
    layout: Layout,
    tracked: tuple[int, ...],
    musts: Sequence[Must],
    number: dict[PupilId, int],
    fixing: Fixing,
    adults: int,
) -> dict[str, Any]:
    n = len(number)
    apart = np.zeros((len(tracked), n, n), np.uint8)
    mates = np.zeros((n, n), np.uint8)
    near = np.zeros(n, np.uint8)
    for must in musts:
        here = [number[p] for p in must.pupils]
        for a, b in combinations(here, 2):
            if must.kind is Kind.APART:
                apart[:, a, b] = apart[:, b, a] = 1
            elif must.kind is Kind.TOGETHER:
                mates[a, b] = mates[b, a] = 1
        if must.kind is Kind.NEAR_ADULT:
            near[here] = 1
    for stage, one, other in fixing.apart:
        if stage in tracked:
            t = tracked.index(stage)
            apart[t, number[one], number[other]] = apart[t, number[other], number[one]] = 1
    seat_ok = np.ones((layout.seatings, n, n), np.uint8)
    for (seating, pupil), seats in fixing.seats.items():
        seat_ok[seating, number[pupil]] = [s in seats for s in range(n)]
    _close(mates)
    stay = np.zeros(n, np.uint8)
    stay[[number[p] for p in fixing.stay]] = 1
    return {
        "apart": apart,
        "mates": mates,
        "mate_count": mates.sum(axis=1, dtype=np.int64),
        "near": near,
        "any_near": bool(near.any()),
        "adults": adults,
        "seat_ok": seat_ok,
        "stay": stay,
    }


def _close(mates: Flags) -> None:
    """Kept together with a mate's mate is kept together."""
    for through in range(len(mates)):
        mates |= np.outer(mates[:, through], mates[through]).astype(np.uint8)
    np.fill_diagonal(mates, 0)


def _crossings(layout: Layout, tracked: tuple[int, ...], n: int) -> dict[str, Any]:
    kept = [c for c in layout.crossings if c.earlier in tracked]
    return {
        "cross_stage": np.array([tracked.index(c.earlier) for c in kept], np.int64),
        "cross_seating": np.array([c.seating for c in kept], np.int64),
        "cross_in": np.array([c.apart_in for c in kept], np.int64).reshape(len(kept), n),
    }
