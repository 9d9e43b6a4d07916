"""Does a chain of stages hang together? Every fault of the chain, told so that a teacher can mend it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from benchmates.core.errors import Fault
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.way import Stage

SIZED = frozenset({Relation.NEW, Relation.MERGE, Relation.SPLIT, Relation.CROSS, Relation.INNER_OUTER})
REFERS = frozenset(relation for relation in Relation if relation.needs_earlier) | {Relation.INNER_OUTER}
# These three keep the groups as they were, so they may refer to pupils on their own (a gallery); the others may not.
UNGROUPED = frozenset({Relation.INDIVIDUAL, Relation.WHOLE, Relation.INNER_OUTER})


def base(stages: Sequence[Stage], index: int) -> int:
    """The stage that formed the groups of this one: same, return, rotate and one-moves look back to it."""
    stage = stages[index]
    if stage.of is not None and (stage.relation.keeps_groups or stage.relation.one_goes):
        return base(stages, stage.of)
    return index


def place(stages: Sequence[Stage], index: int) -> str:
    """How a stage is called in a fault: "stage 2 (Fours)"."""
    return f"stage {index + 1} ({stages[index].name})"


def faults_in(stages: Sequence[Stage], *, stations: int = 0) -> tuple[Fault, ...]:
    """Everything that does not fit together in a chain whose ``of`` already point backwards."""
    faults = [fault for index in range(len(stages)) for fault in _faults_at(stages, index)]
    faults += _faults_of_stations(stages, stations)
    return tuple(faults)


def _faults_at(stages: Sequence[Stage], index: int) -> Iterator[Fault]:
    stage, here = stages[index], place(stages, index)
    yield from _size_faults(stage, here)
    yield from _key_faults(stage, here)
    if stage.of is not None and stage.relation in REFERS:
        yield from _earlier_faults(stages, index, here)
    yield from _role_faults(stages, index, here)
    yield from _part_faults(stages, index, here)


def _size_faults(stage: Stage, here: str) -> Iterator[Fault]:
    if stage.relation in SIZED and stage.size is None:
        yield Fault(
            f"{here}, size", "nothing there", "Write size = [least, aimed at, most], for instance [3, 4, 5]."
        )
    if stage.relation not in SIZED and stage.size is not None:
        found = f'"{stage.relation}" makes no groups of its own, so it takes no size'
        yield Fault(f"{here}, size", found, "Leave the line out.")


def _key_faults(stage: Stage, here: str) -> Iterator[Fault]:
    """Keys that only some relations know."""
    rotates, goes = stage.relation is Relation.ROTATE, stage.relation.one_goes
    misplaced = {
        "repeat": stage.repeat != 1 and not rotates,
        "moves": stage.moves != "pupils" and not rotates,
        "step": stage.step != 1 and not goes,
        "to_teacher": stage.to_teacher and stage.relation is not Relation.ONE_MOVES,
        "by_part": stage.by_part and stage.relation is not Relation.CROSS,
        "parts": bool(stage.parts) and stage.relation not in (Relation.NEW, Relation.CROSS),
    }
    belongs = {
        "step": "one_moves and one_stays", "to_teacher": "one_moves", "by_part": "cross", "parts": "new and cross",
    }  # fmt: skip
    for key, wrong in misplaced.items():
        if wrong:
            found = f'it does not belong to "{stage.relation}"'
            yield Fault(f"{here}, {key}", found, f"Leave it out: it belongs to {belongs.get(key, 'rotate')}.")
    if goes and stage.step < 1:
        yield Fault(f"{here}, step", str(stage.step), "Go on by 1 place or more.")


def _earlier_faults(stages: Sequence[Stage], index: int, here: str) -> Iterator[Fault]:
    stage = stages[index]
    earlier_index = base(stages, stage.of if stage.of is not None else index)
    earlier = stages[earlier_index]
    if stage.relation is Relation.INNER_OUTER:
        if earlier.relation is not Relation.INNER_OUTER:
            found = f'"{earlier.name}" has no rings'
            yield Fault(f"{here}, of", found, "A ring refers to an earlier ring: its other pupils go in.")
        return
    refused = (Relation.WHOLE, Relation.INNER_OUTER) if stage.relation.keeps_groups else tuple(UNGROUPED)
    if earlier.relation in refused:
        found = f'"{earlier.name}" has no groups to {_verb(stage.relation)}'
        yield Fault(f"{here}, of", found, 'Refer to a stage with groups, or write relation = "new".')
    elif stage.size is not None and earlier.size is not None:
        yield from _growth_faults(stage, earlier, here)


def _verb(relation: Relation) -> str:
    verbs = {Relation.MERGE: "join", Relation.SPLIT: "part", Relation.CROSS: "cross"}
    return verbs.get(relation, "send one from" if relation.one_goes else "go back to")


def _growth_faults(stage: Stage, earlier: Stage, here: str) -> Iterator[Fault]:
    assert stage.size is not None and earlier.size is not None
    now, before = stage.size.target, earlier.size.target
    if stage.relation is Relation.MERGE and now <= before:
        found = f'groups of {now} cannot be made by joining groups of {before} ("{earlier.name}")'
        yield Fault(f"{here}, size", found, f"Aim at {2 * before}, or more.")
    if stage.relation is Relation.SPLIT and now >= before:
        found = f'groups of {now} do not lie inside groups of {before} ("{earlier.name}")'
        yield Fault(f"{here}, size", found, f"Aim at fewer than {before}.")


def _role_faults(stages: Sequence[Stage], index: int, here: str) -> Iterator[Fault]:
    stage, formed = stages[index], stages[base(stages, index)]
    if stage.relation.one_goes and not stage.roles:
        found = "no role says who moves" if stage.relation is Relation.ONE_MOVES else "no role says who stays"
        yield Fault(f"{here}, roles", found, 'Name it first, for instance roles = ["envoy"].')
    if len(set(stage.roles)) < len(stage.roles):
        yield Fault(
            f"{here}, roles", "a role stands there twice", "Name it once; spare_role is for those left over."
        )
    if formed.size and formed.relation is not Relation.INNER_OUTER and len(stage.roles) > formed.size.most:
        found = f"{len(stage.roles)} roles for groups of at most {formed.size.most}"
        yield Fault(f"{here}, roles", found, "Leave out those a full group could not fill.")


def _part_faults(stages: Sequence[Stage], index: int, here: str) -> Iterator[Fault]:
    stage = stages[index]
    if stage.by_part and len(stage.parts) < 2:
        yield Fault(
            f"{here}, parts", "experts need parts", 'Write parts = ["Fit", "Finish", ...], two or more.'
        )
    if len(set(stage.parts)) < len(stage.parts):
        yield Fault(f"{here}, parts", "a part stands there twice", "Give each part a name of its own.")
    if stage.by_part and stage.of is not None and stage.parts:
        home = stages[base(stages, stage.of)]
        if home.parts != stage.parts:
            found = f'"{home.name}" does not share out the same parts'
            yield Fault(f"{here}, parts", found, f'Give "{home.name}" the same parts in the same order.')
        elif home.size and home.size.target != len(stage.parts):
            found = f"{len(stage.parts)} parts for homes of {home.size.target}"
            would_do = f'Aim at {len(stage.parts)} pupils in "{home.name}": one for each part.'
            yield Fault(f"{here}, parts", found, would_do)
    if len(stage.cards) > 1 and len({card.word for card in stage.cards}) < len(stage.cards):
        yield Fault(f"{here}, card", "two cards carry one word", "Give each card a word of its own.")


def _faults_of_stations(stages: Sequence[Stage], stations: int) -> Iterator[Fault]:
    wants = [index for index, stage in enumerate(stages) if stage.repeat == "stations"]
    if wants and stations < 2:
        found = "it goes round the stations, but there are none"
        yield Fault(place(stages, wants[0]), found, "Write stations = 4, say.")
    if stations and not wants:
        yield Fault(
            "stations",
            "no stage goes round them",
            'Give a rotate stage repeat = "stations", or leave it out.',
        )


def dead_time(stages: Sequence[Stage]) -> tuple[tuple[int, ...], ...]:
    """Runs of stages that grow by joining and all ask one and the same question: the later ones are dead time.

    Stages without a question do not count as asking the same.
    """
    grown_into = {stage.of for stage in stages if stage.relation is Relation.MERGE}
    last = [i for i, stage in enumerate(stages) if stage.relation is Relation.MERGE and i not in grown_into]
    runs = [_run_up_to(stages, index) for index in last]
    return tuple(run for run in runs if _one_question(stages, run))


def asks_again(stages: Sequence[Stage]) -> tuple[tuple[int, int], ...]:
    """Pairs of stages, earlier and later, of which the later joins the earlier's groups and asks the same again."""
    joins = [(s.of, i) for i, s in enumerate(stages) if s.relation is Relation.MERGE and s.of is not None]
    return tuple(pair for pair in joins if _one_question(stages, pair))


def _run_up_to(stages: Sequence[Stage], index: int) -> tuple[int, ...]:
    stage = stages[index]
    if stage.relation is not Relation.MERGE or stage.of is None:
        return (index,)
    return (*_run_up_to(stages, stage.of), index)


def _one_question(stages: Sequence[Stage], run: tuple[int, ...]) -> bool:
    asked = {" ".join(stages[index].question.casefold().split()).rstrip("?.! ") for index in run}
    return len(asked) == 1 and "" not in asked
