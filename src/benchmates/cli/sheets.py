"""`benchmates sheets`: print cards, the stage strip, the run sheet and the wall sheet of a plan."""

from __future__ import annotations

import hashlib
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from benchmates.cli import options
from benchmates.cli.exits import answering, unreadable
from benchmates.cli.files import STDIN, bytes_of
from benchmates.cli.given import Named, lesson_given, read_given
from benchmates.cli.words import say_trouble, show_json, waiting
from benchmates.core.errors import CannotRead, Fault
from benchmates.core.grouping.request import Request
from benchmates.core.grouping.result import GroupPlan
from benchmates.core.grouping.result_json import read_plan
from benchmates.core.lesson.plan import Lesson
from benchmates.core.roster.class_list import ClassList
from benchmates.core.strategy.catalogue import KEYS
from benchmates.core.strategy.plain import plain_groups
from benchmates.core.strategy.shape import PlannedStage, Shape
from benchmates.core.terms import PupilId

# What this command wrote, so that it never writes over anything else.
OWN_LIST = ".benchmates-sheets"


class Paper(StrEnum):
    """ISO 216 sizes that schools print on."""

    A4 = "a4"
    A5 = "a5"


def sheets(
    plan_file: options.PlanFile,
    class_file: options.ClassFile,
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="DIR", help="Where to print; “sheets” beside the plan if not said."),
    ] = None,
    way: options.Way = None,
    lesson: options.LessonFile = None,
    adults: options.Adults = None,
    columns: options.Columns = None,
    musts: options.Musts = None,
    history: options.History = None,
    wishes: options.Wishes = None,
    paper: Annotated[Paper, typer.Option(help="Paper to print on.", case_sensitive=False)] = Paper.A4,
    large: Annotated[bool, typer.Option("--large", help="Large print, 18 pt and more.")] = False,
    as_json: options.AsJson = False,
) -> None:
    """Print the sheets of a plan."""
    with answering(as_json=as_json):
        plan = read_plan(bytes_of(plan_file), filename=str(plan_file))
        given = read_given(Named(class_file, columns, musts, history, wishes))
        _refuse_strangers(plan, given.class_list.ids, plan_file)
        _refuse_gaps(plan, given.class_list)
        name = "" if class_file == STDIN else Path(class_file).stem
        planned = _lesson_of(plan, way=way, lesson=lesson, adults=adults, class_name=name)
        request = Request(
            given.class_list,
            planned,
            musts=given.musts,
            history=given.history,
            wishes=given.wishes,
            absent=frozenset(given.class_list.ids) - frozenset(plan.present),
            seed=plan.seed,
        )
        say_trouble(given.notices)
        folder = out if out is not None else plan_file.parent / "sheets"
        written = print_into(folder, plan, request, paper=paper, large=large)
        if as_json:
            show_json({"written": [str(path) for path in written]})
        else:
            typer.echo("\n".join(f"Printed {path}" for path in written))


def print_into(
    folder: Path, plan: GroupPlan, request: Request, *, paper: Paper = Paper.A4, large: bool = False
) -> tuple[Path, ...]:
    """Print all sheets of a plan into a folder.

    Raises
    ------
    CannotRead
        A file of that name is there and is not one of ours, or the folder cannot be written.
    """
    # The typesetter and its fonts are wanted here only.
    from benchmates.core.grouping.absences import if_away
    from benchmates.core.lesson.timing import timetable
    from benchmates.sheets.pack import print_pack

    with waiting("Printing sheets"):
        files = print_pack(
            request.lesson,
            plan,
            request.class_list,
            timetable=timetable(request.lesson, shape_of(plan, request.lesson)),
            away_lines=if_away(plan, request),
            paper=str(paper),
            large=large,
        )
    say_trouble(files.notices)  # names that could not be printed as they are written
    return write_own(folder, files)


