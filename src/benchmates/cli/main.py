"""The `benchmates` command."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from benchmates import __version__
from benchmates.cli.check import check
from benchmates.cli.group import group
from benchmates.cli.sheets import sheets
from benchmates.cli.ways import app as ways

app = typer.Typer(
    help="From a class list to groups, a lesson and its sheets.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
app.command("group")(group)
app.command("check")(check)
app.command("sheets")(sheets)
app.add_typer(ways, name="ways")


def _tell_version(asked: bool) -> None:
    if asked:
        typer.echo(__version__)
        raise typer.Exit


@app.callback()
def benchmates(
    version: Annotated[
        bool, typer.Option("--version", help="Print the version.", is_eager=True, callback=_tell_version)
    ] = False,
) -> None:
    """From a class list to groups, a lesson and its sheets."""


def main() -> None:
    """Run the command. Names in any script must reach a pipe, whatever the system's own encoding is."""
    for stream in (sys.stdout, sys.stderr):
        if not stream.isatty():
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")  # type: ignore[union-attr]
    # Named here: on a teacher's machine a small launcher starts us, and usage would show the launcher's "-c".
    app(prog_name="benchmates")


if __name__ == "__main__":
    main()
