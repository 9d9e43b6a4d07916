"""A way of working: a chain of stages with purpose, sizes, roles, minutes and what to look out for."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from benchmates.core.strategy.relation import Relation
from benchmates.core.terms import Span


class Purpose(StrEnum):
    """What group work is chosen for."""

    GENERATE = "generate"
    COMPARE = "compare and decide"
    EVALUATE = "evaluate products"
    LEARN = "learn content"
    LISTEN = "listen and explain"
    SHARE = "share findings"
    IMPROVE = "improve work"
    MAKE = "make"


@dataclass(frozen=True)
class Size:
    """Pupils in a group: the size aimed at, the least and the most allowed."""

    target: int
    least: int
    most: int

    def __post_init__(self) -> None:
        if not 1 <= self.least <= self.target <= self.most:
            raise ValueError(
                f"a size runs least <= target <= most, not {self.least}, {self.target}, {self.most}"
            )


@dataclass(frozen=True)
class Card:
    """A question card: one aspect that one pupil leads. ``shape`` is circle, square, triangle, star, ..."""

    word: str
    question: str
    shape: str = ""


@dataclass(frozen=True)
class Stage:
    """One stage of a way of working.

    Notes
    -----
    ``of`` is the index of the earlier stage in the same way. ``size`` belongs to new, merge, split, cross and
    (as the inner ring) inner_outer. ``roles`` run in order of need: a small group drops the last, and pupils beyond
    the list take ``spare_role``. ``repeat`` (rotate only): how many such turns follow; ``"members"`` means one fewer
    than the smallest group, ``"stations"`` one fewer than the way's stations. ``moves`` says what moves on in a
    rotation. ``step`` is how many places the one who moves (or the rest, when one stays) goes on; ``to_teacher``
    sends the one who moves to the teacher instead. ``parts`` (cross after a home stage): groups are formed by part,
    each home sending one pupil to each. ``from_pupils``: the stage is left out in a smaller class.
    ``move`` is the changeover before the stage, in minutes; minutes are per turn. ``each``: minutes for one group
    where groups report to the class in turn, 0 where they do not.
    """

    name: str
    relation: Relation
    minutes: Span
    of: int | None = None
    size: Size | None = None
    question: str = ""
    product: str = ""
    cards: tuple[Card, ...] = ()
    roles: tuple[str, ...] = ()
    spare_role: str = ""
    repeat: int | Literal["members", "stations"] = 1
    moves: Literal["pupils", "artefact", "role"] = "pupils"
    step: int = 1
    to_teacher: bool = False
    parts: tuple[str, ...] = ()
    by_part: bool = False
    from_pupils: int = 0
    move: float = 0.5
    each: float = 0.0


@dataclass(frozen=True)
class Claim:
    """A sentence about a way with its evidence mark: S1, S2, ... (a source read), M, C or K."""

    text: str
    mark: str


@dataclass(frozen=True)
class Way:
    """A way of working as a teacher chooses it.

    ``groups_at_least`` is how many groups of the first grouping it takes (three for envoys). ``stations`` is for
    carousels. ``jobs`` says in pupils' words what each role does.
    """

    key: str
    name: str
    purposes: tuple[Purpose, ...]
    why: Claim
    stages: tuple[Stage, ...]
    not_when: tuple[str, ...]
    assess: str
    remainder: str
    room: str
    kit: tuple[str, ...] = ()
    noise: str = ""
    cautions: tuple[str, ...] = ()
    claims: tuple[Claim, ...] = ()
    jobs: tuple[tuple[str, str], ...] = ()
    groups_at_least: int = 1
    stations: int = 0
    least_minutes: int = 0
    one_question_ok: bool = False

    def job(self, role: str) -> str:
        """What a role does, in pupils' words; empty when not said."""
        return dict(self.jobs).get(role, "")
