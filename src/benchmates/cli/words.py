"""What commands print: sentences folded to the terminal, tables, groups by name."""

from __future__ import annotations

import json
import shutil
import sys
import textwrap
import threading
import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager

import typer

from benchmates.core.terms import PupilId

WIDEST = 100
NARROWEST = 40


def width() -> int:
    """Columns to print in: 80 where the terminal does not say."""
    return max(NARROWEST, min(WIDEST, shutil.get_terminal_size((80, 24)).columns))


def folded(sentence: str, *, indent: str = "", hang: str | None = None) -> str:
    """A sentence in lines that fit; later lines begin with ``hang``."""
    return textwrap.fill(
        sentence,
        width(),
        initial_indent=indent,
        subsequent_indent=indent if hang is None else hang,
        break_on_hyphens=False,
    )


def say(*sentences: str) -> None:
    """Print sentences, each on lines of its own."""
    for sentence in sentences:
        typer.echo(folded(sentence))


def say_trouble(sentences: Iterable[str]) -> None:
    """Print what is wrong on the error output."""
    for sentence in sentences:
        typer.echo(folded(sentence, hang="  "), err=True)


def show_json(shown: Mapping[str, object]) -> None:
    """Print one object, and nothing else, on the standard output."""
    typer.echo(json.dumps(shown, ensure_ascii=False, indent=2))


# ---- tables


def table(heads: Sequence[str], rows: Sequence[Sequence[str]], *, shares: Sequence[int]) -> str:
    """Columns side by side. A share of 0 keeps a column as wide as its longest cell; others split what is left."""
    fixed = [max(len(row[c]) for row in [heads, *rows]) for c in range(len(heads))]
    left = (
        width() - sum(w for w, share in zip(fixed, shares, strict=True) if not share) - 2 * (len(heads) - 1)
    )
    widths = [share * left // sum(shares) if share else w for w, share in zip(fixed, shares, strict=True)]
    lines = []
    for row in [heads, *rows]:
        cells = [
            textwrap.wrap(cell, max(w, 8), break_on_hyphens=False)
            for cell, w in zip(row, widths, strict=True)
        ]
        for line in range(max(map(len, cells))):
            printed = (cell[line] if line < len(cell) else "" for cell in cells)
            lines.append("  ".join(text.ljust(w) for text, w in zip(printed, widths, strict=True)).rstrip())
    lines.insert(1, "  ".join("-" * w for w in widths))
    return "\n".join(lines)


def listed(
    label: str, members: Iterable[PupilId], names: Mapping[PupilId, str], notes: Mapping[PupilId, str]
) -> str:
    """One group on its lines: "B  Ravi K (chair), Hana S"."""
    told = (f"{names.get(p, p)} ({notes[p]})" if notes.get(p) else names.get(p, p) for p in members)
    # No break inside a name or between a name and its role.
    text = ", ".join(told_one.replace(" ", "\N{NO-BREAK SPACE}") for told_one in told)
    filled = folded(text, indent=f"  {label}  ", hang=" " * (4 + len(label)))
    return filled.replace("\N{NO-BREAK SPACE}", " ")


# ---- waiting


@contextmanager
def waiting(doing: str, *, after: float = 1.0) -> Iterator[Callable[[float], None]]:
    """Show on a terminal's error output how far something is, once it has taken longer than ``after`` seconds."""
    began, seen = time.monotonic(), sys.stderr.isatty()
    shown: list[str] = []

    def show(how_far: str) -> None:
        shown.append(f"\r{doing} ... {how_far}")
        typer.echo(shown[-1], err=True, nl=False)

    def progress(share: float) -> None:
        if seen and time.monotonic() - began >= after:
            show(f"{round(100 * share):3d}%")

    # Some steps cannot say how far they are (a first run compiles); a line then shows that something is going on.
    first = threading.Timer(after, show, args=["    "])
    if seen:
        first.start()
    try:
        yield progress
    finally:
        first.cancel()
        if shown:
            typer.echo("\r" + " " * max(map(len, shown)) + "\r", err=True, nl=False)
