"""The frame of a lesson, against the table of usual minutes (common practice, no source)."""

from __future__ import annotations

from dataclasses import astuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchmates.core.lesson.frame import frame_for


@pytest.mark.parametrize(
    ("bell", "minutes"),
    [
        (50, (4, 4, 5, 24, 2, 5, 4, 2)),
        (60, (4, 5, 6, 28, 3, 6, 5, 3)),
        (100, (5, 6, 8, 52, 6, 9, 8, 6)),
        (55, (4, 4.5, 5.5, 26, 2.5, 5.5, 4.5, 2.5)),
        (30, (2.5, 2.5, 3, 14.5, 1, 3, 2.5, 1)),
        (40, (3, 3, 4, 20, 1.5, 4, 3, 1.5)),
    ],
)
def test_the_frame_of_a_bell(bell: int, minutes: tuple[float, ...]) -> None:
    assert astuple(frame_for(bell)) == minutes


@given(st.integers(10, 300))
def test_a_frame_fills_its_bell_in_halves(bell: int) -> None:
    minutes = astuple(frame_for(bell))

    assert sum(minutes) == bell
    assert all(2 * m == int(2 * m) and m >= 0 for m in minutes)
