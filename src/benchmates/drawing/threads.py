"""The lesson as threads: wide, minutes from left to right; and tall, minutes downwards, for a narrow screen."""

from __future__ import annotations

from dataclasses import replace

from benchmates.core.terms import PupilId
from benchmates.drawing import ink
from benchmates.drawing.bends import Strand, bends
from benchmates.drawing.drawn import Drawing
from benchmates.drawing.headings import hang, headings
from benchmates.drawing.lettering import squeezed, width, wrapped
from benchmates.drawing.marks import clean, hatch, line, text, whose
from benchmates.drawing.placing import TALL, WIDE, Measures, for_class, runs
from benchmates.drawing.ruler import CLOCK_ROW, LEVEL, clock_times, ruler, stage_names
from benchmates.drawing.scenes import scenes
from benchmates.drawing.sleeves import label_marks, sleeve_mark, sleeves
from benchmates.drawing.words import description

SHEET = 1280.0  # px across a wide drawing at 1:1
PHONE = 356.0  # px across a tall one
LEAD = 44.0  # px in which threads come in from the names
NAME = 13.0
MOST_NAMES = 300.0  # px; a longer name is drawn together rather than cut
NAME_PITCH = 12.5  # px; names closer than this would touch, so a tall drawing shows the followed name alone


def wide(drawing: Drawing, followed: PupilId | None = None, *, alone: bool = False, id: str = "tw") -> str:
    """Draw a lesson with its minutes from left to right.

    Parameters
    ----------
    drawing
        The lesson.
    followed
        The pupil whose thread carries the accent; None follows nobody.
    alone
        Put tokens, hatches and styles inside, for use without a page round it.
    id
        Starts the ids of title and description, which a page may hold only once.
    """
    measures = for_class(WIDE, len(drawing.pupils), 13.4)
    left = min(max(width(n, NAME, bold=True) for _, n in drawing.pupils), MOST_NAMES) + 20
    left = max(left, 104.0)
    length = SHEET - left - 20
    scale = length / drawing.end
    hung = hang(headings(drawing), scale, left, SHEET)
    top = 52 + LEVEL * max(h.level for h in hung)
    strand = _strand(drawing, measures, scale, left=left, top=top, down=False)
    times, clock_rows = clock_times(drawing, scale, left, SHEET, top + measures.breadth + 27)
    y, foot = top - 8, top + measures.breadth + 12
    made = [*ruler(drawing, scale, left, y, foot), *stage_names(hung, y), *times]
    made += _threads(drawing, strand, measures, followed, token=26)
    made += _names_left(drawing, strand, followed)
    ends = strand.runs[-1].at.values()
    made.append(line(f"M{left + length:g} {top + min(ends) - 10:.1f}V{top + max(ends) + 10:.1f}", "endbar"))
    height = top + measures.breadth + 32 + CLOCK_ROW * (clock_rows - 1)
    return _svg(drawing, "wide", (SHEET, height), made, alone=alone, id=id)


def tall(drawing: Drawing, followed: PupilId | None = None, *, alone: bool = False, id: str = "tt") -> str:
    """Draw a lesson with its minutes downwards; the same arguments as `wide`."""
    left = 92.0
    room = replace(TALL, breadth=PHONE - left - 4)
    measures = for_class(room, len(drawing.pupils), 0)
    scale = _tall_scale(drawing)
    shown = [n for _, n in drawing.pupils]
    top = min(max(width(n, NAME, bold=True) for n in shown), MOST_NAMES) + 22
    strand = _strand(drawing, measures, scale, left=left, top=top, down=True)
    made, foot = _tall_stages(drawing, strand, measures.breadth)
    made += _threads(drawing, strand, measures, followed, token=22)
    made += _names_above(drawing, strand, followed)
    kind = "tall many" if measures.breadth / len(drawing.pupils) < NAME_PITCH else "tall"
    return _svg(drawing, kind, (PHONE, max(foot, top + drawing.end * scale) + 24), made, alone=alone, id=id)


def _strand(
    drawing: Drawing, measures: Measures, scale: float, *, left: float, top: float, down: bool
) -> Strand:
    placed, rows = runs(drawing.ids, scenes(drawing), measures)
    first = (placed[0].scene.end - placed[0].scene.start) * scale
    lead = min(LEAD, 0.7 * first)
    return Strand(placed, rows, bends(placed, scale, lead=lead), scale, lead, down, left, top)


