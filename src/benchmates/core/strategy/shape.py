"""How many groups of which size at every stage: planned backwards from the last merge."""

from __future__ import annotations

from dataclasses import dataclass, replace

from benchmates.core.errors import CannotPlan
from benchmates.core.strategy.jigsaw import expert_groups
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.sizes import cut, even_sizes, least_repeats
from benchmates.core.strategy.way import Size, Stage, Way
from benchmates.core.terms import joined

SIZE_NAMES = {2: "pairs", 3: "threes", 4: "fours", 5: "fives", 6: "sixes", 7: "sevens", 8: "eights"}


@dataclass(frozen=True)
class PlannedStage:
    """One stage with its group sizes; a rotation of three turns becomes three of these.

    ``source`` is the index of the stage in the way, ``turn`` counts the turns of a rotation from 0, ``of`` is the
    index of the earlier planned stage. ``inside`` (merge and split): for every group, the indices of the earlier
    groups it unites, or the index of the earlier group it lies in. ``part`` (a cross by part): for every group, the
    index of the part it works on.
    """

    name: str
    stage: Stage
    source: int
    turn: int
    relation: Relation
    of: int | None
    sizes: tuple[int, ...]
    inside: tuple[tuple[int, ...], ...] = ()
    part: tuple[int, ...] = ()


@dataclass(frozen=True)
class Shape:
    """A way of working cut to one number of pupils. ``told`` holds what had to be adapted, in plain sentences."""

    way: Way
    pupils: int
    stages: tuple[PlannedStage, ...]
    told: tuple[str, ...] = ()


class CannotCut(CannotPlan):
    """The class cannot be cut to this way; ``sizes`` are other sizes that would do, nearest in spirit first."""

    def __init__(self, *told: str, sizes: tuple[int, ...] = ()) -> None:
        super().__init__(*told)
        self.sizes = sizes


def plan_shape(
    way: Way, pupils: int, *, size: int | None = None, sizes: tuple[int, int] | None = None
) -> Shape:
    """Cut a way of working to a number of pupils.

    Parameters
    ----------
    way
        The way of working.
    pupils
        How many are present.
    size
        A size asked for instead of the way's own: that of its largest planned stage (in a jigsaw, the number of
        parts). A chain of merges stops before the stage that this size makes needless.
    sizes
        Least and most instead of the way's own limits.

    Raises
    ------
    CannotPlan
        The class cannot be cut so; says why and which size would do.
    """
    if pupils < 1:
        raise CannotPlan("Nobody is present. Add at least one name.")
    if size is not None and size < 2:
        raise CannotPlan("A group has at least two pupils. Ask for a size of 2 or more.")
    try:
        return _cut_way(way, pupils, size=size, sizes=sizes)
    except CannotCut as trouble:
        others = _sizes_that_would_do(way, pupils)
        raise CannotCut(*trouble.told, *_would_do(way, others), sizes=others) from None


def _cut_way(way: Way, pupils: int, *, size: int | None, sizes: tuple[int, int] | None) -> Shape:
    stages, told = _fitted_stages(way, pupils, size=size, sizes=sizes)
    planned: list[PlannedStage] = []
    first_turn: dict[int, int] = {}  # planned index of the last turn of each stage of the way
    backwards = _sizes_of_merges(way, stages, pupils)
    for source, stage in stages.items():
        of = first_turn[stage.of] if stage.of is not None else None
        for turn in range(_turns(way, stage, planned, of)):
            planned.append(_plan_stage(way, stage, source, turn, of, planned, backwards, pupils))
            of = len(planned) - 1 if stage.relation is Relation.ROTATE else of
        first_turn[source] = len(planned) - 1
    return Shape(way, pupils, tuple(planned), tuple(told))


# ---- which stages stand, and at which size


