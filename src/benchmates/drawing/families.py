"""Which stages can share one order of pupils: those whose groups lie inside one another.

Inside such a family merges and splits need no crossing. A stage that fits no family starts one of its own, and the
threads cross on the way to it, as the pupils do.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from statistics import fmean, median

from benchmates.core.terms import PupilId
from benchmates.drawing.scenes import Look, Scene

Order = tuple[PupilId, ...]
Labelled = tuple[frozenset[PupilId], str]


@dataclass
class Family:
    """Nested groups with their labels, in the order in which they were met."""

    sets: dict[frozenset[PupilId], str] = field(default_factory=dict)

    def takes(self, groups: Iterable[frozenset[PupilId]]) -> bool:
        """Whether every new group lies inside, around or beside every group already here."""
        return all(a <= b or b <= a or not a & b for a in groups for b in self.sets)

    def take(self, scene: Scene) -> None:
        """Add the groups of a scene."""
        for group in scene.groups:
            self.sets.setdefault(frozenset(group.members), group.label)


def is_outing(scene: Scene) -> bool:
    """Whether pupils only visit: their order follows from the place they left and will come back to."""
    if scene.look in (Look.RINGS, Look.VISITS, Look.STATIONS):
        return True
    return scene.stage is not None and scene.stage.relation.one_goes


def families(scenes: Sequence[Scene]) -> tuple[list[Family], list[int]]:
    """The families, and for every scene which one it belongs to; whole class, alone and outings stay where they are."""
    made = [Family()]
    belongs: list[int] = []
    now = 0
    for scene in scenes:
        groups = [frozenset(g.members) for g in scene.groups]
        # Stations are visited by standing groups, so a carousel's groups belong together like any others.
        if groups and (not is_outing(scene) or scene.look is Look.STATIONS):
            fitting = [now, *(k for k in range(len(made)) if k != now)]
            now = next((k for k in fitting if made[k].takes(groups)), len(made))
            if now == len(made):
                made.append(Family())
            made[now].take(scene)
        belongs.append(now)
    return made, belongs


def in_order(
    pupils: Order,
    sets: Sequence[Labelled],
    rank_set: Callable[[Labelled], object],
    rank: dict[PupilId, float],
) -> Order:
    """Pupils by largest group, then by the groups inside it; inside the smallest group by ``rank``."""
    inside = [s for s in sets if len(s[0]) > 1 and s[0] < frozenset(pupils)]
    largest = [s for s in inside if not any(s[0] < t[0] for t in inside)]
    out: list[PupilId] = []
    for chosen in sorted(largest, key=rank_set):  # type: ignore[arg-type]
        members = tuple(p for p in pupils if p in chosen[0])
        out += in_order(members, [s for s in inside if s[0] < chosen[0]], rank_set, rank)
    held = set(out)
    return (*out, *sorted((p for p in pupils if p not in held), key=lambda p: rank.get(p, 0.0)))


def by_label(item: Labelled) -> tuple[tuple[int, int, str], ...]:
    """A sort key that reads numbers as numbers: A1, A2, A10, B1."""
    return tuple(
        (0, int(part), "") if part.isdigit() else (1, 0, part) for part in re.findall(r"\d+|\D+", item[1])
    )


def by_middle(before: Order) -> Callable[[Labelled], tuple[float, float, object]]:
    """A sort key by where a group's members came from: their median place, then their mean."""
    place = {p: k for k, p in enumerate(before)}

    def key(item: Labelled) -> tuple[float, float, object]:
        came = [place[p] for p in item[0]]
        return median(came), fmean(came), by_label(item)

    return key


def crossings(before: Order, after: Order) -> int:
    """How many pairs of threads cross between two orders."""
    place = {p: k for k, p in enumerate(before)}
    seats = [place[p] for p in after]
    return sum(a > b for k, a in enumerate(seats) for b in seats[k + 1 :])
