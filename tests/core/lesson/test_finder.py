"""Two or three ways that suit a purpose, a class and a bell."""

from __future__ import annotations

from dataclasses import replace

import pytest

from benchmates.core.lesson.finder import FIRST_CHOICES, Fit, fitting, sizes_told
from benchmates.core.lesson.plan import lesson_for
from benchmates.core.lesson.timing import timetable
from benchmates.core.strategy.catalogue import KEYS, way, ways
from benchmates.core.strategy.shape import plan_shape
from benchmates.core.strategy.way import Purpose


def found(purpose: Purpose, *, pupils: int, minutes: int) -> tuple[Fit, ...]:
    return fitting(purpose, pupils=pupils, minutes=minutes, ways=ways())


@pytest.mark.parametrize("purpose", Purpose)
@pytest.mark.parametrize("minutes", [30, 50, 60, 100])
@pytest.mark.parametrize("pupils", [8, 19, 22, 28, 31])
def test_two_or_three_are_offered_and_what_is_said_to_fit_does(
    purpose: Purpose, pupils: int, minutes: int
) -> None:
    fits = found(purpose, pupils=pupils, minutes=minutes)

    assert 2 <= len(fits) <= 3
    for fit in fits:
        assert purpose in fit.way.purposes
        assert fit.why and fit.mark and fit.minutes_told
        assert bool(fit.nearest) is not fit.fits
        if fit.fits:
            lesson = lesson_for(fit.way, title="Lesson", bell=minutes)
            assert timetable(lesson, plan_shape(fit.way, pupils)).over == 0


def test_first_choices_stand_in_the_catalogue_and_carry_their_purpose() -> None:
    assert set(FIRST_CHOICES) == set(Purpose)
    for purpose, keys in FIRST_CHOICES.items():
        assert set(keys) <= set(KEYS)
        assert all(purpose in way(key).purposes for key in keys)


def test_compare_and_decide_for_22_in_an_hour() -> None:
    first, second, third = found(Purpose.COMPARE, pupils=22, minutes=60)

    assert [fit.way.key for fit in (first, second, third)] == [
        "pairs-to-fours",
        "snowball",
        "consensus-ranking",
    ]
    assert first.sizes_told == "2 threes and 8 pairs, then 2 fives and 3 fours"
    assert first.minutes_told == "15.5 minutes in groups, of 60"
    assert first.mark == "C"


def test_a_class_that_cannot_be_cut_is_left_out_or_told_what_would_do() -> None:
    """19 pupils cannot be cut into groups of seven to nine (arithmetic)."""
    assert "snowball" not in [fit.way.key for fit in found(Purpose.COMPARE, pupils=19, minutes=60)]

    (fit,) = fitting(Purpose.COMPARE, pupils=19, minutes=60, ways=[way("snowball")])

    assert not fit.fits
    assert fit.sizes_told == ""
    assert "would do" in fit.nearest


def test_a_bell_that_is_too_short_is_told_the_nearest_that_is_not() -> None:
    (fit,) = fitting(Purpose.LEARN, pupils=28, minutes=30, ways=[way("jigsaw")])

    assert (fit.fits, fit.nearest) == (False, "It takes 40 minutes or more.")


def test_a_teachers_own_way_stands_among_the_others() -> None:
    own = replace(way("pair-talk"), key="own-talk", purposes=(Purpose.IMPROVE,))

    fits = fitting(Purpose.IMPROVE, pupils=28, minutes=60, ways=[*ways(), own])

    assert [fit.way.key for fit in fits] == ["critique-gallery", "pass-on-sketching", "own-talk"]


def test_sizes_are_told_in_the_order_of_the_lesson() -> None:
    assert sizes_told(plan_shape(way("fishbowl"), 22)) == "an inner ring of 5 with 17 round it"
    assert sizes_told(plan_shape(way("critique-gallery"), 22)) == "everyone on their own"
    assert sizes_told(plan_shape(way("production-line"), 12)) == "2 sixes"