def _fitted_stages(
    way: Way, pupils: int, *, size: int | None, sizes: tuple[int, int] | None
) -> tuple[dict[int, Stage], list[str]]:
    """Leave out merges that this class or this size makes needless, and set the size asked for."""
    told: list[str] = []
    stages = dict(enumerate(way.stages))
    for source, stage in list(stages.items()):
        if pupils < stage.from_pupils:
            _leave_out(stages, source)
            told.append(f"Under {stage.from_pupils} pupils {way.name.lower()} stops before {_named(stage)}.")
    if size is not None:
        for source in reversed(_merges(stages)):
            earlier = stages[_of(stages[source])]
            if earlier.size is not None and earlier.size.target >= size:
                told.append(f"In groups of {size} the stage {_named(stages[source])} is not needed.")
                _leave_out(stages, source)
    if size is not None or sizes is not None:
        _resize(stages, size, sizes)
    return stages, told


def _named(stage: Stage) -> str:
    return f"“{stage.name}”"


def _of(stage: Stage) -> int:
    if stage.of is None:
        raise CannotPlan(f"The stage “{stage.name}” does not say which earlier stage it follows.")
    return stage.of


def _merges(stages: dict[int, Stage]) -> list[int]:
    return [k for k, s in stages.items() if s.relation is Relation.MERGE]


def _leave_out(stages: dict[int, Stage], gone: int) -> None:
    """Drop a stage; whatever followed from it now follows from the stage it came from."""
    instead = stages.pop(gone).of
    for source, stage in stages.items():
        if stage.of == gone:
            stages[source] = replace(stage, of=instead)


def _resize(stages: dict[int, Stage], size: int | None, sizes: tuple[int, int] | None) -> None:
    """Give the size asked for to the largest planned stage, and to a cross of the same size."""
    every = {k: s.size for k, s in stages.items() if s.size is not None}
    groups = {k: s for k, s in every.items() if stages[k].relation is not Relation.INNER_OUTER}
    sized = groups or every
    if not sized:
        raise CannotPlan("In this way pupils go round on their own, so there is no size to ask for.")
    largest = max(s.target for s in sized.values())
    for source, old in sized.items():
        if old.target == largest and not stages[source].by_part:
            stages[source] = replace(stages[source], size=_asked(old, size, sizes))


def _asked(old: Size, size: int | None, sizes: tuple[int, int] | None) -> Size:
    target = size if size is not None else old.target
    if sizes is not None:
        least, most = sizes
        return Size(min(max(target, least), most), least, most)
    shift = target - old.target
    return Size(target, max(2, old.least + shift), max(target, old.most + shift))


def _sizes_of_merges(
    way: Way, stages: dict[int, Stage], pupils: int
) -> dict[int, tuple[list[int], list[tuple[int, ...]]]]:
    """For every chain of merges, sizes from the last stage backwards.

    Returns for each stage in such a chain its group sizes and, for a merge, which earlier groups each one unites.
    """
    done: dict[int, tuple[list[int], list[tuple[int, ...]]]] = {}
    merged_from = {_grouping_of(stages, _of(s)) for s in stages.values() if s.relation is Relation.MERGE}
    for top in _merges(stages):
        if top in merged_from:
            continue
        sizes = list(_cut_or_refuse(way, stages[top], pupils))
        at = top
        while stages[at].relation is Relation.MERGE:
            below = _grouping_of(stages, _of(stages[at]))
            parts = [_parts_or_refuse(way, stages[below], s) for s in sizes]
            united: list[tuple[int, ...]] = []
            smaller: list[int] = []
            for part in parts:
                united.append(tuple(range(len(smaller), len(smaller) + len(part))))
                smaller.extend(part)
            done[at] = (sizes, united)
            at, sizes = below, smaller
        done[at] = (sizes, [])
    return done


def _grouping_of(stages: dict[int, Stage], source: int) -> int:
    """The stage that made the groups which this one keeps."""
    kept = stages[source].relation.keeps_groups
    return _grouping_of(stages, _of(stages[source])) if kept else source


