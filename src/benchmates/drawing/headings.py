"""The names of the stages along the ruler, on as many levels as it takes for none to touch another."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import takewhile

from benchmates.drawing.drawn import Drawing, DrawnSlot
from benchmates.drawing.lettering import width

NAME_SIZE, MINUTES_SIZE = 13.0, 12.5
SPACE = 6.0  # px between two labels
TRIES = 3_000  # placings looked at before a plain stair of labels is taken


@dataclass(frozen=True)
class Heading:
    """A stage's name with its minutes; the turns of one stage share a heading."""

    name: str
    told: str
    start: float
    end: float

    @property
    def width(self) -> float:
        """Width in px of the longer of its two lines."""
        return max(width(self.name, NAME_SIZE, bold=True), width(self.told, MINUTES_SIZE))


@dataclass(frozen=True)
class Hung:
    """A heading on its level (0 is next to the ruler), to the right of its line or to the left."""

    heading: Heading
    x: float
    level: int
    leftwards: bool = False

    @property
    def span(self) -> tuple[float, float]:
        """From where to where it reaches."""
        w = self.heading.width
        return (self.x - 5 - w, self.x - 5) if self.leftwards else (self.x + 5, self.x + 5 + w)

    def clears(self, other: Hung) -> bool:
        """Whether neither touches the other, nor the other's leader line."""
        (a, b), (c, d) = self.span, other.span
        if self.level == other.level:
            return b + SPACE <= c or d + SPACE <= a
        high, low = (self, other) if self.level > other.level else (other, self)
        return not low.span[0] - 2 < high.x < low.span[1] + 2


def headings(drawing: Drawing) -> list[Heading]:
    """One heading for each slot that is not a move; turns of the same stage in a row share one."""
    shared: list[list[DrawnSlot]] = []
    for slot in drawing.slots:
        if slot.is_move:
            continue
        if (
            shared
            and _source(drawing, slot) is not None
            and _source(drawing, shared[-1][-1]) == _source(drawing, slot)
        ):
            shared[-1].append(slot)
        else:
            shared.append([slot])
    return [_heading(together) for together in shared]


def _source(drawing: Drawing, slot: DrawnSlot) -> int | None:
    stage = drawing.stage_of(slot)
    return None if stage is None else stage.source


def _heading(together: list[DrawnSlot]) -> Heading:
    first, last = together[0], together[-1]
    if len(together) == 1:
        return Heading(first.name, f"{first.minutes:g} min", first.start, first.end)
    words = takewhile(lambda ws: len(set(ws)) == 1, zip(*(s.name.split() for s in together), strict=False))
    shared = re.sub(r"[\s,:]*(turn|round)?[\s,:]*$", "", " ".join(ws[0] for ws in words))
    even = all(s.minutes == first.minutes for s in together)
    total = sum(s.minutes for s in together)
    told = f"{len(together)}\u00a0×\u00a0{first.minutes:g} min" if even else f"{total:g} min"
    return Heading(shared or first.name, told, first.start, last.end)


def hang(named: list[Heading], scale: float, left: float, right: float) -> list[Hung]:
    """Hang every heading: inside its stage if it fits, else a level up with a leader line.

    Levels are as few as possible; of two neighbours that are both too long the first hangs to the left.
    """
    xs = [left + h.start * scale for h in named]
    for levels in range(1, 7):
        left_over = [TRIES]
        placed = _try(named, xs, scale, (left, right), levels, [], left_over)
        if placed is not None:
            return placed[::-1]
    return _stair(named, xs, right)


def _try(
    named: list[Heading], xs: list[float], scale: float, sheet: tuple[float, float], levels: int,
    placed: list[Hung], left_over: list[int],
) -> list[Hung] | None:  # fmt: skip
    """From the last heading backwards, the first placing in which nothing touches; None if there is none."""
    k = len(named) - 1 - len(placed)
    if k < 0:
        return placed
    for level in range(levels):
        for leftwards in (False, True) if level else (False,):
            left_over[0] -= 1
            if left_over[0] < 0:
                return None
            one = Hung(named[k], xs[k], level, leftwards)
            inside = one.heading.width + SPACE <= (named[k].end - named[k].start) * scale
            on_sheet = sheet[0] <= one.span[0] and one.span[1] <= sheet[1]
            if on_sheet and (level or inside) and all(one.clears(p) for p in placed):
                found = _try(named, xs, scale, sheet, levels, [*placed, one], left_over)
                if found is not None:
                    return found
    return None


def _stair(named: list[Heading], xs: list[float], right: float) -> list[Hung]:
    """Each heading one level above those its words reach over; never fails, may climb high."""
    placed: list[Hung] = []
    for heading, x in zip(reversed(named), reversed(xs), strict=True):
        leftwards = x + 5 + heading.width > right
        above = (
            max((p.level for p in placed), default=-1) + 1
        )  # here no words can touch, a leader line at most
        tries = (Hung(heading, x, level, leftwards) for level in range(above))
        clear = next((one for one in tries if all(one.clears(p) for p in placed)), None)
        placed.append(clear or Hung(heading, x, above, leftwards))
    return placed[::-1]
