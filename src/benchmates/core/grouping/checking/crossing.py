"""Is a cross as far apart as it can be? The fewest repeats are worked out here by a flow of their own."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import combinations, product

from benchmates.core.errors import Fault
from benchmates.core.grouping.checking.must_faults import blocks, musts_hold
from benchmates.core.grouping.checking.scene import Scene, sets_of
from benchmates.core.roster.musts import Must
from benchmates.core.terms import PupilId, counted

Table = tuple[tuple[int, ...], ...]
# With more ways than this to seat the pupils who stay together, only swaps are tried.
MOST_SEATINGS = 4000


def cross_faults(scene: Scene, k: int, musts: Sequence[Must], adults: int) -> list[Fault]:
    """Faults of a crossed stage: more repeats of earlier partners than sizes and musts force.

    Sizes and pupils who stay together give the least number exactly. Other musts may force more; then the stage
    passes if no swap of two pupils that keeps every must would part more pairs.
    """
    stage = scene.plan.stages[k]
    assert stage.of is not None
    homes, now = sets_of(scene.plan.stages[stage.of]), sets_of(stage)
    repeated = sum(_pairs(len(home & group)) for home in homes for group in now)
    least = least_with_blocks(homes, [len(g) for g in now], blocks(musts, scene.plan.present))
    if repeated <= least:
        return []
    if musts and not _swap_parts_more(scene, k, homes, musts, adults):
        return []
    again = [two for home in homes for g in now for two in combinations(sorted(home & g), 2)]
    found = (
        f"{counted(repeated, 'pair')} together again from “{scene.plan.stages[stage.of].name}” "
        f"({'; '.join(scene.named(two) for two in again[:3])}{', ...' if len(again) > 3 else ''})"
    )
    return [Fault(scene.stage(k), found, f"{least or 'None'} would do with these sizes.")]


def least_with_blocks(
    homes: Sequence[frozenset[PupilId]], sizes: Sequence[int], together: Sequence[frozenset[PupilId]]
) -> int:
    """The fewest pairs of earlier partners who must meet again, when some pupils move as one.

    Notes
    -----
    Every way to seat the blocks is tried; the rest is a transport problem whose unit costs rise by one with each
    pupil from the same home.
    """
    rows = [len(h) for h in homes]
    shares = [[len(block & home) for home in homes] for block in together]
    if len(sizes) ** len(shares) > MOST_SEATINGS:
        shares = []
    costs: set[int] = set()
    for seats in product(range(len(sizes)), repeat=len(shares)):
        start = [[0] * len(sizes) for _ in homes]
        for share, column in zip(shares, seats, strict=True):
            for row, pupils in enumerate(share):
                start[row][column] += pupils
        # Groups of one size are alike: seat the columns of equal size in one fixed order.
        columns = sorted(zip(sizes, zip(*start, strict=True), strict=True))
        costs.add(_least(tuple(rows), tuple(c[0] for c in columns), tuple(c[1] for c in columns)))
    return min(costs - {-1}, default=0)


@lru_cache(maxsize=4096)
def _least(rows: tuple[int, ...], columns: tuple[int, ...], start: Table) -> int:
    """Least sum of x(x-1)/2 over tables with these sums and at least ``start[column][row]``; -1 if none exists.

    Successive cheapest paths (Busacker and Gowen 1961), plain Bellman-Ford: classes are small.
    """
    table = [[start[c][r] for c in range(len(columns))] for r in range(len(rows))]
    floor = [row[:] for row in table]
    room = [size - sum(start[c]) for c, size in enumerate(columns)]
    left = [size - sum(table[r]) for r, size in enumerate(rows)]
    if min(room) < 0 or min(left) < 0:
        return -1
    for row, pupils in enumerate(left):
        for _ in range(pupils):
            _send_one(table, floor, room, row)
    return sum(_pairs(x) for line in table for x in line)


def _send_one(table: list[list[int]], floor: list[list[int]], room: list[int], start: int) -> None:
    """Seat one more pupil of a home by the cheapest chain of exchanges."""
    far = 10**9
    rows, columns = len(table), len(room)
    to_row, to_column = [far] * rows, [far] * columns
    from_row, from_column = [-1] * columns, [-1] * rows
    to_row[start] = 0
    changed = True
    while changed:
        changed = False
        for r, c in product(range(rows), range(columns)):
            x = table[r][c]
            if to_row[r] + x < to_column[c]:  # one pupil more of home r in group c meets x of their own
                to_column[c], from_row[c], changed = to_row[r] + x, r, True
            if x > floor[r][c] and to_column[c] - (x - 1) < to_row[r]:  # one fewer frees x - 1 pairs
                to_row[r], from_column[r], changed = to_column[c] - (x - 1), c, True
    at = min((c for c in range(columns) if room[c]), key=lambda c: to_column[c])
    room[at] -= 1
    while True:
        row = from_row[at]
        table[row][at] += 1
        if row == start:
            return
        at = from_column[row]
        table[row][at] -= 1


def _pairs(pupils: int) -> int:
    return pupils * (pupils - 1) // 2


def _swap_parts_more(
    scene: Scene, k: int, homes: Sequence[frozenset[PupilId]], musts: Sequence[Must], adults: int
) -> bool:
    """Whether swapping two pupils of this stage would part more earlier partners and keep every must."""
    stage = scene.plan.stages[k]
    now = [set(g) for g in sets_of(stage)]
    home_of = {p: h for h, home in enumerate(homes) for p in home}

    def mates(pupil: PupilId, group: set[PupilId], less: PupilId) -> int:
        return sum(home_of[q] == home_of[pupil] for q in group if q not in (pupil, less))

    for (a, one), (b, other) in combinations(enumerate(now), 2):
        for p, q in product(sorted(one), sorted(other)):
            gain = mates(p, one, q) + mates(q, other, p) - mates(p, other, q) - mates(q, one, p)
            if gain > 0:
                swapped = [*now]
                swapped[a], swapped[b] = (one - {p}) | {q}, (other - {q}) | {p}
                if musts_hold(scene, k, swapped, musts, adults):
                    return True
    return False
