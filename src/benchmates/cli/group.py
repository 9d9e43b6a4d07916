"""`benchmates group`: make groups for every stage of a lesson."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from benchmates.cli import options
from benchmates.cli.exits import answering
from benchmates.cli.files import STDIN
from benchmates.cli.given import Named, lesson_given, limits, read_given, seconds_given
from benchmates.cli.sheets import print_into
from benchmates.cli.showing import plan_lines
from benchmates.cli.words import say_trouble, show_json, waiting
from benchmates.core.grouping.request import Request
from benchmates.core.lesson.plan import Lesson

# The search keeps its own random state in 32 bits.
MOST_SEED = 2**32 - 1


def group(
    class_file: options.ClassFile,
    way: options.Way = None,
    lesson: options.LessonFile = None,
    size: options.Size = None,
    sizes: options.Sizes = None,
    adults: options.Adults = None,
    columns: options.Columns = None,
    musts: options.Musts = None,
    history: options.History = None,
    wishes: options.Wishes = None,
    absent: options.Absent = "",
    seed: Annotated[
        int, typer.Option(metavar="N", min=0, max=MOST_SEED, help="The same seed makes the same groups.")
    ] = 1,
    seconds: Annotated[
        float, typer.Option(metavar="S", help="The longest to look for better groups.")
    ] = 10.0,
    sheets: Annotated[
        Path | None, typer.Option(metavar="DIR", help="Print cards and sheets into this folder.")
    ] = None,
    as_json: options.AsJson = False,
) -> None:
    """Make groups for every stage of a lesson from a class list."""
    with answering(as_json=as_json):
        limit, asked = seconds_given(seconds), limits(sizes)
        name = "" if class_file == STDIN else Path(class_file).stem
        chosen = lesson_given(way_key=way, lesson_file=lesson, size=size, adults=adults, class_name=name)
        given = read_given(Named(class_file, columns, musts, history, wishes, absent))
        request = Request(
            given.class_list,
            chosen,
            musts=given.musts,
            history=given.history,
            wishes=given.wishes,
            absent=given.absent or frozenset(),
            seed=seed,
            seconds=limit,
            sizes=asked,
        )
        say_trouble(given.notices)
        _answer(request, chosen, sheets=sheets, as_json=as_json)


def _answer(request: Request, lesson: Lesson, *, sheets: Path | None, as_json: bool) -> None:
    # The engine brings its compiler; nothing before this line needs it.
    from benchmates.core.grouping.make import make_groups
    from benchmates.core.grouping.result_json import as_json as object_of

    with waiting("Making groups") as progress:
        plan = make_groups(request, progress)
    # Sheets first: should the folder refuse them, the one object printed is the trouble.
    written = print_into(sheets, plan, request) if sheets is not None else ()
    if as_json:
        show_json(object_of(plan))
    else:
        typer.echo("\n".join(plan_lines(plan, request.class_list, title=lesson.title)))
    for path in written:
        typer.echo(f"Printed {path}", err=as_json)
