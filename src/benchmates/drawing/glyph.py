"""A way of working as a thumbnail: its threads for this class, before there are any groups."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise

from benchmates.core.grouping.result import Group, StageGroups
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.shape import PlannedStage, Shape
from benchmates.core.terms import PupilId
from benchmates.drawing.bends import Strand, bends
from benchmates.drawing.lettering import width
from benchmates.drawing.marks import line, text
from benchmates.drawing.palette import PALETTE
from benchmates.drawing.placing import Measures, runs
from benchmates.drawing.scenes import Look, Scene, look_of

WIDTH, HEIGHT, WORDS = 220.0, 116.0, 20.0
MEASURES = Measures(breadth=HEIGHT, whole=1.5, pair=1.6, group=1.7, ring=2.6, outer=1.6, hole=9, pad=1)
SIZE_WORDS = {
    1: "alone",
    2: "pairs",
    3: "threes",
    4: "fours",
    5: "fives",
    6: "sixes",
    7: "sevens",
    8: "eights",
}

Seats = list[list[int]]


def glyph(shape: Shape) -> str:
    """A small drawing of a shape's threads, one of them followed. Said in words beside it, so hidden from readers."""
    scenes = _scenes(shape)
    pupils = tuple(_seat(k) for k in range(shape.pupils))
    placed, rows = runs(pupils, scenes, MEASURES)
    scale = WIDTH / scenes[-1].end
    strand = Strand(placed, placed[0].at, bends(placed, scale, lead=0), scale, 0, False, 0, 0)
    followed = sorted(pupils, key=rows.__getitem__)[len(pupils) * 2 // 5]
    made = _words(scenes, shape.stages, scale)
    for p in (*(p for p in pupils if p != followed), followed):
        colour, weight = (PALETTE["accent"], 2.2) if p == followed else (PALETTE["ink-2"], 0.9)
        made.append(f'<path d="{strand.path(p)}" fill="none" stroke="{colour}" stroke-width="{weight}"/>')
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="glyph threads" viewBox="0 0 {WIDTH:g} {HEIGHT + WORDS:g}"'
        f' aria-hidden="true">{"".join(made)}</svg>'
    )


def seated(stages: Sequence[PlannedStage], pupils: int) -> list[Seats]:
    """One seating that a shape allows: for every stage its groups as seat numbers."""
    made: list[Seats] = []
    for stage in stages:
        earlier = made[stage.of] if stage.of is not None else [[k] for k in range(pupils)]
        made.append(_seats(stage, earlier, pupils))
    return made


def _seats(stage: PlannedStage, earlier: Seats, pupils: int) -> Seats:
    match stage.relation:
        case Relation.INDIVIDUAL:
            return [[k] for k in range(pupils)]
        case Relation.WHOLE:
            return [list(range(pupils))]
        case Relation.NEW:
            return _cut(list(range(pupils)), stage.sizes)
        case Relation.MERGE if stage.inside:
            return [[p for j in united for p in earlier[j]] for united in stage.inside]
        case Relation.SPLIT if stage.inside:
            return _split(earlier, stage)
        case Relation.CROSS:
            return _cut(_dealt(earlier), stage.sizes)
        case Relation.INNER_OUTER:
            return _ring(stage, pupils)
        case Relation.ONE_MOVES if stage.stage.to_teacher:
            return [*(g[:-1] for g in earlier if len(g) > 1), [g[-1] for g in earlier]]
        case Relation.ONE_MOVES:
            return [g[:-1] + earlier[j - stage.stage.step][-1:] for j, g in enumerate(earlier)]
        case Relation.ONE_STAYS:
            return [g[:1] + earlier[j - stage.stage.step][1:] for j, g in enumerate(earlier)]
        case Relation.ROTATE if stage.stage.moves == "pupils":
            return earlier[-1:] + earlier[:-1]
    return earlier


def _cut(seats: list[int], sizes: Sequence[int]) -> Seats:
    ends = [0, *accumulate(sizes)]
    return [seats[a:b] for a, b in pairwise(ends) if seats[a:b]]


def _split(earlier: Seats, stage: PlannedStage) -> Seats:
    left = [list(g) for g in earlier]
    made = []
    for (whole, *_), size in zip(stage.inside, stage.sizes, strict=True):
        made.append(left[whole][:size])
        left[whole] = left[whole][size:]
    return made


def _dealt(groups: Seats) -> list[int]:
    """First members of every group, then second ones, and so on: cut into new groups, few meet again."""
    longest = max(len(g) for g in groups)
    return [g[k] for k in range(longest) for g in groups if k < len(g)]


def _ring(stage: PlannedStage, pupils: int) -> Seats:
    """Inner pupils spread over the class; another round takes others."""
    inner = stage.sizes[0]
    step = pupils / inner
    shift = step * (0.25 + 0.5 * (stage.source % 2))
    chosen = sorted({int(k * step + shift) % pupils for k in range(inner)})
    return [chosen, [p for p in range(pupils) if p not in chosen]]


def _seat(k: int) -> PupilId:
    return PupilId(str(k))


def _scenes(shape: Shape) -> list[Scene]:
    """Stages side by side, no narrower than a word needs, in minutes as planned."""
    planned = [max(s.stage.minutes.planned, 0.5) for s in shape.stages]
    least = 0.9 * sum(planned) / len(planned)
    made, at = [], 0.0
    for stage, seats, minutes in zip(shape.stages, seated(shape.stages, shape.pupils), planned, strict=True):
        groups = tuple(
            Group(
                str(g[0] + 1 if len(g) == 1 else j + 1),
                tuple(_seat(k) for k in g),
                station=_station(stage, j),
            )
            for j, g in enumerate(seats)
            if g
        )
        drawn = StageGroups(stage.name, stage.relation, stage.of, groups, stage.source, stage.turn)
        end = at + max(minutes, least)
        made.append(Scene(at, end, drawn, look_of(drawn)))
        at = end
    return made


def _station(stage: PlannedStage, place: int) -> str | None:
    moves = stage.relation is Relation.ROTATE and stage.stage.moves == "pupils"
    return str(place + 1) if moves else None


def _words(scenes: Sequence[Scene], stages: Sequence[PlannedStage], scale: float) -> list[str]:
    """A guide line and a word at the start of each stage; turns of one stage share theirs."""
    made = []
    starts = [k for k, s in enumerate(stages) if not k or s.source != stages[k - 1].source]
    for k, after in zip(starts, [*starts[1:], len(stages)], strict=True):
        x, end = scenes[k].start * scale, scenes[after - 1].end * scale
        made.append(line(f"M{x + 0.5:.1f} 0V{HEIGHT + 16:g}", "stage-line"))
        word = next((w for w in _words_for(scenes[k], stages[k]) if width(w, 12) + 4 <= end - x), None)
        if word is not None:
            made.append(text(x + 4, HEIGHT + 15, word, "mins t12"))
    return made


def _words_for(scene: Scene, stage: PlannedStage) -> list[str]:
    """The word for a stage, then a shorter one for where it does not fit."""
    match scene.look:
        case Look.WHOLE:
            return ["all"]
        case Look.RINGS:
            return ["rings"]
        case Look.VISITS:
            return ["visits"]
        case Look.STATIONS if stage.relation is Relation.ROTATE:
            return ["move on", "move"]
    sizes = sorted(stage.sizes)
    aimed = stage.stage.size.target if stage.stage.size is not None else sizes[len(sizes) // 2]
    return [SIZE_WORDS.get(aimed, "groups"), *([f"{aimed}s"] if aimed > 1 else [])]
