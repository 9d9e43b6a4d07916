"""The arrays that the search works on: a problem without names."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Flags = NDArray[np.uint8]

# The tables in the order in which the kernel counts them.
TABLES = (
    "seating",
    "group_of",
    "seats",
    "start",
    "groups",
    "origin",
    "free",
    "weights",
    "met",
    "apart",
    "mates",
    "mate_count",
    "near",
    "seat_ok",
    "stay",
    "place",
    "off_mean",
    "side",
    "gender",
    "eal",
    "supported",
    "likes",
    "names_some",
    "cross_stage",
    "cross_seating",
    "cross_in",
)


class Numbers(NamedTuple):
    """Arrays for the kernel. T tracked stages, F seatings, n pupils (= seats), G groups at most, K crossings."""

    seating: Ints  # (T,) which seating each stage sits on
    group_of: Ints  # (T, n) seat -> group
    seats: Ints  # (T, n) seats sorted by group
    start: Ints  # (T, G + 1) where each group starts in ``seats``
    groups: Ints  # (T,) number of groups
    origin: Ints  # (T,) stage whose pairs are old when only new pairs are charged, else -1
    free: Flags  # (T,) whether earlier meetings of this lesson count
    weights: Ints  # (T, 5) by wish, in the order of wishes.NAMES
    met: Ints  # (n, n) meetings before the lesson
    apart: Flags  # (T, n, n)
    mates: Flags  # (n, n) kept together
    mate_count: Ints  # (n,)
    near: Flags  # (n,) near an adult
    any_near: bool
    adults: int
    seat_ok: Flags  # (F, n, n) pupil, seat
    stay: Flags  # (n,) keeps one bench through the lesson
    place: Ints  # (T, G) bench of each group, -1 for none
    off_mean: Ints  # (n,) attainment less the mean, 0 where not recorded
    side: Ints  # (n,) 1 and 2 for the two genders most held, 0 otherwise
    gender: Ints  # (n,) code, -1 for blank
    eal: Flags  # (n,)
    supported: Flags  # (n,)
    likes: Flags  # (n, n) row names column
    names_some: Flags  # (n,) names somebody present
    cross_stage: Ints  # (K,) tracked stage whose partners are parted
    cross_seating: Ints  # (K,)
    cross_in: Ints  # (K, n) seat -> group or part


def smallest() -> Numbers:
    """Three pupils, a pair and one alone, who have all met: enough to make every part of the kernel run."""
    n = 3
    none, zeros = np.zeros(n, np.uint8), np.zeros(n, np.int64)
    return Numbers(
        seating=np.zeros(1, np.int64),
        group_of=np.array([[0, 0, 1]], np.int64),
        seats=np.array([[0, 1, 2]], np.int64),
        start=np.array([[0, 2, 3]], np.int64),
        groups=np.array([2], np.int64),
        origin=np.array([-1], np.int64),
        free=np.ones(1, np.uint8),
        weights=np.ones((1, 5), np.int64),
        met=np.ones((n, n), np.int64),
        apart=np.zeros((1, n, n), np.uint8),
        mates=np.zeros((n, n), np.uint8),
        mate_count=zeros,
        near=none,
        any_near=False,
        adults=1,
        seat_ok=np.ones((1, n, n), np.uint8),
        stay=none,
        place=np.array([[0, 1]], np.int64),
        off_mean=zeros,
        side=zeros,
        gender=zeros - 1,
        eal=none,
        supported=none,
        likes=np.zeros((n, n), np.uint8),
        names_some=none,
        cross_stage=np.zeros(0, np.int64),
        cross_seating=np.zeros(0, np.int64),
        cross_in=np.zeros((0, n), np.int64),
    )


def packed(numbers: Numbers) -> Ints:
    """All numbers in one flat array for the kernel: sizes, then where each table starts, then the tables."""
    tables = [np.asarray(getattr(numbers, name), np.int64).ravel() for name in TABLES]
    head = [
        numbers.seat_ok.shape[1],
        len(numbers.seating),
        numbers.seat_ok.shape[0],
        numbers.place.shape[1],
        len(numbers.cross_stage),
        numbers.adults,
        int(numbers.any_near),
        int(numbers.stay.any()),
    ]
    starts = np.cumsum([len(head) + len(tables), *(len(table) for table in tables[:-1])])
    return np.concatenate([np.array(head, np.int64), starts.astype(np.int64), *tables])
