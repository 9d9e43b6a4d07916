"""The inner loop of the search, compiled: energies, swaps and annealing on flat arrays.

Everything stands in this one file on purpose: numba's cache goes stale when a cached function calls one in another
file. The energy is the compromise plus a price for every must that is broken and every partner met again in a cross;
the compromise itself equals ``grouping.cost`` to the last unit (``tests/laws``).

``z`` holds all of ``Numbers`` in one flat array (``numbers.packed``): handing thirty arrays from function to function
made a swap ten times dearer. The first entries are sizes and where each table starts. ``occ`` (F, n) holds the pupil on
each seat, ``pos`` (F, n) the seat of each pupil.
"""

from __future__ import annotations

import numpy as np
from numba import njit

N, T, F, G, K, ADULTS, ANY_NEAR, ANY_STAY = range(8)
(
    SEATING,
    GROUP_OF,
    SEATS,
    START,
    GROUPS,
    ORIGIN,
    FREE,
    WEIGHTS,
    MET,
    APART,
    MATES,
    MATE_COUNT,
    NEAR,
    SEAT_OK,
    STAY,
    PLACE,
    OFF_MEAN,
    SIDE,
    GENDER,
    EAL,
    SUPPORTED,
    LIKES,
    NAMES_SOME,
    CROSS_STAGE,
    CROSS_SEATING,
    CROSS_IN,
) = range(8, 34)
WISHES = 5

# One energy orders three things: musts first, then partners whom a cross should have parted, then the compromise.
# Each has bits of its own, so that a count can never be bought with another.
BROKEN = 1 << 48
MET_AGAIN = 1 << 32
COST = MET_AGAIN - 1
COUNT = (1 << 16) - 1


@njit(cache=True)
def _random(state):
    """Next number in [0, 1) of an xorshift64* generator (Vigna 2016); ``state`` is one nonzero uint64."""
    x = state[0]
    x ^= x >> np.uint64(12)
    x ^= x << np.uint64(25)
    x ^= x >> np.uint64(27)
    state[0] = x
    return np.float64((x * np.uint64(2685821657736338717)) >> np.uint64(11)) / 9007199254740992.0


@njit(cache=True)
def _group(z, pos, t, p):
    return z[z[GROUP_OF] + t * z[N] + pos[z[z[SEATING] + t], p]]


@njit(cache=True)
def _together(z, pos, t, a, b):
    """Whether a pair counts as together in stage t (after a move, only if the move created it)."""
    if _group(z, pos, t, a) != _group(z, pos, t, b):
        return False
    if z[z[GROUPS] + t] < 2:
        return False
    o = z[z[ORIGIN] + t]
    return o < 0 or _group(z, pos, o, a) != _group(z, pos, o, b)


@njit(cache=True)
def _pair(z, pos, t, a, b):
    """What one pair in the same group of stage t costs: meetings, and a must if they are kept apart."""
    cost = np.int64(0)
    if z[z[APART] + (t * z[N] + a) * z[N] + b]:
        cost += BROKEN
    w = z[z[WEIGHTS] + t * WISHES + 0]
    if w and _together(z, pos, t, a, b):
        h = z[z[MET] + a * z[N] + b]
        if z[z[FREE] + t]:
            for e in range(t):
                if _together(z, pos, e, a, b):
                    h += 1
        cost += w * h
    return cost


@njit(cache=True)
def _pairs_of(z, occ, pos, t, p):
    f = z[z[SEATING] + t]
    g = z[z[GROUP_OF] + t * z[N] + pos[f, p]]
    cost = np.int64(0)
    for k in range(z[z[START] + t * (z[G] + 1) + g], z[z[START] + t * (z[G] + 1) + g + 1]):
        other = occ[f, z[z[SEATS] + t * z[N] + k]]
        if other != p:
            cost += _pair(z, pos, t, p, other)
    return cost


