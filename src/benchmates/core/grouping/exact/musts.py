"""Whether the musts can all hold, decided exactly.

Seats that share their group in every stage are one *kind of seat*. A binary variable says that a pupil takes a seat of
a kind; musts become rows over them. Apart pairs are gathered into cliques, so that "four kept apart in three groups"
is refused by the linear relaxation at once instead of by trying all ways round.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from benchmates.core.grouping.search.numbers import Flags, Ints, Numbers


class Answer(StrEnum):
    """What an exact look at the musts found."""

    HOLDS = "can hold"
    CLASHES = "cannot all hold"
    UNKNOWN = "not decided in time"


@dataclass(frozen=True)
class MustsLooked:
    """The answer, with a seating (F, n) when the musts can hold."""

    answer: Answer
    occ: Ints | None = None


def look(numbers: Numbers, *, seconds: float = 5.0) -> MustsLooked:
    """Find a seating in which every must holds, or show that there is none."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    rows = _Rows(numbers)
    found = milp(
        np.zeros(rows.columns),
        constraints=LinearConstraint(rows.matrix(), rows.low, rows.high),
        bounds=Bounds(0, np.array(rows.most, dtype=float)),
        integrality=np.ones(rows.columns),
        options={"time_limit": seconds},
    )
    if found.x is not None:
        return MustsLooked(Answer.HOLDS, rows.seating(found.x))
    return MustsLooked(Answer.CLASHES if found.status == 2 else Answer.UNKNOWN)


