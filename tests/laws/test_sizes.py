"""Laws of group sizes, each against counting by brute force."""

from __future__ import annotations

from itertools import combinations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchmates.core.strategy.catalogue import way
from benchmates.core.strategy.shape import plan_shape
from benchmates.core.strategy.sizes import can_cut, crosses_perfectly, crossing_table, cut, least_repeats
from benchmates.core.strategy.way import Size


def partitions(n: int, least: int, most: int):
    """Every way to write n as a sum of group sizes, largest first."""
    if n == 0:
        yield ()
        return
    for first in range(min(n, most), least - 1, -1):
        for rest in partitions(n - first, least, first):
            yield (first, *rest)


@pytest.mark.parametrize(
    ("least", "most", "impossible"),
    [
        # Trade handbook 2.1, marked [K]: calculated there.
        (2, 3, {1}),
        (3, 4, {1, 2, 5}),
        (3, 5, {1, 2}),
        (4, 5, {1, 2, 3, 6, 7, 11}),
        (4, 6, {1, 2, 3, 7}),
        (5, 6, {1, 2, 3, 4, 7, 8, 9, 13, 14, 19}),
    ],
)
def test_impossible_class_sizes_are_those_of_the_handbook_and_of_brute_force(least, most, impossible):
    assert {n for n in range(1, 41) if not can_cut(n, least, most)} == impossible
    assert {n for n in range(1, 41) if not any(True for _ in partitions(n, least, most))} == impossible


@given(st.integers(1, 40), st.integers(2, 5), st.integers(0, 3), st.integers(0, 3))
def test_a_cut_has_the_least_total_distance_and_then_the_fewest_groups(n, least, up, more):
    size = Size(least + up, least, least + up + more)
    every = list(partitions(n, size.least, size.most))
    found = cut(n, size)
    if not every:
        assert found is None
        return
    distance = min(sum(abs(s - size.target) for s in p) for p in every)
    fewest = min(len(p) for p in every if sum(abs(s - size.target) for s in p) == distance)
    assert found is not None
    assert (sum(found), sum(abs(s - size.target) for s in found), len(found)) == (n, distance, fewest)
    assert max(found) - min(found) <= 1


def test_nineteen_and_twenty_two_are_planned_backwards():
    # Trade handbook 2.1 [K]: 22 backwards is 4,4,4,5,5 with eight pairs and two threes; 19 is 4,4,4,4,3.
    of_22 = plan_shape(way("pairs-to-fours"), 22)
    assert sorted(of_22.stages[1].sizes) == [4, 4, 4, 5, 5]
    assert sorted(of_22.stages[0].sizes) == [2] * 8 + [3] * 2
    of_19 = plan_shape(way("pairs-to-fours"), 19)
    assert sorted(of_19.stages[1].sizes) == [3, 4, 4, 4, 4]
    assert sorted(of_19.stages[0].sizes) == [2] * 8 + [3]


def tables(rows: tuple[int, ...], columns: tuple[int, ...], most: int):
    """Every table of whole numbers up to ``most`` with these sums."""
    if not rows:
        if not any(columns):
            yield ()
        return
    for first in product(*(range(min(c, most) + 1) for c in columns)):
        if sum(first) == rows[0]:
            left = tuple(c - x for c, x in zip(columns, first, strict=True))
            for rest in tables(rows[1:], left, most):
                yield (first, *rest)


sizes = st.lists(st.integers(1, 4), min_size=2, max_size=4)


@given(sizes, sizes)
def test_a_perfect_cross_exists_exactly_when_gale_ryser_says_so(earlier, new):
    # Gale (1957), Pacific J. Math. 7; Ryser (1957), Canad. J. Math. 9; here against every 0-1 table.
    there_is_one = any(True for _ in tables(tuple(earlier), tuple(new), 1))
    assert crosses_perfectly(earlier, new) == there_is_one


@given(st.lists(st.integers(1, 4), min_size=2, max_size=3), st.integers(2, 3))
def test_the_least_number_of_repeats_is_that_of_brute_force(earlier, groups):
    n = sum(earlier)
    if n < groups:
        return
    new = tuple(n // groups + (k < n % groups) for k in range(groups))
    fewest = min(
        sum(x * (x - 1) // 2 for row in table for x in row) for table in tables(tuple(earlier), new, n)
    )
    assert least_repeats(earlier, new) == fewest
    table = crossing_table(earlier, new)
    assert [sum(row) for row in table] == earlier
    assert [sum(column) for column in zip(*table, strict=True)] == list(new)


def test_the_simple_condition_for_near_equal_sizes_is_enough():
    # Trade handbook 2.1 [K]: every new size <= number of earlier groups, and as many new groups as the largest earlier.
    for n in range(4, 37):
        for k, j in combinations(range(2, 10), 2):
            earlier = [n // k + (i < n % k) for i in range(k)]
            new = [n // j + (i < n % j) for i in range(j)]
            if max(new) <= k and j >= max(earlier):
                assert crosses_perfectly(earlier, new), (n, earlier, new)
