"""Print everything a lesson needs on paper."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

from benchmates.core.errors import CannotPlan
from benchmates.core.grouping.result import GroupPlan
from benchmates.core.lesson.plan import Lesson
from benchmates.core.roster.class_list import ClassList
from benchmates.sheets.class_facing import Timetable, class_facing
from benchmates.sheets.fonts import as_printed, font_files
from benchmates.sheets.staff import Away, run_sheet

TEMPLATES = Path(__file__).parent / "templates"
# Equal input gives equal bytes, so the clock of the machine stays out: 1 January 2000.
_STAMP = 946_684_800
_CLASS_FACING = ("group-cards", "stage-strip", "wall")


class Pack(dict[str, bytes]):
    """PDFs by file name; ``notices`` says which names could not be printed as they are written."""

    notices: tuple[str, ...] = ()


def print_pack(
    lesson: Lesson,
    plan: GroupPlan,
    class_list: ClassList,
    *,
    timetable: Timetable,
    away_lines: Sequence[Away],
    paper: str = "a4",
    large: bool = False,
) -> Pack:
    """Print group cards, strip, wall sheet and run sheet as tagged PDFs.

    Parameters
    ----------
    paper
        ``a4`` or ``a5``; the wall sheet is always A4, lying.
    large
        Nothing for pupils under 18 points.

    Raises
    ------
    CannotPlan
        The paper is neither.
    """
    if paper not in ("a4", "a5"):
        raise CannotPlan(f"paper {paper!r} is not known: choose a4 or a5")
    printed = {p.id: as_printed(p.name) for p in class_list}
    names = {id: shown.text for id, shown in printed.items()}
    shown = _all_printable(asdict(class_facing(lesson, plan, names, timetable)))
    staff = _all_printable(asdict(run_sheet(lesson, plan, names, timetable, away_lines)))
    import typst  # heavy: only where a sheet is printed

    folders = sorted({str(f.parent) for f in font_files()})
    fonts = typst.Fonts(include_system_fonts=False, font_paths=list(folders))
    faces = ["Atkinson Hyperlegible", *(f for f in fonts.families() if f.startswith("Noto "))]
    compiler = typst.Compiler(root=str(TEMPLATES), font_paths=fonts)
    pack = Pack()
    for sheet in (*_CLASS_FACING, "run-sheet"):
        data = {
            "title": as_printed(lesson.title).text, "faces": faces, "paper": paper, "large": large,
            **(shown if sheet in _CLASS_FACING else staff),
        }  # fmt: skip
        pdf = compiler.compile(
            input=str(TEMPLATES / f"{sheet}.typ"), format="pdf", sys_inputs={"data": json.dumps(data)},
            pdf_standards=["ua-1"], timestamp=_STAMP,
        )  # fmt: skip
        assert isinstance(pdf, bytes)
        pack[f"{sheet}.pdf"] = pdf
    pack.notices = tuple(p.notice for p in printed.values() if p.notice)
    return pack


def _all_printable(value: Any) -> Any:
    """The same data with every text printable: a question or a sentence may hold what no font has, as a name may."""
    if isinstance(value, str):
        return as_printed(value).text
    if isinstance(value, dict):
        return {key: _all_printable(inside) for key, inside in value.items()}
    if isinstance(value, (list, tuple)):
        return [_all_printable(inside) for inside in value]
    return value