def _parts_or_refuse(way: Way, stage: Stage, size: int) -> tuple[int, ...]:
    if stage.size is None:
        raise CannotPlan(f"The stage “{stage.name}” has no size, so nothing can be built on it.")
    parts = cut(size, stage.size)
    if parts is None:
        raise CannotCut(
            f"A group of {size} cannot be made from groups of {_limits(stage.size)} in “{stage.name}”."
        )
    return parts


def _cut_or_refuse(way: Way, stage: Stage, pupils: int) -> tuple[int, ...]:
    if stage.size is None:
        raise CannotPlan(f"The stage “{stage.name}” has no size.")
    sizes = cut(pupils, stage.size, groups_at_least=way.groups_at_least)
    if sizes is None:
        in_groups = f", in {way.groups_at_least} groups or more" if way.groups_at_least > 1 else ""
        raise CannotCut(
            f"{pupils} pupils cannot be cut into groups of {_limits(stage.size)}{in_groups} for {way.name.lower()}."
        )
    return sizes


def _limits(size: Size) -> str:
    return str(size.least) if size.least == size.most else f"{size.least} to {size.most}"


# ---- one planned stage


def _turns(way: Way, stage: Stage, planned: list[PlannedStage], of: int | None) -> int:
    if stage.relation is not Relation.ROTATE or of is None:
        return 1
    if stage.repeat == "members":
        return max(1, min(planned[of].sizes) - 1)
    if stage.repeat == "stations":
        return max(1, way.stations - 1)
    return stage.repeat


def _plan_stage(
    way: Way,
    stage: Stage,
    source: int,
    turn: int,
    of: int | None,
    planned: list[PlannedStage],
    backwards: dict[int, tuple[list[int], list[tuple[int, ...]]]],
    pupils: int,
) -> PlannedStage:
    inside: tuple[tuple[int, ...], ...] = ()
    part: tuple[int, ...] = ()
    match stage.relation:
        case Relation.INDIVIDUAL:
            sizes: tuple[int, ...] = (1,) * pupils
        case Relation.WHOLE:
            sizes = (pupils,)
        case Relation.INNER_OUTER:
            sizes = _rings(way, stage, pupils)
        case Relation.NEW | Relation.MERGE | Relation.CROSS if source in backwards:
            sizes, inside = tuple(backwards[source][0]), tuple(backwards[source][1])
        case Relation.NEW | Relation.MERGE:
            sizes = _cut_or_refuse(way, stage, pupils)
        case Relation.SPLIT:
            sizes, inside = _split(way, stage, planned[_known(of, stage)])
        case Relation.CROSS if stage.by_part:
            sizes, part = _expert_groups(planned[_root(planned, _known(of, stage))])
        case Relation.CROSS:
            sizes = _crossed(way, stage, planned[_known(of, stage)], pupils)
        case _:
            sizes = planned[_known(of, stage)].sizes
            if stage.to_teacher:
                sizes = (*(s - 1 for s in sizes), len(sizes))
    turns = stage.relation is Relation.ROTATE and (stage.repeat != 1)
    # The stage that a rotation starts from is its first turn, except where everyone only lays out their work.
    first = 2 if turns and max(sizes) > 1 else 1
    name = f"{stage.name}, turn {turn + first}" if turns else stage.name
    return PlannedStage(name, stage, source, turn, stage.relation, of, sizes, inside, part)


def _known(of: int | None, stage: Stage) -> int:
    if of is None:
        raise CannotPlan(f"The stage “{stage.name}” does not say which earlier stage it follows.")
    return of


def _root(planned: list[PlannedStage], k: int) -> int:
    """The stage that made the groups which stage ``k`` keeps."""
    of = planned[k].of
    return k if of is None or not planned[k].relation.keeps_groups else _root(planned, of)


