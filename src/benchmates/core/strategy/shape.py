"""How many groups of which size at every stage: planned backwards from the last merge."""

from __future__ import annotations

from dataclasses import dataclass

from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.way import Stage, Way


@dataclass(frozen=True)
class PlannedStage:
    """One stage with its group sizes; a rotation of three turns becomes three of these.

    ``source`` is the index of the stage in the way, ``turn`` counts the turns of a rotation from 0, ``of`` is the
    index of the earlier planned stage. ``inside`` (merge and split): for every group, the indices of the earlier
    groups it unites, or the index of the earlier group it lies in.
    """

    name: str
    stage: Stage
    source: int
    turn: int
    relation: Relation
    of: int | None
    sizes: tuple[int, ...]
    inside: tuple[tuple[int, ...], ...] = ()


@dataclass(frozen=True)
class Shape:
    """A way of working cut to one number of pupils. ``told`` holds what had to be adapted, in plain sentences."""

    way: Way
    pupils: int
    stages: tuple[PlannedStage, ...]
    told: tuple[str, ...] = ()


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
    raise NotImplementedError