@njit(cache=True)
def _of_group(z, occ, pos, t, g):
    """What one group costs by itself: balance, genders, partners, lone pupils, and mates it has lost."""
    f = z[z[SEATING] + t]
    first, last = z[z[START] + t * (z[G] + 1) + g], z[z[START] + t * (z[G] + 1) + g + 1]
    off, a, b, eal, supported = np.int64(0), 0, 0, 0, 0
    cost = np.int64(0)
    for k in range(first, last):
        p = occ[f, z[z[SEATS] + t * z[N] + k]]
        off += z[z[OFF_MEAN] + p]
        a += z[z[SIDE] + p] == 1
        b += z[z[SIDE] + p] == 2
        eal += z[z[EAL] + p]
        supported += z[z[SUPPORTED] + p]
        if z[z[MATE_COUNT] + p]:
            cost += BROKEN * z[z[MATE_COUNT] + p]
            for j in range(first, last):
                cost -= BROKEN * z[z[MATES] + p * z[N] + occ[f, z[z[SEATS] + t * z[N] + j]]]
    if z[z[ORIGIN] + t] >= 0:
        return cost
    cost += z[z[WEIGHTS] + t * WISHES + 1] * abs(off) + z[z[WEIGHTS] + t * WISHES + 2] * max(
        0, abs(a - b) - 1
    )
    if z[z[WEIGHTS] + t * WISHES + 3]:
        for k in range(first, last):
            p = occ[f, z[z[SEATS] + t * z[N] + k]]
            if z[z[NAMES_SOME] + p]:
                found = False
                for j in range(first, last):
                    if z[z[LIKES] + p * z[N] + occ[f, z[z[SEATS] + t * z[N] + j]]]:
                        found = True
                        break
                if not found:
                    cost += z[z[WEIGHTS] + t * WISHES + 3]
    if z[z[WEIGHTS] + t * WISHES + 4] and last - first >= 3:
        for k in range(first, last):
            p = occ[f, z[z[SEATS] + t * z[N] + k]]
            same = 0
            if z[z[GENDER] + p] >= 0:
                for j in range(first, last):
                    same += z[z[GENDER] + occ[f, z[z[SEATS] + t * z[N] + j]]] == z[z[GENDER] + p]
            if same == 1 or (z[z[EAL] + p] and eal == 1) or (z[z[SUPPORTED] + p] and supported == 1):
                cost += z[z[WEIGHTS] + t * WISHES + 4]
    return cost


@njit(cache=True)
def _adults_short(z, occ, pos, t):
    """Adults missing when each serves two neighbouring groups."""
    if not z[ANY_NEAR]:
        return 0
    used, g = 0, 0
    f = z[z[SEATING] + t]
    while g < z[z[GROUPS] + t]:
        wanted = False
        for k in range(z[z[START] + t * (z[G] + 1) + g], z[z[START] + t * (z[G] + 1) + g + 1]):
            if z[z[NEAR] + occ[f, z[z[SEATS] + t * z[N] + k]]]:
                wanted = True
                break
        used += wanted
        g += 2 if wanted else 1
    return max(0, used - z[ADULTS])


@njit(cache=True)
def _crossed_badly(z, occ, pos, p):
    """Earlier partners of p met again where the cross should have parted them; mates do not count."""
    again = 0
    for c in range(z[K]):
        t = z[z[CROSS_STAGE] + c]
        f = z[z[SEATING] + t]
        g = z[z[GROUP_OF] + t * z[N] + pos[f, p]]
        mine = z[z[CROSS_IN] + c * z[N] + pos[z[z[CROSS_SEATING] + c], p]]
        for k in range(z[z[START] + t * (z[G] + 1) + g], z[z[START] + t * (z[G] + 1) + g + 1]):
            other = occ[f, z[z[SEATS] + t * z[N] + k]]
            if (
                other != p
                and not z[z[MATES] + p * z[N] + other]
                and z[z[CROSS_IN] + c * z[N] + pos[z[z[CROSS_SEATING] + c], other]] == mine
            ):
                again += 1
    return again


@njit(cache=True)
def _misplaced(z, pos, p):
    """Musts of place that p breaks: a seat not allowed, a bench not kept."""
    broken = 0
    for f in range(pos.shape[0]):
        broken += z[z[SEAT_OK] + (f * z[N] + p) * z[N] + pos[f, p]] == 0
    if z[ANY_STAY] and z[z[STAY] + p]:
        for t in range(1, z[T]):
            broken += (
                z[z[PLACE] + t * z[G] + _group(z, pos, t, p)] != z[z[PLACE] + 0 * z[G] + _group(z, pos, 0, p)]
            )
    return broken


