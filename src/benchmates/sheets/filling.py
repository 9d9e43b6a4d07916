"""Fills the class-facing fields from a lesson, its groups and the pupils' display names."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from benchmates.core.grouping.result import Group, GroupPlan, StageGroups
from benchmates.core.lesson.plan import Lesson
from benchmates.core.lesson.timing import Slot, Timetable, clock, in_words
from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.way import Stage
from benchmates.core.terms import PupilId, joined
from benchmates.drawing.tokens import spoken
from benchmates.sheets.class_facing import (
    Asked,
    GroupCard,
    GroupCards,
    Heading,
    Person,
    PlacesCard,
    QuestionCard,
    Spot,
    Strip,
    StripCell,
    StripRow,
    Wall,
    WallGroup,
    WallPage,
)
from benchmates.sheets.following import next_words, partners, shared_noun, where_of
from benchmates.sheets.turns import Turns, has_places, is_grouped, turns_together


@dataclass(frozen=True)
class Source:
    """What class-facing fields are filled from. Names, not pupils: nothing else of a pupil gets this far."""

    lesson: Lesson
    plan: GroupPlan
    names: Mapping[PupilId, str]
    times: Timetable

    def stage(self, number: int) -> Stage:
        """The way's stage of a planned stage."""
        return self.lesson.way.stages[self.plan.stages[number].source]

    def slot(self, number: int) -> Slot | None:
        """The stretch on the clock in which a planned stage runs."""
        return next((s for s in self.times.slots if s.stage == number and s.kind != "move"), None)

    def by_name(self, pupils: tuple[PupilId, ...]) -> tuple[PupilId, ...]:
        """These pupils in the order of their names."""
        return tuple(sorted(pupils, key=lambda p: (self.names[p].casefold(), self.names[p])))


def heading(source: Source, title: str) -> Heading:
    """What every class-facing sheet says of its lesson."""
    lesson = source.lesson
    return Heading(title, lesson.title, lesson.class_name, day(lesson))


def day(lesson: Lesson) -> str:
    """The lesson's date as it is written on paper; empty if it has none."""
    return f"{lesson.date.day} {lesson.date:%B %Y}" if lesson.date else ""


# ---- group cards


def group_cards(source: Source) -> GroupCards:
    """A card for each group of each grouped stage; turns of one rotation share a card."""
    cards, places = [], []
    for turns in turns_together(source.plan):
        first = source.plan.stages[turns[0]]
        if has_places(first):
            places.append(_places_card(source, turns))
        else:
            cards += [_group_card(source, turns, number) for number in range(len(first.groups))]
    everyone = () if cards or places else tuple(source.names[p] for p in source.by_name(source.plan.present))
    return GroupCards(heading(source, "Group cards"), tuple(cards), tuple(places), everyone)


def _group_card(source: Source, turns: Turns, number: int) -> GroupCard:
    stages = [source.plan.stages[turn] for turn in turns]
    group, last = stages[0].groups[number], stages[-1].groups[number]
    each = [stage.groups[number] for stage in stages]
    spot = _spot(group)
    people = _once_each(tuple(_person(source, turns, number, pupil) for pupil in group.members))
    stops = tuple(where_of(g) for g in each) if len({where_of(g) for g in each}) > 1 else ()
    return GroupCard(
        spot=Spot(spot.label, spot.called, "" if stops else spot.where),
        stages=_asked_once(source, turns),
        people=people,
        cards=_question_cards(source, turns[0], group),
        turns=tuple(_turn_name(stages, k) for k in range(len(stages))) if len(stages) > 1 else (),
        turns_tell="Whose paper you hold" if any(g.artefact for g in each) else "Your role",
        stops_tell=(shared_noun(stops) or "where").capitalize(),
        stops=_shortly(stops),
        following=_following(source, turns[-1], last),
    )


def _shortly(wheres: tuple[str, ...]) -> tuple[str, ...]:
    noun = shared_noun(wheres)
    return tuple(where.removeprefix(noun).strip() for where in wheres)


def _once_each(people: tuple[Person, ...]) -> tuple[Person, ...]:
    """Say what a role does once a card, however many have it."""
    told: set[str] = set()
    shown = []
    for person in people:
        shown.append(replace(person, job="") if person.job in told else person)
        told.add(person.job)
    return tuple(shown)


def _asked(source: Source, number: int) -> Asked:
    stage = source.stage(number)
    return Asked(
        source.plan.stages[number].name, stage.question, stage.product, minutes_until(source, number)
    )


def _asked_once(source: Source, turns: Turns) -> tuple[Asked, ...]:
    """What is asked, once for each stage of the way however many turns it takes."""
    seen: dict[int, list[int]] = {}
    for number in turns:
        seen.setdefault(source.plan.stages[number].source, []).append(number)
    asked = []
    for numbers in seen.values():
        stage, slot = source.stage(numbers[0]), source.slot(numbers[0])
        if len(numbers) == 1:
            asked.append(_asked(source, numbers[0]))
        else:
            long = f"{len(numbers)} turns of {in_words(slot.minutes)}" if slot else f"{len(numbers)} turns"
            asked.append(Asked(stage.name, stage.question, stage.product, long))
    return tuple(asked)


