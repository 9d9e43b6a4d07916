"""The arithmetic of minutes: sharing out a bell, rounding to halves, reports in turn."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from benchmates.core.terms import Minutes, Span

BETWEEN_REPORTS: Minutes = 0.25
TINY = 1e-9


def share_out(spans: Sequence[Span], minutes: Minutes) -> tuple[Minutes, ...]:
    """Give each span its share of the minutes.

    Below the sum of the plans each gets least + s x (planned - least), above it planned + s x (most - planned), with
    one s from 0 to 1 for all. Where even the least is too much all get the least; where even the most is too little
    all get the most: the caller compares sums.
    """
    least, planned, most = (
        sum(parts) for parts in zip(*((s.least, s.planned, s.most) for s in spans), strict=True)
    )
    if minutes <= planned:
        share = along(minutes, least, planned)
        return tuple(s.least + share * (s.planned - s.least) for s in spans)
    share = along(minutes, planned, most)
    return tuple(s.planned + share * (s.most - s.planned) for s in spans)


def along(minutes: float, start: float, end: float) -> float:
    """How far the minutes lie from start to end: 0 or before, 1 or after; 1 where the two are one."""
    return 1.0 if end - start < TINY else min(1.0, max(0.0, (minutes - start) / (end - start)))


def in_halves(minutes: Sequence[Minutes], times: Sequence[int] = ()) -> tuple[Minutes, ...]:
    """Round to half minutes so that the total is kept.

    The largest remainders are rounded up, ties in order; a total that is no multiple of a half leaves its odd quarter
    with the longest. ``times``: how often each stands in the lesson (the turns of a rotation all last alike), once
    where not said.
    """
    count = list(times) or [1] * len(minutes)
    shown = [math.floor(2 * m + TINY) / 2 for m in minutes]
    over = sum(n * (m - s) for m, s, n in zip(minutes, shown, count, strict=True))
    order = sorted(range(len(shown)), key=lambda i: (shown[i] - minutes[i], i))
    # A rotation takes half a minute for every turn or none; what it cannot take goes to the others, again in order.
    while any(over > TINY and 0.5 * count[i] <= over + TINY for i in order):
        for index in order:
            if 0.5 * count[index] <= over + TINY:
                shown[index] += 0.5
                over -= 0.5 * count[index]
    singles = [i for i in order if count[i] == 1]
    if abs(over) > TINY and singles:
        shown[max(singles, key=lambda i: shown[i])] += over
    elif abs(over) > TINY and shown:
        shown[0] += over / count[0]
    return tuple(round(m, 6) for m in shown)


def feedback_minutes(groups: int, each: Minutes) -> Minutes:
    """How long it takes to hear every group, with a quarter of a minute between two."""
    return groups * each + (groups - 1) * BETWEEN_REPORTS if groups else 0.0


def groups_heard(minutes: Minutes, each: Minutes) -> int:
    """How many groups can be heard in so many minutes."""
    return max(0, math.floor((minutes + BETWEEN_REPORTS + TINY) / (each + BETWEEN_REPORTS)))


@dataclass(frozen=True)
class Share:
    """What the minutes left give each part: ``share`` from least (0) to planned (1), exact and in halves.

    ``over`` is what is missing even at the least; ``share`` is then below 0 and every part gets its least.
    """

    share: float
    exact: tuple[Minutes, ...]
    halves: tuple[Minutes, ...]
    over: Minutes


def replan(remaining: Minutes, parts: Sequence[tuple[Span, bool]]) -> Share:
    """Share out the minutes left in a lesson among its remaining parts.

    Parameters
    ----------
    remaining
        Minutes to the bell.
    parts
        Each with its minutes and whether it is never cut; those keep what was planned.
    """
    fixed = sum(span.planned for span, never_cut in parts if never_cut)
    open_spans = [span for span, never_cut in parts if not never_cut]
    least, planned = sum(s.least for s in open_spans), sum(s.planned for s in open_spans)
    left = remaining - fixed
    if planned - least > TINY:
        share = (left - least) / (planned - least)
    else:
        share = 1.0 if left >= least - TINY else -1.0
    held = min(1.0, max(0.0, share))
    given = iter([s.least + held * (s.planned - s.least) for s in open_spans])
    exact = tuple(span.planned if never_cut else next(given) for span, never_cut in parts)
    rounded = iter(in_halves([m for m, (_, never_cut) in zip(exact, parts, strict=True) if not never_cut]))
    halves = tuple(span.planned if never_cut else next(rounded) for span, never_cut in parts)
    return Share(min(1.0, share), exact, halves, max(0.0, fixed + least - remaining))