@njit(cache=True)
def energy(z, occ, pos):
    """Compromise plus the price of broken musts and of partners met again."""
    n = occ.shape[1]
    total, twice = np.int64(0), np.int64(0)
    for t in range(z[T]):
        for g in range(z[z[GROUPS] + t]):
            total += _of_group(z, occ, pos, t, g)
        total += BROKEN * _adults_short(z, occ, pos, t)
        for p in range(n):
            twice += _pairs_of(z, occ, pos, t, p)
    for p in range(n):
        twice += MET_AGAIN * _crossed_badly(z, occ, pos, p)
        total += BROKEN * _misplaced(z, pos, p)
    return total + twice // 2


@njit(cache=True)
def _around(z, occ, pos, a, b):
    """All of the energy that a swap of a and b can change."""
    cost = np.int64(0)
    for t in range(z[T]):
        ga, gb = _group(z, pos, t, a), _group(z, pos, t, b)
        cost += _of_group(z, occ, pos, t, ga) + _pairs_of(z, occ, pos, t, a)
        if gb != ga:
            cost += _of_group(z, occ, pos, t, gb)
        cost += _pairs_of(z, occ, pos, t, b) + BROKEN * _adults_short(z, occ, pos, t)
    cost += MET_AGAIN * (_crossed_badly(z, occ, pos, a) + _crossed_badly(z, occ, pos, b))
    return cost + BROKEN * (_misplaced(z, pos, a) + _misplaced(z, pos, b))


@njit(cache=True)
def _swap(occ, pos, a, b, which):
    """Let two pupils change seats: in every seating (which < 0) or in one."""
    for f in range(occ.shape[0]):
        if which < 0 or which == f:
            i, j = pos[f, a], pos[f, b]
            occ[f, i], occ[f, j] = b, a
            pos[f, a], pos[f, b] = j, i


@njit(cache=True)
def _tried(z, occ, pos, a, b, which):
    """Make a swap; what could change because of it cost this much before and after."""
    before, after = np.int64(0), np.int64(0)
    for turn in range(2):  # one call in a loop: the compiler then works the large function in once
        after = _around(z, occ, pos, a, b)
        if turn == 0:
            before = after
            _swap(occ, pos, a, b, which)
    return before, after


@njit(cache=True)
def _wide(occ, state):
    """Which seatings a random swap touches: all of them half of the time, else one."""
    f = occ.shape[0]
    if f == 1 or _random(state) < 0.5:
        return -1
    return int(_random(state) * f)


@njit(cache=True)
def _felt(before, after, price):
    """A change as annealing feels it: counts at a price it can pay while warm, so that blocks can move in two steps."""
    broken = (after >> 48) - (before >> 48)
    again = ((after >> 32) & COUNT) - ((before >> 32) & COUNT)
    return (after & COST) - (before & COST) + price * (broken + again)


@njit(cache=True)
def improve(z, occ, pos, best, now, lowest, steps, warm, cold, price, state, rounds):
    """Anneal, then descend.

    Try ``steps`` random swaps while cooling from ``warm`` to ``cold``; ``occ`` and ``pos`` are changed in place, and
    ``best`` (F, n) takes the lowest seating met. Then take every swap of any pair that lowers the energy until none
    does, in at most ``rounds`` rounds. Returns the energy now and the lowest. One function for both, because each
    compiled entry compiles all that it calls anew.
    """
    n, seatings = occ.shape[1], occ.shape[0]
    cooling = (cold / warm) ** (1.0 / max(1, steps))
    heat = warm
    descent = n * n * (seatings + 1)
    gained = True
    for step in range(steps + rounds * descent):
        if step < steps:
            a = int(_random(state) * n)
            b = int(_random(state) * (n - 1))
            b += b >= a
            which = _wide(occ, state)
        else:
            at = (step - steps) % descent
            if at == 0:
                if not gained:
                    break
                gained = False
            a, b, which = at // (n * (seatings + 1)), (at // (seatings + 1)) % n, at % (seatings + 1) - 1
            if b <= a or (seatings == 1 and which >= 0):
                continue
        before, after = _tried(z, occ, pos, a, b, which)
        if step < steps:
            felt = _felt(before, after, price)
            taken = felt <= 0 or _random(state) < np.exp(-felt / heat)
            heat *= cooling
        else:
            taken = after < before
            gained = gained or taken
        if not taken:
            _swap(occ, pos, a, b, which)
            continue
        now += after - before
        if now < lowest:
            lowest = now
            best[:] = occ
    return now, lowest
