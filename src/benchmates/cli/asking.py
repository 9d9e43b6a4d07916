"""Reads a class list and, at a terminal, asks which column is which when none of its headings is known."""

from __future__ import annotations

import sys
from pathlib import Path

import typer

from benchmates.cli.files import STDIN, bytes_of
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.reading import Preview, read_class_list, read_column_map
from benchmates.core.roster.reading.headings import MAPPABLE

# What one question stands for, where the field's own name would not be understood.
ASKED = {
    "id": "the school's number or code",
    "year": "the year",
    "attainment": "prior attainment (whole numbers)",
    "gender": "gender",
    "eal": "EAL (yes or no)",
    "adult_support": "adult support (yes or no)",
    "confident_reader": "confident reader (yes or no)",
    "talk": "talk (quiet, or takes over)",
    "works_well_with": "who they work well with",
    "bench": "a bench of their own",
}


def read_class(class_file: str, column_map: Path | None) -> tuple[ClassList, tuple[str, ...]]:
    """The class and what should be told about how it was read.

    Raises
    ------
    CannotRead
        Every faulty row; unknown headings too, unless somebody is there to say which is which.
    """
    columns = read_column_map(bytes_of(column_map)) if column_map is not None else None
    data = bytes_of(class_file)
    filename = "the pasted list" if class_file == STDIN else class_file
    preview = read_class_list(data, filename=filename, columns=columns)
    if columns is None and class_file != STDIN and _is_a_riddle(preview) and sys.stdin.isatty():
        asked = ask_columns(preview.headings)
        preview = read_class_list(data, filename=filename, columns=asked) if asked else preview
    return preview.confirmed(), preview.notices


def _is_a_riddle(preview: Preview) -> bool:
    """Whether the list has headings, and none of them says who the pupils are."""
    known = {use.field for use in preview.columns}
    return (
        preview.class_list is None
        and any(preview.headings)
        and not known & {"id", "name", "forename", "surname"}
    )


def ask_columns(headings: tuple[str, ...]) -> dict[str, str]:
    """Ask for each of our fields which of their headings holds it; an empty answer leaves it out.

    Nothing at all is returned when whoever was asked goes away. Questions keep clear of the standard output.
    """
    shown = [heading for heading in headings if heading]
    typer.echo("None of these headings says which column holds the names:", err=True)
    for number, heading in enumerate(shown, 1):
        typer.echo(f"  {number}. {heading}", err=True)
    names = _ask_number("The column with the names", len(shown), needed=True)
    if names is None:
        return {}
    columns = {"name": shown[names - 1]}
    typer.echo("Everything else may be left out: press Enter.", err=True)
    for ours in (field for field in MAPPABLE if field in ASKED):
        if len(columns) == len(shown):
            break
        answer = _ask_number(f"The column with {ASKED[ours]}", len(shown), needed=False)
        if answer is not None:
            columns[ours] = shown[answer - 1]
    return columns


def _ask_number(question: str, most: int, *, needed: bool) -> int | None:
    """A number from 1 to ``most``; None for an empty answer, where one may be, or the end of all answers."""
    while True:
        typer.echo(f"{question}: ", err=True, nl=False)
        line = sys.stdin.readline()
        answer = line.strip()
        if not line or (not answer and not needed):
            return None
        if answer.isdecimal() and 1 <= int(answer) <= most:
            return int(answer)
        typer.echo(f"Type a number from 1 to {most}{'' if needed else ', or nothing'}.", err=True)