def shape_of(plan: GroupPlan, lesson: Lesson) -> Shape:
    """The shape a plan has, read off its stages; sizes that were asked for need not be asked again."""
    stages = lesson.way.stages
    if any(
        not 0 <= s.source < len(stages)
        or stages[s.source].relation is not s.relation
        or not (s.of is None or 0 <= s.of < k)
        for k, s in enumerate(plan.stages)
    ):
        raise unreadable("the plan", "its stages are not those of the way", "Name its own --way or --lesson.")
    return Shape(
        lesson.way,
        len(plan.present),
        tuple(
            PlannedStage(
                s.name,
                stages[s.source],
                s.source,
                s.turn,
                s.relation,
                s.of,
                tuple(len(g.members) for g in s.groups),
            )
            for s in plan.stages
        ),
    )


# ---- which lesson


def _lesson_of(
    plan: GroupPlan, *, way: str | None, lesson: Path | None, adults: int | None, class_name: str
) -> Lesson:
    """The lesson named; without one, a plain lesson round the plan's own way of working."""
    plain = plain_groups().key
    if way is None and lesson is None and plan.way not in (*KEYS, plain):
        would_do = "Name the file of the way with --way, or of the lesson with --lesson."
        raise unreadable("the plan", f"“{plan.way}” is a way of your own", would_do)
    key = way if way is not None or lesson is not None or plan.way == plain else plan.way
    return lesson_given(way_key=key, lesson_file=lesson, size=None, adults=adults, class_name=class_name)


def _refuse_strangers(plan: GroupPlan, ids: tuple[PupilId, ...], plan_file: Path) -> None:
    faults = [
        Fault(
            str(plan_file),
            f"{pupil} is in the plan but not in the class list",
            "Name the list it was made from.",
        )
        for pupil in dict.fromkeys(
            (*plan.present, *(p for s in plan.stages for g in s.groups for p in g.members))
        )
        if pupil not in ids
    ]
    if faults:
        raise CannotRead(*(str(f) for f in faults), faults=faults)


def _refuse_gaps(plan: GroupPlan, class_list: ClassList) -> None:
    """A plan in which somebody sits nowhere, or twice, cannot be told on a card."""
    from benchmates.core.grouping.checking import people_faults_in

    faults = people_faults_in(plan, class_list)
    if faults:
        raise CannotRead(*(str(f) for f in faults), faults=faults)


# ---- writing


def write_own(folder: Path, files: dict[str, bytes]) -> tuple[Path, ...]:
    """Write files into a folder; what stands there and was not written by us (or was changed since) is left alone."""
    own = _own(folder)
    in_the_way = [
        Fault(
            str(folder / name), "a file that was not printed here", "Move it, or print into another folder."
        )
        for name, data in files.items()
        if (folder / name).exists() and _mark_of(folder / name) not in (own.get(name), _mark(data))
    ]
    if in_the_way:
        raise CannotRead(*(str(f) for f in in_the_way), faults=in_the_way)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, data in files.items():
            (folder / name).write_bytes(data)
        marks = own | {name: _mark(data) for name, data in files.items()}
        lines = "".join(f"{mark}  {name}\n" for name, mark in sorted(marks.items()))
        (folder / OWN_LIST).write_text(lines, encoding="utf-8")
    except OSError as trouble:
        would_do = "Choose a folder that you may write in."
        raise unreadable(str(folder), f"it cannot be written ({trouble.strerror})", would_do) from None
    return tuple(folder / name for name in files)


def _own(folder: Path) -> dict[str, str]:
    try:
        lines = (folder / OWN_LIST).read_text(encoding="utf-8").splitlines()
    except (OSError, UnicodeDecodeError):
        return {}
    return {name: mark for mark, _, name in (line.partition("  ") for line in lines) if name}


def _mark_of(path: Path) -> str:
    try:
        return _mark(path.read_bytes())
    except OSError:
        return "unreadable"


def _mark(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
