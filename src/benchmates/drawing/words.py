"""A lesson's groups in words: the title and description of a drawing."""

from __future__ import annotations

from benchmates.core.grouping.result import StageGroups
from benchmates.core.terms import counted
from benchmates.drawing.drawn import Drawing
from benchmates.drawing.headings import headings
from benchmates.drawing.scenes import Look, look_of


def description(drawing: Drawing, *, down: bool) -> str:
    """What the threads show, stage by stage, in plain sentences."""
    way = "from top to bottom" if down else "from left to right"
    said = [f"Minutes run {way}. Each of {counted(len(drawing.pupils), 'pupil')} is one line."]
    stage_at = {s.start: drawing.stage_of(s) for s in drawing.slots if not s.is_move}
    for heading in headings(drawing):
        at = drawing.clock(heading.start)
        said.append(f"{at} {heading.name}, {heading.told}: {together(stage_at[heading.start])}.")
    said.append("The list beside the drawing says the same for one pupil.")
    return " ".join(said)


def together(stage: StageGroups | None) -> str:
    """Who sits how: "all together", "alone", "8 pairs and 2 threes", "5 groups of 4 or 5"."""
    match look_of(stage):
        case Look.WHOLE:
            return "all together"
        case Look.ALONE:
            return "each alone"
        case Look.VISITS:
            return "each at another's work"
    assert stage is not None
    sizes = [len(g.members) for g in stage.groups]
    if look_of(stage) is Look.RINGS:
        return f"an inner ring of {sizes[0]} and an outer ring of {sum(sizes[1:])}"
    if look_of(stage) is Look.PAIRS:
        kinds = [(2, "pair"), (3, "three"), (1, "alone")]
        told = [counted(sizes.count(n), word) for n, word in kinds[:2] if n in sizes]
        told += [f"{sizes.count(1)} alone"] if 1 in sizes else []
        return " and ".join(told) if told else counted(len(sizes), "group")
    few, most = min(sizes), max(sizes)
    span = f"{few}" if few == most else f"{few} or {most}" if most == few + 1 else f"{few} to {most}"
    return f"{counted(len(sizes), 'group')} of {span}"
