"""The arithmetic of minutes, against worked examples and its own laws."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchmates.core.lesson.minutes import feedback_minutes, groups_heard, in_halves, replan, share_out
from benchmates.core.terms import Span

spans = st.lists(
    st.lists(st.integers(0, 60), min_size=3, max_size=3).map(lambda m: Span(*sorted(m))),
    min_size=1,
    max_size=8,
)


@pytest.mark.parametrize(
    ("groups", "each", "minutes"),
    [(8, 2, 17.75), (6, 1, 7.25), (5, 1, 6), (5, 1.5, 8.5), (5, 1.4, 8), (1, 2, 2), (0, 2, 0)],
)
def test_hearing_groups_takes_their_minutes_and_a_quarter_between(
    groups: int, each: float, minutes: float
) -> None:
    """Worked by hand: groups x each + (groups - 1) x 0.25."""
    assert feedback_minutes(groups, each) == pytest.approx(minutes)


@given(st.integers(1, 20), st.integers(1, 20).map(lambda q: q / 4))
def test_as_many_groups_are_heard_as_the_minutes_hold(groups: int, each: float) -> None:
    needed = feedback_minutes(groups, each)

    assert groups_heard(needed, each) == groups
    assert groups_heard(needed - 0.25, each) == groups - 1


def test_the_rest_of_a_lesson_is_shared_out_as_in_the_worked_example() -> None:
    """30 minutes left, 5 + 6 + 1 never cut: worked by hand, share 3 / 13 = 0.23."""
    fixed = [(Span(m, m, m), True) for m in (5, 6, 1)]
    loose = [(Span(least, planned, planned), False) for least, planned in ((4, 8), (6, 10), (3, 6), (2, 4))]

    share = replan(30, [*loose, *fixed])

    assert round(share.share, 2) == 0.23
    assert [round(m, 1) for m in share.exact[:4]] == [4.9, 6.9, 3.7, 2.5]
    assert share.halves == (5, 7, 3.5, 2.5, 5, 6, 1)
    assert sum(share.halves) == 30
    assert share.over == 0


def test_too_little_time_gives_the_least_and_says_what_is_missing() -> None:
    share = replan(10, [(Span(5, 5, 5), True), (Span(4, 8, 8), False), (Span(3, 6, 6), False)])

    assert share.share < 0
    assert share.exact == (5, 4, 3)
    assert share.over == 2


def test_time_to_spare_gives_what_was_planned() -> None:
    share = replan(60, [(Span(5, 5, 5), True), (Span(4, 8, 9), False)])

    assert (share.share, share.exact, share.over) == (1, (5, 8), 0)


def test_parts_that_cannot_shrink_keep_their_minutes() -> None:
    assert replan(10, [(Span(6, 6, 6), False), (Span(6, 6, 6), False)]).over == 2
    assert replan(12, [(Span(6, 6, 6), False), (Span(6, 6, 6), False)]).over == 0


@given(spans, st.integers(0, 600))
def test_a_share_lies_within_its_span_and_fills_the_minutes(plan: list[Span], minutes: int) -> None:
    given_out = share_out(plan, minutes)

    assert all(s.least - 1e-9 <= m <= s.most + 1e-9 for s, m in zip(plan, given_out, strict=True))
    least, most = sum(s.least for s in plan), sum(s.most for s in plan)
    assert sum(given_out) == pytest.approx(min(max(minutes, least), most))


@given(st.lists(st.integers(0, 4000).map(lambda m: m / 100), min_size=1, max_size=12), st.data())
def test_halves_keep_the_total(minutes: list[float], data: st.DataObject) -> None:
    times = data.draw(st.lists(st.integers(1, 5), min_size=len(minutes), max_size=len(minutes)))

    shown = in_halves(minutes, times)

    def total(values: list[float] | tuple[float, ...]) -> float:
        return sum(n * m for n, m in zip(times, values, strict=True))

    assert total(shown) == pytest.approx(total(minutes), abs=1e-4)
    assert sum(2 * m != int(2 * m) for m in shown) <= 1


def test_halves_follow_the_largest_remainders() -> None:
    assert in_halves([1.3, 1.3, 1.4]) == (1.5, 1.0, 1.5)
    assert in_halves([1.2, 1.3, 1.5]) == (1.0, 1.5, 1.5)


def test_a_rotation_is_lengthened_in_every_turn_or_in_none() -> None:
    assert in_halves([6.2, 7.4], [3, 1]) == (6.0, 8.0)
    assert in_halves([6.5, 7.5], [3, 1]) == (6.5, 7.5)
    assert in_halves([6.4, 7.3], [3, 1]) == (6.5, 7.0)


def test_an_odd_quarter_stays_with_the_longest() -> None:
    assert in_halves([1.25, 3.5]) == (1.0, 3.75)