def _threads(
    drawing: Drawing, strand: Strand, measures: Measures, followed: PupilId | None, *, token: float
) -> list[str]:
    """Sleeves, then threads, then the followed one in its casing, then tokens above all."""
    rows = sleeves(strand, measures)
    made = [sleeve_mark(s, strand, followed) for row in rows for s in row]
    paths = {p: strand.path(p) for p in drawing.ids}
    made.append('<g class="all">')
    made += [line(d, "thread", whose(p)) for p, d in paths.items()]
    d = paths.get(followed, "") if followed is not None else ""
    made.append(f'</g><g class="follow">{line(d, "casing")}{line(d, "followed")}</g><g class="tokens">')
    made += [mark for row in rows for mark in label_marks(row, strand, token)]
    return [*made, "</g>"]


def _names_left(drawing: Drawing, strand: Strand, followed: PupilId | None) -> list[str]:
    made = []
    for p, name in drawing.pupils:
        more = whose(p) + squeezed(name, NAME, MOST_NAMES, bold=True)
        kind = "name on" if p == followed else "name"
        made.append(
            text(strand.left - 10, strand.top + strand.rows[p] + 4, name, kind, anchor="end", more=more)
        )
    return made


def _names_above(drawing: Drawing, strand: Strand, followed: PupilId | None) -> list[str]:
    made = []
    for p, name in drawing.pupils:
        x, y = strand.left + strand.rows[p] + 4.2, strand.top - 8
        kind = "name on" if p == followed else "name"
        more = whose(p) + squeezed(name, NAME, MOST_NAMES, bold=True)
        made.append(
            f'<text class="{kind}"{more} transform="translate({x:.1f} {y:.1f}) rotate(-90)">{clean(name)}</text>'
        )
    return made


def _tall_scale(drawing: Drawing) -> float:
    """Px a minute downwards: enough for a short stage's time and name, within two and a half phone screens or so."""
    shortest = min(h.end - h.start for h in headings(drawing))
    return max(min(34 / shortest, 1600 / drawing.end), 900 / drawing.end)


def _tall_stages(drawing: Drawing, strand: Strand, breadth: float) -> tuple[list[str], float]:
    """Guide lines, hatches, times and names beside them; a block that finds no room slides down to the next gap."""
    left, made, free = strand.left, [], 0.0
    room = left - 12
    for slot in drawing.slots:
        y = strand.top + slot.start * strand.scale
        made.append(line(f"M{left - 8:g} {y:.1f}H{left + breadth:g}", "stage-line"))
        if slot.never_cut or slot.is_move:
            kind = "fixed" if slot.never_cut else "move"
            made.append(hatch(left - 8, y, 6, slot.minutes * strand.scale, kind))
    for heading in headings(drawing):
        y = max(strand.top + heading.start * strand.scale, free)
        lines = wrapped(f"{heading.name} {heading.told.removesuffix(' min')}", 12.5, room)
        made.append(text(0, y + 13, drawing.clock(heading.start), "stage"))
        for k, words in enumerate(lines):
            made.append(text(0, y + 27 + 14 * k, words, "mins", more=squeezed(words, 12.5, room)))
        free = y + 17 + 14 * len(lines)
    y = max(strand.top + drawing.end * strand.scale, free)
    made.append(
        line(f"M{left - 8:g} {strand.top + drawing.end * strand.scale:.1f}H{left + breadth:g}", "stage-line")
    )
    made.append(text(0, y + 13, drawing.clock(drawing.end), "stage"))
    return made, y


def _svg(
    drawing: Drawing, kind: str, size: tuple[float, float], made: list[str], *, alone: bool, id: str
) -> str:
    inside = ink.alone() if alone else ""
    sized = f' width="{size[0]:g}" height="{size[1]:g}"' if alone else ""
    said = clean(description(drawing, down="tall" in kind))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="threads {kind}" viewBox="0 0 {size[0]:g} {size[1]:.0f}"{sized}'
        f' role="img" aria-labelledby="{id}-t {id}-d">\n<title id="{id}-t">The lesson as threads</title>\n'
        f'<desc id="{id}-d">{said}</desc>\n{inside}' + "\n".join(made) + "</svg>"
    )
