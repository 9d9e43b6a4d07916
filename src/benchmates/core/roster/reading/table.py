"""Bytes to a grid: rows of cleaned cells under the row numbers a teacher sees."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from benchmates.core.errors import Fault
from benchmates.core.roster.reading import text as texts
from benchmates.core.roster.reading import workbook
from benchmates.core.roster.reading.cells import cleaned, unguarded
from benchmates.core.roster.reading.content import Content, content_of
from benchmates.core.roster.reading.sprawl import MOST_COLUMNS, MOST_ROWS


@dataclass(frozen=True)
class Row:
    """One row that is not blank; ``number`` counts from 1 and counts blank rows too."""

    number: int
    cells: tuple[str, ...]

    def cell(self, at: int) -> str:
        """The cell, empty where the row is short."""
        return self.cells[at] if at < len(self.cells) else ""


@dataclass(frozen=True)
class Grid:
    """The rows of one sheet or text; in ``written`` text ``=`` starts a formula, unless guarded."""

    rows: tuple[Row, ...]
    written: bool = False
    sheet: str | None = None

    def meant(self, cell: str) -> str:
        """What a cell means: its guard is taken off in text, where it was needed."""
        return unguarded(cell) if self.written else cell


@dataclass(frozen=True)
class Table:
    """What was found in a file: the grid that suited best and what should be told of how it was found."""

    grid: Grid
    notices: tuple[str, ...] = ()
    text: str | None = None


Suits = Callable[[Grid], int]


def read_table(data: bytes, *, filename: str, suits: Suits) -> Table | Fault:
    """The grid of a file.

    Parameters
    ----------
    data, filename
        The file; its name is only for the telling, its content decides how it is read.
    suits
        How many known headings a grid has; chooses the separator of a text and the sheet of a workbook.
    """
    content = content_of(data, filename=filename)
    if isinstance(content, Fault):
        return content
    if content is Content.WORKBOOK:
        return _best_sheet(data, filename, suits)
    text = texts.decoded(data, filename=filename)
    if isinstance(text, Fault):
        return text
    table = read_text(text[0], suits=suits)
    return table if isinstance(table, Fault) else Table(table.grid, text[1], text[0])


def read_text(text: str, *, suits: Suits) -> Table | Fault:
    """The grid under the separator that finds the most known headings, else the steadiest columns."""
    if len(texts.lines(text)) > MOST_ROWS:
        found = f"{len(texts.lines(text))} rows where one class is expected"
        return Fault("the list", found, "Choose the list of one class.")
    stated = texts.stated_separator(text)
    tried = [texts.split(text, separator) for separator in ((stated,) if stated else texts.SEPARATORS)]
    rows = [t for t in tried if not isinstance(t, Fault)]
    if not rows:
        return next(t for t in tried if isinstance(t, Fault))
    if any(len(cells) > MOST_COLUMNS for table in rows for cells in table):
        return Fault("the list", f"a row of more than {MOST_COLUMNS} cells", "Choose the list of one class.")
    if stated:
        rows[0][0] = []
    grids = [grid_of(r, written=True) for r in rows]
    best = max(grids, key=lambda g: (suits(g), _steady(g)))
    # A quotation mark left open matters only under the separator the list uses; prefer its fault to a guess.
    first_fault = next((t for t in tried if isinstance(t, Fault)), None)
    if first_fault and not suits(best):
        return first_fault
    return Table(best, text=text)


def grid_of(rows: Sequence[Sequence[str]], *, written: bool, sheet: str | None = None) -> Grid:
    """The grid of all rows, cells cleaned, blank rows left out, numbers kept."""
    cleaned_rows = (Row(k, tuple(cleaned(cell) for cell in row)) for k, row in enumerate(rows, start=1))
    return Grid(tuple(row for row in cleaned_rows if any(row.cells)), written, sheet)


def _steady(grid: Grid) -> float:
    """Share of rows that have the commonest number of cells, if that is more than one."""
    widths = [len(row.cells) for row in grid.rows]
    commonest = max(set(widths), key=widths.count, default=0)
    return widths.count(commonest) / len(widths) if commonest > 1 else 0.0


def _best_sheet(data: bytes, filename: str, suits: Suits) -> Table | Fault:
    found = workbook.sheets(data, filename=filename)
    if isinstance(found, Fault):
        return found
    grids = [g for g in (grid_of(rows, written=False, sheet=name) for name, rows in found) if g.rows]
    if not grids:
        return Fault(filename, "the workbook is empty", "Choose a list with at least one name in it.")
    chosen = next((g for g in grids if suits(g)), grids[0])
    others = [f"“{g.sheet}”" for g in grids if g is not chosen]
    told = f"Read from the sheet “{chosen.sheet}”; not from {', '.join(others)}." if others else ""
    return Table(chosen, (told,) if told else ())
