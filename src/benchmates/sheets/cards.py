"""Fills the group cards, one for each group of each stage."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from benchmates.core.grouping.result import Group, StageGroups
from benchmates.core.lesson.timing import in_words
from benchmates.core.terms import PupilId, joined
from benchmates.drawing.tokens import spoken
from benchmates.sheets.class_facing import (
    Asked,
    GroupCard,
    GroupCards,
    Person,
    PlacesCard,
    QuestionCard,
    Spot,
)
from benchmates.sheets.following import next_words, partners, shared_noun, where_of
from benchmates.sheets.source import (
    Source,
    asked_in,
    frame_after,
    heading,
    leads_in,
    shortly,
    spot_of,
)
from benchmates.sheets.turns import Turns, has_places, turns_together

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
    spot = spot_of(group)
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
        stops=shortly(stops),
        following=_following(source, turns[-1], last),
    )


def _once_each(people: tuple[Person, ...]) -> tuple[Person, ...]:
    """Say what a role does once a card, however many have it."""
    told: set[str] = set()
    shown = []
    for person in people:
        shown.append(replace(person, job="") if person.job in told else person)
        told.add(person.job)
    return tuple(shown)


def _asked_once(source: Source, turns: Turns) -> tuple[Asked, ...]:
    """What is asked, once for each stage of the way however many turns it takes."""
    seen: dict[int, list[int]] = {}
    for number in turns:
        seen.setdefault(source.plan.stages[number].source, []).append(number)
    asked = []
    for numbers in seen.values():
        stage, slot = source.stage(numbers[0]), source.slot(numbers[0])
        if len(numbers) == 1:
            asked.append(asked_in(source, numbers[0]))
        else:
            long = f"{len(numbers)} turns of {in_words(slot.minutes)}" if slot else f"{len(numbers)} turns"
            asked.append(Asked(stage.name, stage.question, stage.product, long))
    return tuple(asked)


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
        leads=leads_in(groups[0], pupil),
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
    return told or (frame_after(source, number),)


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