def _rings(way: Way, stage: Stage, pupils: int) -> tuple[int, ...]:
    """Inner and outer ring; every round has other pupils inside, so all rounds together must fit the class."""
    if stage.size is None:
        raise CannotPlan(f"The stage “{stage.name}” has no size for its inner ring.")
    rounds = sum(s.relation is Relation.INNER_OUTER for s in way.stages)
    for inner in sorted(
        range(stage.size.least, stage.size.most + 1), key=lambda s: (abs(s - _target(stage)), s)
    ):
        # The outer ring needs at least as many watchers as it takes to fill the next inner ring.
        if inner * max(rounds, 2) <= pupils:
            return (inner, pupils - inner)
    raise CannotCut(
        f"{pupils} pupils are too few for {rounds} inner rings of {_limits(stage.size)} with other pupils each time."
    )


def _target(stage: Stage) -> int:
    return stage.size.target if stage.size is not None else 0


def _split(
    way: Way, stage: Stage, earlier: PlannedStage
) -> tuple[tuple[int, ...], tuple[tuple[int, ...], ...]]:
    sizes: list[int] = []
    inside: list[tuple[int, ...]] = []
    for group, whole in enumerate(earlier.sizes):
        parts = _parts_or_refuse(way, stage, whole)
        sizes.extend(parts)
        inside.extend((group,) for _ in parts)
    return tuple(sizes), tuple(inside)


def _expert_groups(homes: PlannedStage) -> tuple[tuple[int, ...], tuple[int, ...]]:
    found = expert_groups(homes.sizes, part_count(homes))
    if found is None:
        raise CannotCut(
            f"There are {part_count(homes)} parts, and the homes are too small to cover them all."
        )
    return found


def part_count(homes: PlannedStage) -> int:
    """How many parts a jigsaw has: the target size of its homes."""
    return homes.stage.size.target if homes.stage.size is not None else max(homes.sizes)


def _crossed(way: Way, stage: Stage, earlier: PlannedStage, pupils: int) -> tuple[int, ...]:
    """Sizes of a cross: fewest repeated pairs first, then nearest to the target, then fewer groups."""
    if stage.size is None:
        raise CannotPlan(f"The stage “{stage.name}” has no size.")
    size = stage.size
    cuts = [
        even_sizes(pupils, k, first=size.target)
        for k in range(2, pupils // size.least + 1)
        if k * size.least <= pupils <= k * size.most
    ]
    if not cuts or len(earlier.sizes) < 2:
        raise CannotCut(
            f"{pupils} pupils cannot be crossed in groups of {_limits(size)}: it takes two groups at least."
        )
    return min(
        cuts, key=lambda c: (least_repeats(earlier.sizes, c), abs(pupils - len(c) * size.target), len(c))
    )


# ---- what would do instead


def _sizes_that_would_do(way: Way, pupils: int) -> tuple[int, ...]:
    """Sizes with which the way can be had: first those at which a chain of merges stops earlier."""
    stops = [
        s.size.target
        for s in way.stages
        if s.size is not None and s.relation in (Relation.NEW, Relation.MERGE)
    ]
    own = max(stops, default=4)
    order = sorted({s for s in stops if s < own}, reverse=True)
    order += sorted((s for s in range(2, 10) if s not in order), key=lambda s: (abs(s - own), s))
    return tuple(s for s in order if _would_work(way, pupils, s))[:3]


def _would_work(way: Way, pupils: int, size: int) -> bool:
    try:
        _cut_way(way, pupils, size=size, sizes=None)
    except CannotPlan:
        return False
    return True


def _would_do(way: Way, sizes: tuple[int, ...]) -> tuple[str, ...]:
    if not sizes:
        return (f"No size makes {way.name.lower()} work with so few; choose another way of working.",)
    names = [SIZE_NAMES.get(s, f"groups of {s}") for s in sizes]
    return (f"{joined(names, last='or').capitalize()} would do.",)
