"""Roles by fair rota: whoever has held a role least takes it next."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

import numpy as np

from benchmates.core.terms import PupilId

# A role held before weighs more than any role held before, so the rota runs role by role and then evens out the load.
SAME_ROLE = 100
UNWANTED = 10**6


class Rota:
    """Counts of roles held, growing as the lesson's own roles are given out."""

    def __init__(self, held: Counter[tuple[PupilId, str]], *, seed: int) -> None:
        self.held = Counter(held)
        self.chance = np.random.default_rng(seed)

    def times(self, pupil: PupilId, role: str) -> int:
        """How often this pupil has held this role, this lesson included."""
        return self.held[pupil, role]

    def note(self, roles: Mapping[PupilId, str]) -> None:
        """Remember roles just given."""
        self.held.update(roles.items())

    def share(
        self, members: Sequence[PupilId], roles: Sequence[str], fixed: Mapping[PupilId, Sequence[str]]
    ) -> dict[PupilId, str]:
        """Give each role to one member so that the least-held go first; ties fall by the seed.

        ``roles`` are as many as members or fewer; a member fixed to one of them holds it.
        """
        from scipy.optimize import linear_sum_assignment

        if not roles or not members:
            return {}
        cost = np.zeros((len(roles), len(members)))
        for r, role in enumerate(roles):
            for m, pupil in enumerate(members):
                load = sum(times for (who, _), times in self.held.items() if who == pupil)
                cost[r, m] = SAME_ROLE * self.held[pupil, role] + load
                mine = [f for f in fixed.get(pupil, ()) if f in roles]
                if mine and role not in mine:
                    cost[r, m] += UNWANTED
                elif mine:
                    cost[r, m] -= UNWANTED
        # The seed decides among equals; the amounts are far below one turn.
        cost += self.chance.random(cost.shape) * 0.01
        given = {members[int(m)]: roles[int(r)] for r, m in zip(*linear_sum_assignment(cost), strict=True)}
        shared = {p: given[p] for p in members if p in given}
        self.note(shared)
        return shared


def roles_for(size: int, roles: Sequence[str], spare: str) -> tuple[str, ...]:
    """The roles a group of this size needs: the first ones, and the spare role for everyone beyond them."""
    return (*roles[:size], *((spare,) * (size - len(roles)) if spare else ()))
