"""What stands round the group stages: register, starter, briefing, feedback, clearing up, plenary.

The minutes are common practice, no source: a table for bells of 50, 60 and 100 minutes. Other bells lie between.
"""

from __future__ import annotations

from dataclasses import astuple, dataclass, fields

from benchmates.core.terms import Minutes

PRACTICAL_CLEAR_UP: Minutes = 8


@dataclass(frozen=True)
class Frame:
    """Minutes of one bell, in the order of the clock; they add up to the bell."""

    enter: Minutes
    starter: Minutes
    briefing: Minutes
    stages: Minutes
    changeovers: Minutes
    feedback: Minutes
    clear_up: Minutes
    plenary: Minutes


TABLE = {
    50: Frame(4, 4, 5, 24, 2, 5, 4, 2),
    60: Frame(4, 5, 6, 28, 3, 6, 5, 3),
    100: Frame(5, 6, 8, 52, 6, 9, 8, 6),
}


def frame_for(bell: int) -> Frame:
    """The minutes round the stages for a bell, in halves; the group stages take what rounding leaves.

    Between two bells of the table minutes run in a straight line; below 50 and above 100 they keep their share.
    """
    if bell in TABLE:
        return TABLE[bell]
    rounded = {
        part.name: round(2 * minutes) / 2
        for part, minutes in zip(fields(Frame), _between(bell), strict=True)
        if part.name != "stages"
    }
    return Frame(stages=bell - sum(rounded.values()), **rounded)


def _between(bell: int) -> tuple[float, ...]:
    below = max((known for known in TABLE if known <= bell), default=min(TABLE))
    above = min((known for known in TABLE if known >= bell), default=max(TABLE))
    low, high = astuple(TABLE[below]), astuple(TABLE[above])
    if below >= above:
        return tuple(minutes * bell / below for minutes in low)
    along = (bell - below) / (above - below)
    return tuple(a + along * (b - a) for a, b in zip(low, high, strict=True))
