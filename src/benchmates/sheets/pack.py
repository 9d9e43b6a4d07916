"""Every sheet of a lesson in one call."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import asdict, replace
from typing import Any, Literal

from benchmates.core.grouping.absences import AwayLine
from benchmates.core.grouping.result import GroupPlan
from benchmates.core.lesson.plan import Lesson
from benchmates.core.lesson.timing import Timetable
from benchmates.core.roster.class_list import ClassList
from benchmates.drawing.tokens import token_of, token_svg
from benchmates.sheets.cards import group_cards
from benchmates.sheets.overviews import strip, wall
from benchmates.sheets.printable import printable_names, with_marks
from benchmates.sheets.source import Source
from benchmates.sheets.staff import run_sheet
from benchmates.sheets.typeset import typeset

Paper = Literal["a4", "a5"]
PAPERS = ("a4", "a5")


class Pack(dict[str, bytes]):
    """The sheets of a lesson by file name; ``notices`` says what could not be printed as it stands."""

    def __init__(self, files: Mapping[str, bytes], notices: tuple[str, ...] = ()) -> None:
        super().__init__(files)
        self.notices = notices


def print_pack(
    lesson: Lesson,
    plan: GroupPlan,
    class_list: ClassList,
    *,
    timetable: Timetable,
    away_lines: Iterable[AwayLine],
    paper: str = "a4",
    large: bool = False,
) -> Pack:
    """Print group cards, stage strip, wall sheet and run sheet.

    Parameters
    ----------
    timetable, away_lines
        The lesson on the clock, and a line for each pupil who might be away; both for these groups.
    paper
        ``"a4"`` or ``"a5"`` (ISO 216).
    large
        Large print: 18 pt or more on everything pupils read.

    Returns
    -------
    Pack
        PDF/UA files by name; equal input gives equal bytes.
    """
    if paper not in PAPERS:
        raise ValueError(f"paper is a4 or a5, not {paper!r}")
    names, told = printable_names(class_list)
    source = Source(lesson, plan, names, timetable)
    sheets, more = _printable(source, class_list, away_lines)
    files = {
        f"{sheet}.pdf": typeset(sheet, {**data, "paper": paper, "large": large})
        for sheet, data in sheets.items()
    }
    return Pack(files, told + more)


def print_notices(
    lesson: Lesson, plan: GroupPlan, class_list: ClassList, *, timetable: Timetable
) -> tuple[str, ...]:
    """What would not print as it is written, told without printing anything; empty where all does."""
    names, told = printable_names(class_list)
    return told + _printable(Source(lesson, plan, names, timetable), class_list, ())[1]


def _printable(
    source: Source, class_list: ClassList, away_lines: Iterable[AwayLine]
) -> tuple[dict[str, dict[str, object]], tuple[str, ...]]:
    """The data of every sheet with a mark for each letter that cannot be drawn, and each notice once."""
    written = {**class_facing_data(source), "run-sheet": _staff_data(source, class_list, away_lines)}
    marked = {sheet: with_marks(data) for sheet, data in written.items()}
    notices = dict.fromkeys(notice for _, told in marked.values() for notice in told)
    return {sheet: data for sheet, (data, _) in marked.items()}, tuple(notices)


def class_facing_data(source: Source) -> dict[str, dict[str, Any]]:
    """The plain data of every class-facing sheet: exactly what its template gets, and nothing beside it."""
    tokens = _tokens(source.plan)
    return {
        "group-cards": {**asdict(group_cards(source)), "tokens": tokens},
        "stage-strip": {**asdict(strip(source)), "tokens": tokens},
        "wall": {**asdict(wall(source)), "tokens": tokens},
    }


def _tokens(plan: GroupPlan) -> dict[str, str]:
    """The drawn token of each label; a label in words is set as a card by the template."""
    labels = {group.label for stage in plan.stages for group in stage.groups}
    return {label: token_svg(label, hidden=True) for label in sorted(labels) if token_of(label)}


def _staff_data(source: Source, class_list: ClassList, away_lines: Iterable[AwayLine]) -> dict[str, Any]:
    sheet = run_sheet(source, away_lines)
    # Sentences were told with names as they stand; the few that cannot be drawn are named as the cards name them.
    raw = {p.name: source.names[p.id] for p in class_list if p.name.strip() and source.names[p.id] != p.name}
    if raw:
        sheet = replace(sheet, away=_renamed(sheet.away, raw), told=_renamed(sheet.told, raw))
    return asdict(sheet)


def _renamed(sentences: tuple[str, ...], raw: Mapping[str, str]) -> tuple[str, ...]:
    told = []
    for sentence in sentences:
        for name, shown in raw.items():
            sentence = sentence.replace(name, shown)
        told.append(sentence)
    return tuple(told)


__all__ = ["Pack", "Paper", "class_facing_data", "print_notices", "print_pack"]
