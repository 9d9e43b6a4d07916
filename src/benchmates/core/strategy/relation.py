"""How the groups of one stage follow from the groups of an earlier one."""

from __future__ import annotations

from enum import StrEnum


class Relation(StrEnum):
    """The twelve relations from which every way of working is built."""

    INDIVIDUAL = "individual"
    WHOLE = "whole"
    NEW = "new"
    SAME = "same"
    RETURN = "return"
    MERGE = "merge"
    SPLIT = "split"
    CROSS = "cross"
    ONE_MOVES = "one_moves"
    ONE_STAYS = "one_stays"
    ROTATE = "rotate"
    INNER_OUTER = "inner_outer"

    @property
    def needs_earlier(self) -> bool:
        """Whether the relation refers to an earlier stage."""
        return self not in (Relation.INDIVIDUAL, Relation.WHOLE, Relation.NEW, Relation.INNER_OUTER)

    @property
    def is_free(self) -> bool:
        """Whether this stage could have parted a pair, so that earlier meetings in the lesson count against it."""
        return self in (Relation.NEW, Relation.CROSS)

    @property
    def is_counted(self) -> bool:
        """Whether wishes are weighed in this stage at all."""
        return self in COUNTED

    @property
    def keeps_musts(self) -> bool:
        """Whether musts hold in this stage."""
        return self not in (Relation.INDIVIDUAL, Relation.WHOLE, Relation.INNER_OUTER)

    @property
    def one_goes(self) -> bool:
        """Whether one pupil of each group parts from the rest, by moving on or by staying."""
        return self in (Relation.ONE_MOVES, Relation.ONE_STAYS)

    @property
    def keeps_groups(self) -> bool:
        """Whether the groups are those of an earlier stage."""
        return self in (Relation.SAME, Relation.RETURN, Relation.ROTATE)

    @property
    def in_words(self) -> str:
        """What pupils are told."""
        return WORDS[self]


COUNTED = frozenset(
    {Relation.NEW, Relation.MERGE, Relation.SPLIT, Relation.CROSS, Relation.ONE_MOVES, Relation.ONE_STAYS}
)

WORDS = {
    Relation.INDIVIDUAL: "on your own",
    Relation.WHOLE: "all together",
    Relation.NEW: "new groups",
    Relation.SAME: "stay in your group",
    Relation.RETURN: "back to your earlier group",
    Relation.MERGE: "join with your neighbours",
    Relation.SPLIT: "part into smaller groups",
    Relation.CROSS: "new groups, nobody from your last group",
    Relation.ONE_MOVES: "one moves on, the rest stay",
    Relation.ONE_STAYS: "one stays, the rest move on",
    Relation.ROTATE: "move on by one",
    Relation.INNER_OUTER: "inner and outer ring",
}