class _Rows:
    """Builds the rows of the model, and reads a seating out of its answer."""

    def __init__(self, numbers: Numbers) -> None:
        self.numbers = numbers
        self.pupils = numbers.seat_ok.shape[1]
        self.kind_of = [_kinds(numbers, f) for f in range(numbers.seat_ok.shape[0])]
        self.first: list[int] = []
        self.most: list[int] = []
        self.entries: list[tuple[int, int, float]] = []
        self.low: list[float] = []
        self.high: list[float] = []
        for f, kinds in enumerate(self.kind_of):
            self.first.append(len(self.most))
            for p in range(self.pupils):
                allowed = {int(kinds[s]) for s in range(self.pupils) if numbers.seat_ok[f, p, s]}
                self.most.extend(int(k in allowed) for k in range(int(kinds.max()) + 1))
        self._everyone_sits()
        for t in range(len(numbers.seating)):
            self._apart(t)
            self._together(t)
            self._near_adult(t)
        self._stay()

    @property
    def columns(self) -> int:
        return len(self.most)

    def matrix(self) -> object:
        from scipy.sparse import csr_array

        rows, columns, values = zip(*self.entries, strict=True) if self.entries else ((), (), ())
        return csr_array((values, (rows, columns)), shape=(len(self.low), self.columns))

    def seating(self, x: np.ndarray) -> Ints:
        occ = np.zeros((len(self.kind_of), self.pupils), np.int64)
        for f, kinds in enumerate(self.kind_of):
            free = {k: [s for s in range(self.pupils) if kinds[s] == k] for k in range(int(kinds.max()) + 1)}
            for p in range(self.pupils):
                k = max(free, key=lambda k: x[self._column(f, p, k)])
                # Within a kind all seats serve alike, except that a named seat may be asked for.
                seat = next(s for s in free[k] if self.numbers.seat_ok[f, p, s])
                free[k].remove(seat)
                occ[f, seat] = p
        return occ

    def _column(self, f: int, p: int, k: int) -> int:
        return self.first[f] + p * (int(self.kind_of[f].max()) + 1) + k

    def _in_group(self, t: int, p: int, g: int) -> list[int]:
        """The columns that put a pupil into a group of a stage."""
        f = int(self.numbers.seating[t])
        kinds = {int(self.kind_of[f][s]) for s in range(self.pupils) if self.numbers.group_of[t, s] == g}
        return [self._column(f, p, k) for k in sorted(kinds)]

    def _row(self, terms: list[tuple[int, float]], low: float, high: float) -> None:
        self.entries.extend((len(self.low), column, value) for column, value in terms)
        self.low.append(low)
        self.high.append(high)

    def _new_column(self, most: int) -> int:
        self.most.append(most)
        return len(self.most) - 1

    def _everyone_sits(self) -> None:
        for f, kinds in enumerate(self.kind_of):
            count = np.bincount(kinds)
            for p in range(self.pupils):
                self._row([(self._column(f, p, k), 1) for k in range(len(count))], 1, 1)
            for k, seats in enumerate(count):
                self._row([(self._column(f, p, k), 1) for p in range(self.pupils)], int(seats), int(seats))

    def _apart(self, t: int) -> None:
        for clique in cliques(self.numbers.apart[t]):
            for g in range(int(self.numbers.groups[t])):
                self._row([(c, 1) for p in clique for c in self._in_group(t, p, g)], 0, 1)

    def _together(self, t: int) -> None:
        for a in range(self.pupils):
            later = np.flatnonzero(self.numbers.mates[a, a + 1 :])
            for g in range(int(self.numbers.groups[t]) if later.size else 0):
                mine = [(c, 1.0) for c in self._in_group(t, a, g)]
                self._row(mine + [(c, -1.0) for c in self._in_group(t, a + 1 + int(later[0]), g)], 0, 0)

    def _near_adult(self, t: int) -> None:
        near = np.flatnonzero(self.numbers.near)
        groups = int(self.numbers.groups[t])
        if not near.size:
            return
        # An adult between groups g and g+1 serves both; the last may serve one alone.
        adults = [self._new_column(1) for _ in range(groups)]
        self._row([(a, 1) for a in adults], 0, self.numbers.adults)
        for p in near:
            for g in range(groups):
                served = [(adults[k], -1.0) for k in (g - 1, g) if k >= 0]
                self._row([(c, 1.0) for c in self._in_group(t, int(p), g)] + served, -np.inf, 0)

    def _stay(self) -> None:
        for p in np.flatnonzero(self.numbers.stay):
            for t in range(1, len(self.numbers.seating)):
                for place in sorted({*self.numbers.place[0].tolist(), *self.numbers.place[t].tolist()}):
                    terms = [
                        (c, sign) for at, sign in ((0, 1.0), (t, -1.0)) for c in self._at(at, int(p), place)
                    ]
                    if terms:
                        self._row(terms, 0, 0)

    def _at(self, t: int, p: int, place: int) -> list[int]:
        groups = range(int(self.numbers.groups[t]))
        return [c for g in groups if self.numbers.place[t, g] == place for c in self._in_group(t, p, g)]


def _kinds(numbers: Numbers, f: int) -> Ints:
    """Number the kinds of seat of one seating; a seat that somebody may or may not take is a kind of its own."""
    stages = np.flatnonzero(numbers.seating == f)
    marks = [
        (*(int(numbers.group_of[t, s]) for t in stages), *numbers.seat_ok[f, :, s].tolist())
        for s in range(numbers.seat_ok.shape[2])
    ]
    known = {mark: k for k, mark in enumerate(dict.fromkeys(marks))}
    return np.array([known[m] for m in marks], np.int64)


def cliques(apart: Flags) -> list[list[int]]:
    """Cover every apart pair by cliques, grown greedily from the pairs not covered yet."""
    n = len(apart)
    open_pairs = {(a, b) for a in range(n) for b in range(a + 1, n) if apart[a, b]}
    found: list[list[int]] = []
    while open_pairs:
        clique = list(min(open_pairs))
        for p in range(n):
            if p not in clique and all(apart[p, c] for c in clique):
                clique.append(p)
        found.append(sorted(clique))
        open_pairs -= {(a, b) for a in clique for b in clique}
    return found
