"""The ruler of a wide drawing: minutes as ticks, hatches, stage names above and clock times below."""

from __future__ import annotations

from benchmates.drawing.drawn import Drawing
from benchmates.drawing.headings import Hung, headings
from benchmates.drawing.lettering import width
from benchmates.drawing.marks import hatch, line, text

LEVEL = 30.0  # px from one level of names to the next
CLOCK_SIZE = 12.5
CLOCK_ROW = 14.0


def ruler(drawing: Drawing, scale: float, left: float, y: float, foot: float) -> list[str]:
    """Base line, a tick a minute, hatches for fixed minutes and moves, and guide lines down to ``foot``."""
    end = left + drawing.end * scale
    made = [line(f"M{left:g} {y:g}H{end:.1f}", "rule-line")]
    for minute in range(int(drawing.end) + 1):
        tall = 9 if minute % 10 == 0 else 6 if minute % 5 == 0 else 3
        made.append(line(f"M{left + minute * scale:.1f} {y:g}v{-tall}", "tick"))
    for slot in drawing.slots:
        x = left + slot.start * scale
        if slot.never_cut or slot.is_move:
            kind = "fixed" if slot.never_cut else "move"
            made.append(hatch(x, y, slot.minutes * scale, 9, kind))
        made.append(line(f"M{x:.1f} {y:g}V{foot:g}", "stage-line"))
    made.append(line(f"M{end:.1f} {y:g}V{foot:g}", "stage-line"))
    return made


def stage_names(hung: list[Hung], y: float) -> list[str]:
    """Names and minutes, with leader lines for those a level up."""
    made = []
    for one in hung:
        base = y - 31 - LEVEL * one.level
        x, anchor = (one.x - 5, "end") if one.leftwards else (one.x + 5, "start")
        if one.level:
            made.append(line(f"M{one.x + 0.5:.1f} {base - 11:.1f}V{y - 10:.1f}", "leader"))
        made.append(text(x, base, one.heading.name, "stage", anchor=anchor))
        made.append(text(x, base + 14, one.heading.told, "mins", anchor=anchor))
    return made


def clock_times(drawing: Drawing, scale: float, left: float, right: float, y: float) -> tuple[list[str], int]:
    """Clock times below the drawing and how many rows they take; a turn's time is left out where there is no room."""
    starts = {h.start for h in headings(drawing)}
    wanted = [(s.start, s.start in starts) for s in drawing.slots if not s.is_move] + [(drawing.end, True)]
    reach: list[float] = []
    made = []
    for minute, needed in wanted:
        x, words = left + minute * scale, drawing.clock(minute)
        half = width(words, CLOCK_SIZE) / 2
        x = min(x, right - half)
        row = next((k for k, r in enumerate(reach) if x - half >= r + 5), len(reach))
        if row > 1 and not needed:
            continue
        if row == len(reach):
            reach.append(0.0)
        reach[row] = x + half
        made.append(text(x, y + CLOCK_ROW * row, words, "clock", anchor="middle"))
    return made, len(reach)