def minutes_until(source: Source, number: int) -> str:
    """How long a stage runs and until when, as far as it is known."""
    slot = source.slot(number)
    if slot is None:
        return ""
    start = source.lesson.start
    return in_words(slot.minutes) + (f", until {clock(start, slot.finish):%H:%M}" if start else "")


def _spot(group: Group) -> Spot:
    return Spot(group.label, spoken(group.label), where_of(group))


def _turn_name(stages: list[StageGroups], number: int) -> str:
    return f"Turn {number + 1}" if len(stages) > 1 else stages[0].name


def _person(source: Source, turns: Turns, number: int, pupil: PupilId) -> Person:
    groups = [source.plan.stages[turn].groups[number] for turn in turns]
    role = groups[0].roles.get(pupil, "")
    told = tuple(_turn(source, groups, group, pupil) for group in groups)
    changes = len(set(told)) > 1
    paper = any(group.artefact for group in groups)
    return Person(
        name=source.names[pupil],
        role="" if changes and not paper else role,
        job="" if changes and not paper else source.lesson.way.job(role),
        leads=_leads(groups[0], pupil),
        turns=told if changes else (),
    )


def _turn(source: Source, groups: Sequence[Group], group: Group, pupil: PupilId) -> str:
    """What differs for one pupil in one turn: whose paper they hold, or their role."""
    if not any(g.artefact for g in groups):
        return group.roles.get(pupil, "")
    held = (group.artefact or {}).get(pupil, pupil)
    return "your own" if held == pupil else source.names[held]


def _question_cards(source: Source, number: int, group: Group) -> tuple[QuestionCard, ...]:
    lead_by: dict[str, list[str]] = {}
    for pupil, words in group.leads.items():
        for word in words:
            lead_by.setdefault(word, []).append(source.names[pupil])
    # A part of a jigsaw asks nothing of its own: who leads it stands beside the name.
    return tuple(
        QuestionCard(card.word, card.shape, card.question, tuple(lead_by.get(card.word, ())))
        for card in source.stage(number).cards
        if card.word in lead_by or not group.leads
    )


def _following(source: Source, number: int, group: Group) -> tuple[str, ...]:
    told = next_words(source.plan, number, group, source.names)
    others = partners(source.plan, number, group)
    if told and others:
        told = (
            f"{source.plan.stages[number + 1].name}: join with {joined([spoken(o) for o in others])}.",
            *told[1:],
        )
    return told or (_frame_after(source, number),)


def _frame_after(source: Source, number: int) -> str:
    """What the clock holds after the last stage."""
    here = source.slot(number)
    after = next(
        (s for s in source.times.slots if here and s.start >= here.finish and s.kind != "move"), None
    )
    return f"{after.name}." if after else ""


# ---- places of one's own


def _places_card(source: Source, turns: Turns) -> PlacesCard:
    stages = [source.plan.stages[turn] for turn in turns]
    return PlacesCard(
        stages=_asked_once(source, turns),
        turns=tuple(stage.name for stage in stages),
        people=tuple(
            Person(source.names[p], turns=tuple(where_of(stage.group_of(p)) for stage in stages))
            for p in source.by_name(source.plan.present)
        ),
    )


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
        wheres=(f"{noun} {_shortly(wheres)[0]}", *_shortly(wheres)[1:]) if noun else wheres,
        roles=_changes([_job(group, pupil) for group in groups]),
    )


def _job(group: Group, pupil: PupilId) -> str:
    return ", ".join(filter(None, (group.roles.get(pupil, ""), *_leads(group, pupil))))


def _leads(group: Group, pupil: PupilId) -> tuple[str, ...]:
    """The words a pupil leads; experts of one part are not told the part that names their group."""
    return tuple(
        w for w in group.leads.get(pupil, ()) if group.label != w and not group.label.startswith(f"{w} ")
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
            page = _wall_page(source, number)
            if stage.relation is Relation.ROTATE and pages and _looks_like(pages[-1], page):
                continue
            pages.append(page)
    return Wall(heading(source, "Wall sheet"), tuple(pages) or (_plain_wall(source),))


def _looks_like(one: WallPage, other: WallPage) -> bool:
    return (one.groups, one.places) == (other.groups, other.places)


def _wall_page(source: Source, number: int) -> WallPage:
    stage = source.plan.stages[number]
    places: tuple[Person, ...] = ()
    groups: tuple[WallGroup, ...] = ()
    if has_places(stage):
        pupils = source.by_name(source.plan.present)
        places = tuple(Person(source.names[p], turns=(where_of(stage.group_of(p)),)) for p in pupils)
    else:
        groups = tuple(
            WallGroup(_spot(g), tuple(Person(source.names[p], role=_job(g, p)) for p in g.members))
            for g in stage.groups
        )
    return WallPage(_asked(source, number), groups, places, _whole_class_next(source, number))


def _plain_wall(source: Source) -> WallPage:
    """A lesson without groups still has a wall: the names and the first question."""
    people = tuple(Person(source.names[p]) for p in source.by_name(source.plan.present))
    return WallPage(_asked(source, 0), (), people, _whole_class_next(source, 0))


def _whole_class_next(source: Source, number: int) -> str:
    if number + 1 < len(source.plan.stages):
        after = source.plan.stages[number + 1]
        return f"{after.name}, {after.relation.in_words}."
    return _frame_after(source, number)
