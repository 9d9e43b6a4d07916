"""Sleeves round the groups of a scene, and the token or label each group bears."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from benchmates.core.terms import TOKEN_LETTERS, PupilId
from benchmates.drawing.bends import Strand
from benchmates.drawing.lettering import width
from benchmates.drawing.marks import members, text
from benchmates.drawing.placing import Measures, Run
from benchmates.drawing.scenes import Look

LABEL_SIZE = 12.5
LEAST_TOKEN = 14.0  # px; smaller ones cannot be told apart


@dataclass(frozen=True)
class Sleeve:
    """One group in one scene: along from ``a`` to ``b``, across from ``lo`` to ``hi``, all in px."""

    look: str
    label: str
    members: tuple[PupilId, ...]
    a: float
    b: float
    lo: float
    hi: float

    @property
    def middle(self) -> float:
        """Its middle across the sheet."""
        return (self.lo + self.hi) / 2


def sleeves(strand: Strand, measures: Measures) -> list[list[Sleeve]]:
    """The sleeves of every run, from the first group across to the last."""
    found = []
    for k, run in enumerate(strand.runs):
        a, b = strand.straight(k)
        found.append(sorted(_of_run(run, a, b, measures), key=lambda s: s.lo) if b - a > 3 else [])
    return found


def _of_run(run: Run, a: float, b: float, measures: Measures) -> list[Sleeve]:
    made = []
    for index, group in enumerate(run.scene.groups):
        if run.scene.look is Look.RINGS and index:
            # The outer ring is drawn as two banks, one on each side of the inner ring.
            middle = measures.breadth / 2
            banks = [
                tuple(p for p in group.members if (run.at[p] < middle) is above) for above in (True, False)
            ]
            parts, look, label = [bank for bank in banks if bank], "outer", ""
        else:
            parts, label = [group.members], group.label
            look = {Look.PAIRS: "pairs", Look.RINGS: "ring"}.get(run.scene.look, "group")
        label = "" if run.scene.look is Look.RINGS else label
        for part in parts:
            ys = [run.at[p] for p in part]
            made.append(Sleeve(look, label, part, a, b, min(ys) - measures.pad, max(ys) + measures.pad))
    return made


def box(sleeve: Sleeve, strand: Strand) -> tuple[float, float, float, float]:
    """Its rectangle: x, y, width, height."""
    along, across = sleeve.b - sleeve.a, sleeve.hi - sleeve.lo
    if strand.down:
        return strand.left + sleeve.lo, strand.top + sleeve.a, across, along
    return strand.left + sleeve.a, strand.top + sleeve.lo, along, across


def sleeve_mark(sleeve: Sleeve, strand: Strand, followed: PupilId | None) -> str:
    """The sleeve itself; that of the followed pupil takes the accent."""
    x, y, w, h = box(sleeve, strand)
    has = " has" if followed in sleeve.members else ""
    return (
        f'<rect class="sleeve {sleeve.look}{has}"{members(sleeve.members)} x="{x:.1f}" y="{y:.1f}"'
        f' width="{w:.1f}" height="{h:.1f}" rx="6"/>'
    )


def label_marks(row: Sequence[Sleeve], strand: Strand, token: float) -> list[str]:
    """Tokens for the letters alone, words for parts and experts; none where it would touch its neighbour."""
    pitch = min((b.middle - a.middle for a, b in pairwise(row)), default=1000.0)
    letters = [s for s in row if s.label in TOKEN_LETTERS and s.label]
    worded = [s for s in row if s.label not in TOKEN_LETTERS]
    words = _words_down if strand.down else _words_along
    return _tokens(letters, strand, min(token, pitch - 2)) + words(worded, strand, pitch)


def _tokens(row: Sequence[Sleeve], strand: Strand, most: float) -> list[str]:
    if not row:
        return []
    thick = min(s.hi - s.lo for s in row)
    size = min(most, row[0].b - row[0].a - 2, thick + 4)
    if size < LEAST_TOKEN:
        return []
    made = []
    for sleeve in row:
        x, y, w, h = box(sleeve, strand)
        made.append(
            f'<use href="#tok-{sleeve.label}" x="{x + w / 2 - size / 2:.1f}" y="{y + h / 2 - size / 2:.1f}"'
            f' width="{size:.1f}" height="{size:.1f}"/>'
        )
    return made


def _words_along(row: Sequence[Sleeve], strand: Strand, pitch: float) -> list[str]:
    if not row:
        return []
    room = row[0].b - row[0].a - 6
    if pitch < LABEL_SIZE + 1 or max(width(s.label, LABEL_SIZE, bold=True) for s in row) > room:
        return []
    made = []
    for sleeve in row:
        x, y, w, h = box(sleeve, strand)
        made.append(text(x + w - 6, y + h / 2 + 4.3, sleeve.label, "part", anchor="end"))
    return made


def _words_down(row: Sequence[Sleeve], strand: Strand, pitch: float) -> list[str]:
    """Labels side by side where they fit, else in turn on two or three rows."""
    if not row:
        return []
    wide = max(width(s.label, LABEL_SIZE, bold=True) for s in row) + 3
    lines = next((n for n in (1, 2, 3) if wide <= n * pitch), 0)
    if not lines or row[0].b - row[0].a < 14 * lines + 4 or wide > 110:
        return []
    made = []
    for k, sleeve in enumerate(row):
        x, y, w, h = box(sleeve, strand)
        made.append(text(x + w / 2, y + h - 7 - 14 * (k % lines), sleeve.label, "part", anchor="middle"))
    return made
