"""Fills the stage strip and the wall sheet: the whole class at a glance."""

from __future__ import annotations

from benchmates.core.strategy.relation import Relation
from benchmates.core.terms import PupilId
from benchmates.drawing.tokens import spoken
from benchmates.sheets.class_facing import (
    Person,
    Strip,
    StripCell,
    StripRow,
    Wall,
    WallGroup,
    WallPage,
)
from benchmates.sheets.following import shared_noun, where_of
from benchmates.sheets.source import (
    Source,
    asked_in,
    frame_after,
    heading,
    job_in,
    shortly,
    spot_of,
)
from benchmates.sheets.turns import Turns, has_places, is_grouped, turns_together

# ---- stage strip


def strip(source: Source) -> Strip:
    """Who goes where at each stage, pupils in the order of their names."""
    together = turns_together(source.plan)
    rows = tuple(
        StripRow(source.names[p], tuple(_cell(source, turns, p) for turns in together))
        for p in source.by_name(source.plan.present)
    )
    return Strip(heading(source, "Who goes where"), tuple(_column(source, turns) for turns in together), rows)


def _column(source: Source, turns: Turns) -> str:
    first = source.plan.stages[turns[0]].name
    return first if len(turns) == 1 else f"{first}, then {len(turns) - 1} more"


def _cell(source: Source, turns: Turns, pupil: PupilId) -> StripCell:
    groups = [source.plan.stages[turn].group_of(pupil) for turn in turns]
    label = "" if has_places(source.plan.stages[turns[0]]) else groups[0].label
    wheres = _changes([where_of(group) for group in groups])
    noun = shared_noun(wheres)
    return StripCell(
        label=label,
        called=spoken(label) if label else "",
        wheres=(f"{noun} {shortly(wheres)[0]}", *shortly(wheres)[1:]) if noun else wheres,
        roles=_changes([job_in(group, pupil) for group in groups]),
    )


def _changes(told: list[str]) -> tuple[str, ...]:
    """All turns where they differ, one word where they do not."""
    return tuple(filter(None, told if len(set(told)) > 1 else told[:1]))


# ---- wall


def wall(source: Source) -> Wall:
    """A page for each stage that the class sees; a turn that changes nothing on it shares the page before."""
    pages: list[WallPage] = []
    for number, stage in enumerate(source.plan.stages):
        if is_grouped(stage) or has_places(stage):
            page = wall_page(source, number)
            if stage.relation is Relation.ROTATE and pages and _looks_like(pages[-1], page):
                continue
            pages.append(page)
    return Wall(heading(source, "Wall sheet"), tuple(pages) or (_plain_wall(source),))


def _looks_like(one: WallPage, other: WallPage) -> bool:
    return (one.groups, one.places) == (other.groups, other.places)


def wall_page(source: Source, number: int) -> WallPage:
    """One stage as the class sees it, on paper or on the board; pupils alone or all together are told so."""
    stage = source.plan.stages[number]
    places: tuple[Person, ...] = ()
    groups: tuple[WallGroup, ...] = ()
    if has_places(stage):
        pupils = source.by_name(source.plan.present)
        places = tuple(Person(source.names[p], turns=(where_of(stage.group_of(p)),)) for p in pupils)
    elif is_grouped(stage):
        groups = tuple(
            WallGroup(spot_of(g), tuple(Person(source.names[p], role=job_in(g, p)) for p in g.members))
            for g in stage.groups
        )
    following = _whole_class_next(source, number)
    return WallPage(asked_in(source, number), stage.relation.in_words, groups, places, following)


def _plain_wall(source: Source) -> WallPage:
    """A lesson without groups still has a wall: the names and the first question."""
    people = tuple(Person(source.names[p]) for p in source.by_name(source.plan.present))
    how = source.plan.stages[0].relation.in_words
    return WallPage(asked_in(source, 0), how, (), people, _whole_class_next(source, 0))


def _whole_class_next(source: Source, number: int) -> str:
    if number + 1 < len(source.plan.stages):
        after = source.plan.stages[number + 1]
        return f"{after.name}, {after.relation.in_words}."
    return frame_after(source, number)
