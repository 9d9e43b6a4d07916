"""From a start to good groups: annealing in short stretches, a descent, and the best of several runs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from types import ModuleType

import numpy as np
from numpy.typing import NDArray

from benchmates.core.grouping.search.numbers import Ints, Numbers, packed, smallest
from benchmates.core.grouping.search.ready import kernel
from benchmates.core.grouping.stop import FINISHED, NOTHING_TO_GAIN, TIME_UP, Deadline

RUNS = 4
STEPS_A_PUPIL = 2500  # a run for 30 pupils is 75,000 swaps, well under a second
STRETCHES = 25
ROUNDS = 20
STARTS = 8


@dataclass(frozen=True)
class Found:
    """A seating ``occ`` (F, n: pupil on each seat), its energy, and why the search ended."""

    occ: Ints
    energy: int
    stopped_because: str

    @property
    def broken(self) -> int:
        """How many musts do not hold."""
        return self.energy >> 48

    @property
    def compromise(self) -> int:
        """What the wishes cost."""
        return self.energy & 0xFFFFFFFF


def search(
    numbers: Numbers,
    *,
    seed: int,
    deadline: Deadline,
    start: Ints | None = None,
    progress: Callable[[float], None] | None = None,
) -> Found:
    """Look for a seating of least energy.

    The number of steps is fixed by the seed and the size of the class; the deadline may only cut it short. Without a
    ``start`` every run begins at random.
    """
    fast, flat = kernel(), packed(numbers)
    chance = np.random.default_rng(seed)
    state = chance.integers(1, 2**63, size=1, dtype=np.uint64)
    best, lowest = _first(fast, flat, numbers, chance, start)
    if lowest == 0 or best.shape[1] < 2:
        return Found(best, lowest, NOTHING_TO_GAIN)
    why = FINISHED
    for run in range(RUNS):
        if lowest == 0:
            why = NOTHING_TO_GAIN
            break
        if deadline.passed:
            why = TIME_UP
            break
        occ = _at_random(numbers, chance) if start is None else best.copy()
        found, lowest_here = _run(fast, flat, occ, state, deadline)
        if lowest_here < lowest:
            best, lowest = found, lowest_here
        if progress is not None:
            progress((run + 1) / RUNS)
    return Found(best, lowest, why)


def _first(
    fast: ModuleType, flat: Ints, numbers: Numbers, chance: np.random.Generator, start: Ints | None
) -> tuple[Ints, int]:
    """A seating that no swap betters, whatever the deadline; a cross that still unites partners is begun again."""
    tries = 1 if start is not None or not len(numbers.cross_stage) else STARTS
    best, lowest = None, 0
    for _ in range(tries):
        occ = _at_random(numbers, chance) if start is None else start.copy()
        energy_here = _descended(fast, flat, occ)
        if best is None or energy_here < lowest:
            best, lowest = occ, energy_here
        if lowest < 1 << 32:
            break
    assert best is not None
    return best, lowest


def seats_of(occ: Ints) -> Ints:
    """The seat of every pupil, from the pupil on every seat."""
    return np.argsort(occ, axis=1).astype(np.int64)


def energy(numbers: Numbers, occ: Ints) -> int:
    """The kernel's energy of a seating ``occ`` (F, n); compiled code does not look where it reads, so this does."""
    if occ.shape != numbers.seat_ok.shape[:2]:
        raise ValueError(f"a seating of shape {occ.shape} where {numbers.seat_ok.shape[:2]} is wanted")
    return int(kernel().energy(packed(numbers), occ, seats_of(occ)))


def _at_random(numbers: Numbers, chance: np.random.Generator) -> Ints:
    seatings, n = numbers.seat_ok.shape[0], numbers.seat_ok.shape[1]
    return np.array([chance.permutation(n) for _ in range(seatings)], np.int64).reshape(seatings, n)


def _run(
    fast: ModuleType, flat: Ints, occ: Ints, state: NDArray[np.uint64], deadline: Deadline
) -> tuple[Ints, int]:
    """One run: cool in stretches, then take every swap that helps."""
    pos = seats_of(occ)
    now = lowest = int(fast.energy(flat, occ, pos))
    best = occ.copy()
    warm, cold = _heats(fast, flat, occ, pos, state)
    steps = STEPS_A_PUPIL * occ.shape[1] // STRETCHES
    for stretch in range(STRETCHES):
        if deadline.passed:
            break
        high = warm * (cold / warm) ** (stretch / STRETCHES)
        low = warm * (cold / warm) ** ((stretch + 1) / STRETCHES)
        # A crossing broken costs about 15 times the warmest step, which worked as well as more (solver notes 8).
        price = int(15 * warm)
        now, lowest = fast.improve(flat, occ, pos, best, now, lowest, steps, high, low, price, state, 0)
        if lowest == 0:
            break
    return best, _descended(fast, flat, best)


def _descended(fast: ModuleType, flat: Ints, occ: Ints) -> int:
    """Take every swap that lowers the energy, in place; returns the energy then."""
    pos = seats_of(occ)
    now = int(fast.energy(flat, occ, pos))
    still = np.ones(1, np.uint64)  # no chance is used on the way down
    return int(fast.improve(flat, occ, pos, occ.copy(), now, now, 0, 1.0, 1.0, 1, still, ROUNDS)[0])


def _heats(
    fast: ModuleType, flat: Ints, occ: Ints, pos: Ints, state: NDArray[np.uint64]
) -> tuple[float, float]:
    """Start about as warm as a usual swap is dear, and end where hardly one that costs anything is taken."""
    chance = np.random.default_rng(int(state[0]))
    n = occ.shape[1]
    here = int(fast.energy(flat, occ, pos))
    dear = [abs(_with_swap(fast, flat, occ, chance.choice(n, 2, replace=False)) - here) for _ in range(60)]
    usual = [d for d in dear if 0 < d < 1 << 31]
    warm = float(np.mean(usual)) if usual else 1.0
    return max(warm, 1.0), max(warm / 40, 0.3)


def _with_swap(fast: ModuleType, flat: Ints, occ: Ints, pair: Ints) -> int:
    """The energy with two pupils changed over everywhere."""
    a, b = pair
    other = occ.copy()
    other[occ == a], other[occ == b] = b, a
    return int(fast.energy(flat, other, seats_of(other)))


def compile_ahead() -> None:
    """Compile the kernel, or fetch it from its cache, by one search over a class of three.

    Compiling takes some seconds once on a machine; it must not happen in front of a class.
    """
    search(smallest(), seed=1, deadline=Deadline(60.0), start=np.arange(3, dtype=np.int64).reshape(1, 3))
