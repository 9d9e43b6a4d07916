"""In which order pupils stand across the sheet, scene by scene, with crossings only where pupils really cross."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import fmean

from benchmates.core.grouping.result import StageGroups
from benchmates.core.terms import PupilId
from benchmates.drawing.families import (
    Family,
    Order,
    by_label,
    by_middle,
    crossings,
    families,
    in_order,
    is_outing,
)
from benchmates.drawing.scenes import Look, Scene, visited

# Twice is enough: the first turn places the groups, the second sends visitors to the side that faces their way.
TURNS = 2


def orders(pupils: Order, scenes: Sequence[Scene]) -> list[Order]:
    """The order of the pupils for every scene.

    Pupils are sorted once by largest group, then by the groups inside it; that order holds wherever groups are
    nested. Later groups that are not nested are ordered so that fewer threads cross; a tie keeps the order of labels.
    """
    made, belongs = families(scenes)
    rank = _rank(pupils, scenes)
    found = _family_orders(pupils, made, belongs, [rank] * len(made))
    for _ in range(TURNS):
        pulls = [_pull(found, belongs, scenes, home, rank) for home in range(len(made))]
        found = _family_orders(pupils, made, belongs, pulls)
    return [
        _outing(scene, found[belongs[k]], scenes[:k]) if is_outing(scene) else found[belongs[k]]
        for k, scene in enumerate(scenes)
    ]


def _rank(pupils: Order, scenes: Sequence[Scene]) -> dict[PupilId, float]:
    """List order; where pupils visit each other's places, the order of the places, so that they walk side by side."""
    if any(s.look is Look.VISITS for s in scenes):
        for scene in scenes:
            if scene.look is Look.ALONE and scene.stage is not None:
                return {g.members[0]: float(k) for k, g in enumerate(scene.stage.groups)}
    return {p: float(k) for k, p in enumerate(pupils)}


def _family_orders(
    pupils: Order, made: Sequence[Family], belongs: Sequence[int], pulls: Sequence[dict[PupilId, float]]
) -> list[Order]:
    found = [in_order(pupils, list(made[0].sets.items()), by_label, pulls[0])]
    for home in range(1, len(made)):
        before = found[belongs[belongs.index(home) - 1]]
        place = {p: float(k) for k, p in enumerate(before)}
        sets = list(made[home].sets.items())
        tries = [in_order(pupils, sets, by_label, place), in_order(pupils, sets, by_middle(before), place)]
        found.append(min(tries, key=lambda order: crossings(before, order)))
    return found


def _pull(
    found: Sequence[Order],
    belongs: Sequence[int],
    scenes: Sequence[Scene],
    home: int,
    rank: dict[PupilId, float],
) -> dict[PupilId, float]:
    """Where each pupil is drawn to by the other families and outings, so that they stand on the side that faces it."""
    drawn: dict[PupilId, list[float]] = {p: [] for p in rank}
    for k, scene in enumerate(scenes):
        here = belongs[k] == home and not is_outing(scene)
        if here or scene.stage is None or scene.look in (Look.VISITS, Look.STATIONS, Look.ALONE, Look.WHOLE):
            continue
        order = _outing(scene, found[belongs[k]], scenes[:k]) if is_outing(scene) else found[belongs[k]]
        place = {p: float(j) for j, p in enumerate(order)}
        outer = scene.look is Look.RINGS
        for group in scene.stage.groups:
            middle = fmean(place[p] for p in group.members)
            for p in group.members:
                drawn[p].append(place[p] if outer and group is not scene.stage.groups[0] else middle)
    own = {p: float(j) for j, p in enumerate(found[home])}
    small = 1e-3  # the list order breaks ties
    return {p: (fmean(d) if d else own[p]) + small * rank[p] for p, d in drawn.items()}


def _outing(scene: Scene, home: Order, before: Sequence[Scene]) -> Order:
    """The order of an outing, seen from the order of the places left."""
    assert scene.stage is not None
    match scene.look:
        case Look.RINGS:
            return _rings(scene.stage, home)
        case Look.VISITS:
            return _visits(scene.stage, home, before)
        case Look.STATIONS:
            return home  # stations are bands with a place of their own: see placing
        case _:
            return _hosts(scene.stage, home, before)


def _rings(stage: StageGroups, home: Order) -> Order:
    """The inner ring in the middle, the outer ring half above and half below."""
    inner = set(stage.groups[0].members)
    outside = [p for p in home if p not in inner]
    half = len(outside) // 2
    return (*outside[:half], *(p for p in home if p in inner), *outside[half:])


def _hosts(stage: StageGroups, home: Order, before: Sequence[Scene]) -> Order:
    """Groups stay where their label stood; visitors join them on the side from which they come."""
    stood = {p: k for k, p in enumerate(home)}
    places: dict[str, float] = {}
    for scene in before:
        for group in scene.groups:
            if scene.stage is not None and not is_outing(scene):
                places[group.label] = fmean(stood[p] for p in group.members)
    # A place that nobody came from (the teacher's bench) stands among those who came to it.
    groups = sorted(stage.groups, key=lambda g: places.get(g.label, fmean(stood[p] for p in g.members)))
    return tuple(p for g in groups for p in sorted(g.members, key=stood.__getitem__))


def _visits(stage: StageGroups, home: Order, before: Sequence[Scene]) -> Order:
    """Each pupil at the row of the work they have gone to; a row visited twice pushes the next one down."""
    row: dict[str, float] = {p: float(k) for k, p in enumerate(home)}
    for scene in before:
        if scene.look is Look.ALONE and scene.stage is not None:
            for group in scene.stage.groups:
                row.setdefault(group.label, row[group.members[0]])
    wanted: dict[PupilId, tuple[float, float]] = {}
    for group in stage.groups:
        pupil = group.members[0]
        target = visited(group)
        wanted[pupil] = (row.get(target if target is not None else pupil, row[pupil]), row[pupil])
    return tuple(sorted(home, key=wanted.__getitem__))
