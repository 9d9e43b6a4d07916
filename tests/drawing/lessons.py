"""Sample lessons for the drawings, made by hand: every name and group here is invented."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from itertools import accumulate, pairwise
from random import Random

from benchmates.core.grouping.result import Group, StageGroups
from benchmates.core.strategy.relation import Relation
from benchmates.core.terms import TOKEN_LETTERS, PupilId
from benchmates.drawing.drawn import Drawing, DrawnSlot

NAMES = [
    "Tamsin B",
    "Ravi K",
    "Odile M",
    "Femi A",
    "Gwen P",
    "Hana S",
    "Idris W",
    "Jonty C",
    "Kezia L",
    "Mirek T",
    "Noor H",
    "Otis D",
    "Priya V",
    "Quill R",
    "Saoirse F",
    "Tomasz Z",
    "Umi N",
    "Wren J",
    "Yusra E",
    "Zeke O",
    "Alba Q",
    "Bram X",
    "Cai Y",
    "Della G",
    "Ewan I",
    "Flora U",
    "Gil A",
    "Hetty B",
    "Ines C",
    "Jago D",
    "Kofi E",
    "Lowri F",
    "Moss G",
    "Nia H",
    "Orla I",
    "Piers J",
]
Seats = list[list[int]]
Row = tuple[str, float, str, int | None, bool]


def pupils(n: int) -> tuple[tuple[PupilId, str], ...]:
    return tuple((PupilId(f"p{k:02d}"), NAMES[k]) for k in range(n))


def cut(order: Sequence[int], sizes: Sequence[int]) -> Seats:
    return [list(order[a:b]) for a, b in pairwise([0, *accumulate(sizes)])]


def letters(groups: int) -> list[str]:
    if groups <= len(TOKEN_LETTERS):
        return list(TOKEN_LETTERS[:groups])
    each = -(-groups // len(TOKEN_LETTERS))
    return [f"{TOKEN_LETTERS[k // each]}{k % each + 1}" for k in range(groups)]


def parts(whole: Seats, small: Seats, labels: Sequence[str]) -> list[str]:
    """Labels of the parts of larger groups: A1, A2, B1."""
    found, seen = [], dict.fromkeys(labels, 0)
    for s in small:
        label = next(lab for lab, w in zip(labels, whole, strict=True) if set(s) <= set(w))
        seen[label] += 1
        found.append(f"{label}{seen[label] if not label[-1].isdigit() else 'abcd'[seen[label] - 1]}")
    return found


def stage(
    name: str, relation: Relation, seats: Seats, labels: Sequence[str], *, of: int | None = None, source: int = 0,
    turn: int = 0, stations: Sequence[str] | None = None, artefact: dict[int, int] | None = None,
    roles: Sequence[str] = (),
) -> StageGroups:  # fmt: skip
    def held(g: list[int]) -> dict[PupilId, PupilId] | None:
        return None if artefact is None else {_id(p): _id(artefact[p]) for p in g}

    groups = tuple(
        Group(
            label,
            tuple(_id(p) for p in g),
            bench=None,
            station=stations[k] if stations else None,
            artefact=held(g),
            roles={_id(p): r for p, r in zip(g, roles, strict=False)},
        )
        for k, (label, g) in enumerate(zip(labels, seats, strict=True))
    )
    return StageGroups(name, relation, of, groups, source, turn)


def _id(p: int) -> PupilId:
    return PupilId(f"p{p:02d}")


def individual(name: str, n: int, source: int = 0) -> StageGroups:
    return stage(
        name, Relation.INDIVIDUAL, [[p] for p in range(n)], [str(k + 1) for k in range(n)], source=source
    )


def on_the_clock(rows: Sequence[Row]) -> tuple[DrawnSlot, ...]:
    made, at = [], 0.0
    for name, minutes, kind, index, never_cut in rows:
        made.append(DrawnSlot(name, at, minutes, kind, index, never_cut))
        at += minutes
    return tuple(made)


def shuffled(n: int, seed: int) -> list[int]:
    order = list(range(n))
    Random(seed).shuffle(order)
    return order


FRAME: list[Row] = [
    ("Register", 4, "frame", None, True),
    ("Starter", 5, "frame", None, False),
    ("Briefing", 5, "frame", None, True),
]
CLOSE: list[Row] = [("Clear up", 5, "frame", None, True), ("Plenary", 4, "frame", None, False)]
NINE = dt.time(9, 0)


def nested(n: int, fours: Sequence[int], eights: Sequence[int], seed: int = 5) -> Drawing:
    """Alone, pairs, fours, eights, all together."""
    order = shuffled(n, seed)
    e = cut(order, eights)
    f = cut(order, fours)
    p = cut(order, [s for four in fours for s in {3: (3,), 4: (2, 2), 5: (2, 3)}[four]])
    top = letters(len(e))
    mid = parts(e, f, top)
    stages = (
        individual("Think", n),
        stage("Pairs compare", Relation.NEW, p, parts(f, p, mid), source=1),
        stage(
            "Fours choose", Relation.MERGE, f, mid, of=1, source=2, roles=("chair", "scribe", "timekeeper")
        ),
        stage(
            "Eights decide", Relation.MERGE, e, top, of=2, source=3, roles=("chair", "scribe", "timekeeper")
        ),
    )
    slots = on_the_clock(
        [*FRAME, ("Think", 3, "stage", 0, False), ("Pairs compare", 5, "stage", 1, False),
         ("Move", 1, "move", 2, False),
         ("Fours choose", 7, "stage", 2, False), ("Move", 1, "move", 3, False),
         ("Eights decide", 10, "stage", 3, False),
         ("Feedback", 6, "feedback", None, False), *CLOSE]
    )  # fmt: skip
    return Drawing(pupils(n), slots, stages, NINE)


def snowball() -> Drawing:
    return nested(28, (4, 3, 4, 3, 4, 3, 4, 3), (7, 7, 7, 7))


def jigsaw() -> Drawing:
    order = shuffled(25, 9)
    homes = cut(order, (4, 4, 4, 4, 4, 5))
    by_part: Seats = [[], [], [], []]
    for home in homes:
        for k, p in enumerate(home):
            by_part[k % 4].append(p)
    words = ["Fit", "Finish", "Use", "Cost"]
    experts, labels = [], []
    for word, members in zip(words, by_part, strict=True):
        half = len(members) // 2
        experts += [members[:half], members[half:]]
        labels += [f"{word} 1", f"{word} 2"]
    top = letters(6)
    stages = (
        stage("Homes agree criteria", Relation.NEW, homes, top, roles=("chair", "scribe")),
        stage("Experts", Relation.CROSS, experts, labels, of=0, source=1),
        stage("Homes teach", Relation.RETURN, homes, top, of=0, source=2),
        stage("Judge", Relation.SAME, homes, top, of=2, source=3),
        individual("Recommend", 25, source=4),
    )
    slots = on_the_clock(
        [*FRAME, ("Homes agree criteria", 10, "stage", 0, False), ("Move", 2, "move", 1, False),
         ("Experts", 18, "stage", 1, False), ("Move", 2, "move", 2, False),
         ("Homes teach", 16, "stage", 2, False),
         ("Judge", 8, "stage", 3, False), ("Feedback", 8.5, "feedback", None, False),
         ("Recommend", 7.5, "stage", 4, False), *CLOSE]
    )  # fmt: skip
    return Drawing(pupils(25), slots, stages, NINE)


def envoys() -> Drawing:
    homes = cut(shuffled(20, 3), (4, 4, 4, 4, 4))
    out = [[*g[1:], homes[k - 1][0]] for k, g in enumerate(homes)]
    top = letters(5)
    stages = (
        stage("Home groups", Relation.NEW, homes, top, roles=("envoy", "host", "host", "host")),
        stage("Envoys visit", Relation.ONE_MOVES, out, top, of=0, source=1),
        stage("Envoys report", Relation.RETURN, homes, top, of=0, source=2),
    )
    slots = on_the_clock(
        [*FRAME, ("Home groups", 12, "stage", 0, False), ("Move", 1, "move", 1, False),
         ("Envoys visit", 4, "stage", 1, False),
         ("Move", 1, "move", 2, False), ("Envoys report", 4, "stage", 2, False),
         ("Feedback", 6, "feedback", None, False),
         *CLOSE]
    )  # fmt: skip
    return Drawing(pupils(20), slots, stages, NINE)


def fishbowl() -> Drawing:
    n = 22
    order = shuffled(n, 4)
    fours = cut(order, (4, 4, 5, 5, 4))
    pairs = cut(order, (2, 2, 2, 2, 2, 3, 2, 3, 2, 2))
    top = letters(5)
    rings = []
    for k in range(2):
        inner = [g[k] for g in fours]
        rings.append([inner, [p for p in range(n) if p not in inner]])
    stages = [
        stage("Fishbowl", Relation.INNER_OUTER, rings[0], ["Inner ring", "Outer ring"]),
        stage("Fishbowl", Relation.INNER_OUTER, rings[1], ["Inner ring", "Outer ring"], turn=1),
        stage("Need map in pairs", Relation.NEW, pairs, parts(fours, pairs, top), source=1),
        stage(
            "Fours rank", Relation.MERGE, fours, top, of=2, source=2, roles=("chair", "scribe", "timekeeper")
        ),
        individual("Sketch alone", n, source=3),
    ]
    for turn, step in enumerate((6, 7, 8)):
        works = {p: order[(order.index(p) + step) % n] for p in range(n)}
        each, numbers = [[p] for p in range(n)], [str(p + 1) for p in range(n)]
        stages.append(
            stage(
                f"Critique, turn {turn + 1}",
                Relation.ROTATE,
                each,
                numbers,
                of=4,
                source=4,
                turn=turn,
                artefact=works,
            )
        )
    stages.append(individual("Re-rank", n, source=5))
    slots = on_the_clock(
        [("Register", 4, "frame", None, True), ("Starter", 6, "frame", None, False),
         ("Briefing", 6, "frame", None, True),
         ("Fishbowl, turn 1", 8, "stage", 0, False), ("Fishbowl, turn 2", 8, "stage", 1, False),
         ("Need map in pairs", 10, "stage", 2, False), ("Move", 1, "move", 3, False),
         ("Fours rank", 10, "stage", 3, False),
         ("Feedback", 8, "feedback", None, False), ("Sketch alone", 16, "stage", 4, False),
         ("Critique, turn 1", 3, "stage", 5, False), ("Critique, turn 2", 3, "stage", 6, False),
         ("Critique, turn 3", 4, "stage", 7, False), ("Re-rank", 3, "stage", 8, False),
         ("Clear up", 5, "frame", None, True), ("Plenary", 5, "frame", None, False)]
    )  # fmt: skip
    return Drawing(pupils(n), slots, tuple(stages), NINE)


def carousel() -> Drawing:
    groups = cut(shuffled(24, 8), (4,) * 6)
    top, stations = letters(6), [f"Station {k}" for k in range(1, 7)]
    stages, rows = [], list(FRAME)
    for turn in range(6):
        at = [stations[(k + turn) % 6] for k in range(6)]
        relation = Relation.ROTATE if turn else Relation.NEW
        stages.append(
            stage(f"Next station, turn {turn + 1}" if turn else "First station", relation, groups, top,
                  of=turn - 1 if turn else None, source=min(turn, 1), turn=max(0, turn - 1), stations=at)
        )  # fmt: skip
        if turn:
            rows.append(("Move", 1, "move", turn, False))
        rows.append((stages[-1].name, 6, "stage", turn, False))
    return Drawing(pupils(24), on_the_clock([*rows, *CLOSE]), tuple(stages), NINE)


def market() -> Drawing:
    """One stays at the stall, the rest visit; then new threes that have nothing to do with the stalls."""
    homes = cut(shuffled(18, 12), (3,) * 6)
    out = [[g[0], *homes[k - 1][1:]] for k, g in enumerate(homes)]
    threes = cut(shuffled(18, 13), (3,) * 6)
    top = letters(6)
    stages = (
        stage("Prepare stalls", Relation.NEW, homes, top),
        stage("Visit", Relation.ONE_STAYS, out, top, of=0, source=1),
        stage("Return", Relation.RETURN, homes, top, of=0, source=2),
        stage("New threes", Relation.NEW, threes, top, source=3),
    )
    slots = on_the_clock(
        [("Prepare stalls", 10, "stage", 0, False), ("Move", 1, "move", 1, False),
         ("Visit", 5, "stage", 1, False),
         ("Move", 1, "move", 2, False), ("Return", 4, "stage", 2, False),
         ("New threes", 9, "stage", 3, False)]
    )  # fmt: skip
    return Drawing(pupils(18), slots, stages)


def gallery() -> Drawing:
    """Everyone at their own numbered place, then two visits to the places next along."""
    n = 14
    order = shuffled(n, 30)
    labels = [str(k + 1) for k in range(n)]
    each = [[p] for p in order]
    stages = [stage("Lay out your work", Relation.INDIVIDUAL, each, labels, stations=labels)]
    for turn in (1, 2):
        there = labels[turn:] + labels[:turn]
        name = f"Visit, turn {turn}"
        stages.append(
            stage(name, Relation.ROTATE, each, labels, of=turn - 1, source=1, turn=turn - 1, stations=there)
        )
    stages.append(stage("Respond", Relation.RETURN, each, labels, of=0, source=2, stations=labels))
    rows: list[Row] = [(s.name, 4, "stage", k, False) for k, s in enumerate(stages)]
    return Drawing(pupils(n), on_the_clock(rows), tuple(stages), NINE)


def large() -> Drawing:
    return nested(36, (4, 5, 4, 5, 4, 5, 4, 5), (9, 9, 9, 9), seed=21)


def two() -> Drawing:
    stages = (stage("Talk", Relation.NEW, [[0, 1]], ["A"]),)
    return Drawing(pupils(2), on_the_clock([("Talk", 5, "stage", 0, False)]), stages)


SAMPLES = {
    "snowball": snowball, "jigsaw": jigsaw, "envoys": envoys, "fishbowl": fishbowl, "carousel": carousel,
    "market": market, "gallery": gallery, "large": large, "two": two,
}  # fmt: skip
