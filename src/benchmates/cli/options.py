"""The options that several commands share, each with its one sentence of help."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

ClassFile = Annotated[
    str,
    typer.Argument(metavar="CLASS", help="Class list: csv, xlsx or ods, or - for pasted names, one a line."),
]
PlanFile = Annotated[Path, typer.Argument(metavar="PLAN.json", help="A plan, as `group --json` prints it.")]
Way = Annotated[
    str | None,
    typer.Option("--way", metavar="KEY", help="Way of working: a key, or a file of your own (.toml)."),
]
LessonFile = Annotated[
    Path | None, typer.Option("--lesson", metavar="FILE", help="A lesson of your own (.toml).")
]
Size = Annotated[
    int | None,
    typer.Option("--size", metavar="N", min=1, help="Pupils in a group; in a jigsaw, parts."),
]
Sizes = Annotated[
    str | None, typer.Option("--sizes", metavar="MIN-MAX", help="Least and most in a group, as 3-4.")
]
Adults = Annotated[
    int | None,
    typer.Option("--adults", metavar="N", min=0, help="Adults who can sit near groups.  [default: 1]"),
]
Columns = Annotated[
    Path | None,
    typer.Option("--map", metavar="FILE", help="Which heading of the list is which (.toml)."),
]
Musts = Annotated[
    Path | None,
    typer.Option("--musts", metavar="FILE", help="Who must be apart, together, near an adult, or fixed."),
]
History = Annotated[Path | None, typer.Option("--history", metavar="FILE", help="Who has worked with whom.")]
Wishes = Annotated[
    Path | None, typer.Option("--wishes", metavar="FILE", help="How much each wish weighs (.toml).")
]
Absent = Annotated[str, typer.Option("--absent", metavar="ID,ID", help="Who is away.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object and nothing else.")]
