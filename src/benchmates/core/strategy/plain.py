"""Groups and nothing else: one new stage, for a class that has only names."""

from __future__ import annotations

from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.way import Claim, Purpose, Size, Stage, Way
from benchmates.core.terms import Span


def plain_groups(size: Size = Size(4, 3, 5)) -> Way:
    """One new stage of groups near ``size``; four is the usual size for design and decisions."""
    return Way(
        key="groups",
        name="Groups",
        purposes=(Purpose.COMPARE,),
        why=Claim("Groups for whatever the lesson asks.", "C"),
        stages=(
            Stage(
                name="Groups",
                relation=Relation.NEW,
                minutes=Span(5, 20, 40),
                size=size,
                roles=("chair", "scribe", "timekeeper", "spokesperson"),
                move=1.0,
            ),
        ),
        not_when=(),
        assess="Ask each pupil for one thing that somebody else in the group said.",
        remainder="Groups one larger or one smaller than asked for.",
        room="One table a group.",
        jobs=(
            ("chair", "Keep the talk going and ask everyone."),
            ("scribe", "Write down what the group decides."),
            ("timekeeper", "Watch the clock and say when time is short."),
            ("spokesperson", "Tell the class what your group decided."),
        ),
    )
