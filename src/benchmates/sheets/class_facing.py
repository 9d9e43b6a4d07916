"""What the class may see, and nothing else: cards, strip, wall sheet and board are set from these fields alone.

A list of what is allowed, not of what is hidden: a field added to pupils, plans or lessons later stays off every
class-facing sheet until somebody writes it here. Ids, musts, wishes, reasons and records have no place in it.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Heading:
    """What every class-facing sheet says of its lesson."""

    title: str
    lesson: str
    class_name: str
    date: str


@dataclass(frozen=True)
class Spot:
    """A group as it is shown and said: its label, its shape's name and where it is."""

    label: str
    called: str
    where: str


@dataclass(frozen=True)
class QuestionCard:
    """A question card: its word and shape, what it asks, and who leads it."""

    word: str
    shape: str
    question: str
    lead_by: tuple[str, ...] = ()


@dataclass(frozen=True)
class Person:
    """One pupil in a group: display name, role and what the role does in pupils' words."""

    name: str
    role: str = ""
    job: str = ""
    leads: tuple[str, ...] = ()
    turns: tuple[str, ...] = ()


@dataclass(frozen=True)
class Asked:
    """One stage as pupils meet it: its name, question and product, how long and until when."""

    name: str
    question: str
    product: str
    clock: str


@dataclass(frozen=True)
class GroupCard:
    """One group's card. ``turns`` head the columns of what changes, ``turns_tell`` says what that is."""

    spot: Spot
    stages: tuple[Asked, ...]
    people: tuple[Person, ...]
    cards: tuple[QuestionCard, ...]
    turns: tuple[str, ...]
    turns_tell: str
    stops_tell: str
    stops: tuple[str, ...]
    following: tuple[str, ...]


@dataclass(frozen=True)
class PlacesCard:
    """A stage in which everyone has a place of their own: who goes where, turn by turn."""

    stages: tuple[Asked, ...]
    turns: tuple[str, ...]
    people: tuple[Person, ...]


@dataclass(frozen=True)
class GroupCards:
    """The group cards of a lesson."""

    heading: Heading
    cards: tuple[GroupCard, ...]
    places: tuple[PlacesCard, ...]
    everyone: tuple[str, ...]


@dataclass(frozen=True)
class StripCell:
    """Where one pupil is in one stage; ``spots`` has one entry for each turn that differs."""

    label: str
    called: str
    wheres: tuple[str, ...]
    roles: tuple[str, ...]


@dataclass(frozen=True)
class StripRow:
    """One pupil's way through the lesson."""

    name: str
    cells: tuple[StripCell, ...]


@dataclass(frozen=True)
class Strip:
    """Who goes where at each stage."""

    heading: Heading
    columns: tuple[str, ...]
    rows: tuple[StripRow, ...]


@dataclass(frozen=True)
class WallGroup:
    """One group on the wall."""

    spot: Spot
    people: tuple[Person, ...]


@dataclass(frozen=True)
class WallPage:
    """One stage on the wall: groups, or in a stage of places each pupil's place.

    ``how`` says how everyone works, for a stage that has neither: alone, or all together.
    """

    asked: Asked
    how: str
    groups: tuple[WallGroup, ...]
    places: tuple[Person, ...]
    following: str


@dataclass(frozen=True)
class Wall:
    """The wall sheet, a page for each stage that looks different from the one before."""

    heading: Heading
    pages: tuple[WallPage, ...]
