"""Threads as curves: straight in a scene, one cubic with level ends in each changeover."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from benchmates.core.terms import PupilId
from benchmates.drawing.placing import At, Run

MOST, LEAST = 40.0, 14.0  # px along; outside a planned move
FAR = 0.16  # of the longest way across
SHARE = 0.62  # of the shorter scene, so that a straight piece is left


@dataclass(frozen=True)
class Strand:
    """Runs laid on a scale: where each bend begins and ends along the sheet, and how to write a point.

    ``down`` turns the picture, minutes from top to bottom; ``lead`` is the px in which threads come in from the names.
    """

    runs: Sequence[Run]
    rows: At
    bends: tuple[tuple[float, float], ...]
    scale: float
    lead: float
    down: bool
    left: float
    top: float

    def spot(self, along: float, across: float) -> str:
        """A point of the drawing as SVG writes it."""
        if self.down:
            return f"{self.left + across:.1f} {self.top + along:.1f}"
        return f"{self.left + along:.1f} {self.top + across:.1f}"

    def straight(self, k: int) -> tuple[float, float]:
        """From where to where the threads of run ``k`` are straight."""
        start = self.bends[k - 1][1] if k else self.runs[0].scene.start * self.scale + self.lead
        end = self.bends[k][0] if k < len(self.bends) else self.runs[-1].scene.end * self.scale
        return min(start, end), end

    def path(self, pupil: PupilId) -> str:
        """One thread, from the name to the end of the lesson."""
        first, last = self.runs[0], self.runs[-1]
        start, end = first.scene.start * self.scale, self.straight(0)[0]
        came, y = self.rows[pupil], first.at[pupil]
        parts = [f"M{self.spot(start - 4, came)}L{self.spot(start, came)}", self._curve(start, end, came, y)]
        for (a, b), (before, after) in zip(self.bends, pairwise(self.runs), strict=True):
            y, then = before.at[pupil], after.at[pupil]
            parts.append(f"L{self.spot(a, y)}{self._curve(a, b, y, then)}")
        parts.append(f"L{self.spot(last.scene.end * self.scale, last.at[pupil])}")
        return "".join(parts)

    def _curve(self, a: float, b: float, y: float, then: float) -> str:
        half = (a + b) / 2
        return f"C{self.spot(half, y)} {self.spot(half, then)} {self.spot(b, then)}"


def bends(runs: Sequence[Run], scale: float, *, lead: float) -> tuple[tuple[float, float], ...]:
    """Where each bend lies: all of a planned move, else astride the boundary; longer when threads go far.

    No bend reaches into the bend before it, nor into the lead-in from the names.
    """
    found: list[tuple[float, float]] = []
    floor = runs[0].scene.start * scale + lead
    for before, after in pairwise(runs):
        a, b = _bend(before, after, scale)
        a = max(a, min(floor, before.scene.end * scale))
        found.append((a, max(a, b)))
        floor = found[-1][1]
    return tuple(found)


def _bend(before: Run, after: Run, scale: float) -> tuple[float, float]:
    end, start = before.scene.end * scale, after.scene.start * scale
    far = max(abs(y - after.at[p]) for p, y in before.at.items())
    width = min(max(LEAST, far * FAR), MOST)
    shorter = min(before.scene.end - before.scene.start, after.scene.end - after.scene.start) * scale
    width = max(min(width, SHARE * shorter), start - end)
    middle = (end + start) / 2
    return middle - width / 2, middle + width / 2
