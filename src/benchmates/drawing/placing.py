"""Where every thread runs across the sheet in every scene, in px."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from benchmates.core.grouping.result import Group
from benchmates.core.terms import PupilId
from benchmates.drawing.families import Order
from benchmates.drawing.order import orders
from benchmates.drawing.scenes import Look, Scene

At = dict[PupilId, float]


@dataclass(frozen=True)
class Measures:
    """Breadth across which threads run, and the px between members by kind of scene; ``pad`` is a sleeve's margin."""

    breadth: float
    whole: float
    pair: float
    group: float
    ring: float
    outer: float
    hole: float
    pad: float

    def inner(self, look: Look) -> float:
        """Distance between two members of one group."""
        return {Look.WHOLE: self.whole, Look.PAIRS: self.pair, Look.ALONE: 0.0}.get(look, self.group)


WIDE = Measures(breadth=410, whole=5.2, pair=8.5, group=10, ring=13, outer=5.6, hole=34, pad=7)
TALL = Measures(breadth=260, whole=3.6, pair=5.4, group=6.2, ring=8, outer=4.2, hole=22, pad=4.5)


@dataclass(frozen=True)
class Run:
    """A scene with the place of every thread; start and end still in minutes."""

    scene: Scene
    order: Order
    at: At


def runs(pupils: Order, scenes: Sequence[Scene], measures: Measures) -> tuple[list[Run], At]:
    """Place every scene; also gives the equal rows in which the names stand."""
    found = orders(pupils, scenes)
    stations = Stations.of(scenes)
    placed = [
        Run(scene, order, _place(scene, order, measures, stations))
        for scene, order in zip(scenes, found, strict=True)
    ]
    return placed, rows(found[0] if not _starts_outside(scenes) else _base(scenes, found), measures.breadth)


def rows(order: Order, breadth: float) -> At:
    """Equal rows, one for each pupil."""
    return slots([[p] for p in order], breadth, 0.0)


def slots(clumps: Sequence[Sequence[PupilId]], breadth: float, inner: float) -> At:
    """`inner` between members, the rest of the breadth shared out as gaps between the clumps."""
    gap = (breadth - inner * sum(len(c) - 1 for c in clumps)) / len(clumps)
    at: At = {}
    y = gap / 2
    for clump in clumps:
        for k, p in enumerate(clump):
            at[p] = y + k * inner
        y += (len(clump) - 1) * inner + gap
    return at


def fitting(inner: float, sizes: Sequence[int], breadth: float, pad: float) -> float:
    """`inner`, or less where so many groups with their sleeves would not find room."""
    steps = sum(s - 1 for s in sizes)
    room = breadth - len(sizes) * (2 * pad + 3)
    return inner if steps == 0 else min(inner, max(room, breadth * 0.3) / steps)


def _starts_outside(scenes: Sequence[Scene]) -> bool:
    return scenes[0].look in (Look.RINGS, Look.VISITS)


def _base(scenes: Sequence[Scene], found: Sequence[Order]) -> Order:
    """Where a lesson opens with an outing, names stand in the order of the first scene that is none."""
    at_home = [o for s, o in zip(scenes, found, strict=True) if s.look not in (Look.RINGS, Look.VISITS)]
    return at_home[0] if at_home else found[0]


def _place(scene: Scene, order: Order, measures: Measures, stations: Stations) -> At:
    match scene.look:
        case Look.ALONE | Look.VISITS:
            return rows(order, measures.breadth)
        case Look.WHOLE:
            inner = fitting(measures.whole, [len(order)], measures.breadth, measures.pad)
            return slots([order], measures.breadth, inner)
        case Look.RINGS:
            return _place_rings(scene.groups, order, measures)
        case Look.STATIONS:
            return stations.place(scene.groups, order, measures)
    clumps = _clumps(scene.groups, order)
    inner = fitting(measures.inner(scene.look), [len(c) for c in clumps], measures.breadth, measures.pad)
    return slots(clumps, measures.breadth, inner)


def _clumps(groups: Sequence[Group], order: Order) -> list[list[PupilId]]:
    """Members of each group in the order of the sheet, groups by their first member."""
    place = {p: k for k, p in enumerate(order)}
    clumps = [sorted(g.members, key=place.__getitem__) for g in groups if g.members]
    return sorted(clumps, key=lambda c: place[c[0]])


def _place_rings(groups: Sequence[Group], order: Order, measures: Measures) -> At:
    inner = [p for p in order if p in groups[0].members]
    outside = [p for p in order if p not in groups[0].members]
    half = len(outside) // 2
    middle = measures.breadth / 2
    step = min(measures.ring, 0.4 * measures.breadth / len(inner))
    rim = (len(inner) - 1) / 2 * step + measures.hole
    room = middle - rim - measures.pad
    outer = min(measures.outer, room / max(1, len(outside) - half))
    at = {p: middle + (k - (len(inner) - 1) / 2) * step for k, p in enumerate(inner)}
    at |= {p: middle - rim - k * outer for k, p in enumerate(reversed(outside[:half]))}
    at |= {p: middle + rim + k * outer for k, p in enumerate(outside[half:])}
    return at


@dataclass(frozen=True)
class Stations:
    """Stations in the order in which groups first stood at them, with the most pupils each one ever holds."""

    most: dict[str, int]

    @classmethod
    def of(cls, scenes: Sequence[Scene]) -> Stations:
        """Gather the stations of all turns, so that each keeps one place for the whole lesson."""
        most: dict[str, int] = {}
        for scene in scenes:
            if scene.look is Look.STATIONS:
                held: dict[str, int] = {}
                for g in scene.groups:
                    held[g.station or g.label] = held.get(g.station or g.label, 0) + len(g.members)
                for station, pupils in held.items():
                    most[station] = max(most.get(station, 0), pupils)
        return cls(most)

    def place(self, groups: Sequence[Group], order: Order, measures: Measures) -> At:
        """Each group in the middle of its station's band; two groups at one station share it."""
        at_station: dict[str, list[Group]] = {}
        for group in groups:
            at_station.setdefault(group.station or group.label, []).append(group)
        copies = max(len(g) for g in at_station.values())
        sizes = [n + (copies - 1) for n in self.most.values()]
        inner = fitting(measures.group, sizes, measures.breadth, measures.pad * (1 + 0.8 * (copies - 1)))
        gap = (measures.breadth - inner * sum(n - 1 for n in self.most.values())) / len(self.most)
        at: At = {}
        top = gap / 2
        for station, most in self.most.items():
            span = (most - 1) * inner
            at |= self._band(at_station.get(station, []), order, top + span / 2, span + gap, inner)
            top += span + gap
        return at

    @staticmethod
    def _band(groups: Sequence[Group], order: Order, middle: float, breadth: float, inner: float) -> At:
        if not groups:
            return {}
        clumps = _clumps(groups, order)
        at = slots(clumps, breadth, inner)
        return {p: middle - breadth / 2 + y for p, y in at.items()}


def for_class(measures: Measures, pupils: int, row: float) -> Measures:
    """The same measures, broader for a large class (rows never under ``row``) and narrower for a handful."""
    breadth = min(max(measures.breadth, row * pupils), max(measures.breadth * 0.4, 34.0 * pupils))
    return replace(measures, breadth=breadth)
