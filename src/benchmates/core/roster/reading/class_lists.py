"""A class list from a file or from pasted text, as a preview to be confirmed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace

from benchmates.core.errors import CannotRead, Fault
from benchmates.core.roster.reading import pasted
from benchmates.core.roster.reading.headings import (
    CLASS,
    MAPPABLE,
    NAME_PARTS,
    HeadingRow,
    find_headings,
    likeliest_headings,
    plain,
)
from benchmates.core.roster.reading.preview import ColumnUse, Preview
from benchmates.core.roster.reading.pupils import Findings, class_of, pupils_from
from benchmates.core.roster.reading.table import Grid, Row, Suits, Table, read_table, read_text
from benchmates.core.terms import joined

MOST_PUPILS = 400
LARGE_CLASS = 40
MOST_CLASSES_NAMED = 30


def read_class_list(data: bytes, *, filename: str, columns: Mapping[str, str] | None = None) -> Preview:
    """Read a file into a preview.

    Parameters
    ----------
    data
        The file; csv and its cousins, names one a line, xlsx or ods, told apart by content and not by name.
    filename
        For the telling; ".csv" also says that commas part columns and are not in names.
    columns
        Field of ours -> heading of theirs, for headings that are not recognised; an empty heading drops the
        field.

    Raises
    ------
    CannotRead
        ``columns`` names a field that is not held. Faults of the file are in the preview.
    """
    mapping = checked_columns(columns)
    table = read_table(data, filename=filename, suits=_suits(mapping))
    return _preview(table, mapping, where=filename, is_csv=filename.lower().endswith((".csv", ".tsv")))


def read_pasted(text: str, *, columns: Mapping[str, str] | None = None) -> Preview:
    """Read pasted text: names one a line, or a table with a heading row.

    Parameters
    ----------
    text
        Bullets and numbering are taken off. "Surname, Forename" on every line is one name a line.
    columns
        As for :func:`read_class_list`.
    """
    mapping = checked_columns(columns)
    if not text.strip("\ufeff\x00 \t\r\n"):
        return Preview(None, (Fault("the list", "nothing was pasted", "Paste the names, one a line."),))
    table = read_text(text.removeprefix("\ufeff"), suits=_suits(mapping))
    return _preview(table, mapping, where="the list", is_csv=False)


def checked_columns(columns: Mapping[str, str] | None) -> dict[str, str]:
    """The mapping, if every field in it is ours; ``CannotRead`` with every fault if not."""
    faults = [
        Fault(f"column map, “{ours}”", "no such field is held", f"Use one of {', '.join(MAPPABLE)}.")
        for ours in (columns or {})
        if ours not in MAPPABLE
    ]
    if faults:
        raise CannotRead(*map(str, faults), faults=faults)
    return dict(columns or {})


def _suits(columns: Mapping[str, str]) -> Suits:
    def known(grid: Grid) -> int:
        heads = find_headings(grid, columns)
        return heads.known if heads else 0

    return known


def _preview(table: Table | Fault, columns: dict[str, str], *, where: str, is_csv: bool) -> Preview:
    if isinstance(table, Fault):
        return Preview(None, (table,))
    if not table.grid.rows:
        return Preview(
            None, (Fault(where, "the list is empty", "Choose a list with at least one name in it."),)
        )
    heads = find_headings(table.grid, columns)
    if heads:
        return _from_columns(table, heads, columns)
    rows = _names_alone(table, is_csv=is_csv)
    return _from_names(table, rows) if rows else _unrecognised(table)


def _from_columns(table: Table, heads: HeadingRow, columns: Mapping[str, str]) -> Preview:
    findings = Findings(notices=list(table.notices))
    grid = _without_repeats(table.grid, heads, findings)
    _check_mapped(heads, columns, findings, f"row {grid.rows[heads.at].number}")
    _tell_skipped(grid.rows[: heads.at], findings)
    uses = _uses(grid, heads)
    _tell_dropped(uses, findings)
    body = grid.rows[heads.at + 1 :]
    if not body:
        findings.fault(
            f"row {grid.rows[heads.at].number}", "headings and no pupils below", "Add a row for each pupil."
        )
    at = heads.column(CLASS)
    classes = Counter(row.cell(at) for row in body if row.cell(at)) if at is not None else Counter()
    if _too_many(len(body), classes, findings):
        class_list = None
    else:
        class_list = pupils_from(grid, heads, findings)
        _tell_size(len(body), classes, findings)
    if findings.faults:
        class_list = None
    return Preview(
        class_list, tuple(findings.faults), tuple(findings.notices), uses, len(body), heads.headings
    )


def _without_repeats(grid: Grid, heads: HeadingRow, findings: Findings) -> Grid:
    """The grid less headings printed again at the top of each page; one heading alone might be a name."""
    if heads.known < 2:
        return grid
    repeats = {row for row in grid.rows[heads.at + 1 :] if row.cells == heads.headings}
    for row in sorted(repeats, key=lambda row: row.number):
        findings.notices.append(f"Row {row.number} repeats the headings and was skipped.")
    return replace(grid, rows=tuple(row for row in grid.rows if row not in repeats))


def _check_mapped(heads: HeadingRow, columns: Mapping[str, str], findings: Findings, where: str) -> None:
    theirs = {plain(heading) for heading in heads.headings}
    for ours, heading in columns.items():
        if heading and plain(heading) not in theirs:
            found = f"no column is headed “{heading}”, which the column map gives for {ours}"
            findings.fault(where, found, f"The headings are {_quoted(heads.headings)}.")


def _uses(grid: Grid, heads: HeadingRow) -> tuple[ColumnUse, ...]:
    """Every column that has a heading or anything below it."""
    uses = []
    for at, (heading, field) in enumerate(zip(heads.headings, heads.fields, strict=True)):
        if heading or any(row.cell(at) for row in grid.rows[heads.at + 1 :]):
            held = None if field == CLASS else "name" if field in NAME_PARTS else field
            uses.append(ColumnUse(heading or f"column {at + 1} (no heading)", held))
    return tuple(uses)


def _tell_dropped(uses: tuple[ColumnUse, ...], findings: Findings) -> None:
    dropped = tuple(use.heading for use in uses if use.field is None)
    if dropped:
        findings.notices.append(f"Not taken in: {_quoted(dropped)}.")


def _tell_skipped(rows: tuple[Row, ...], findings: Findings) -> None:
    for row in rows:
        told = " ".join(cell for cell in row.cells if cell)[:80]
        findings.notices.append(f"Row {row.number} (“{told}”) stands above the headings and was skipped.")


def _too_many(pupils: int, classes: Counter[str], findings: Findings) -> bool:
    if pupils <= MOST_PUPILS:
        return False
    named = sorted(classes)[:MOST_CLASSES_NAMED]
    more = len(classes) - len(named)
    told = (
        f" The list holds {joined(named)}{f' and {more} more' if more else ''}: keep the rows of one."
        if named
        else ""
    )
    would_do = f"Choose the list of one class, at most {MOST_PUPILS} pupils.{told}"
    findings.fault("the list", f"{pupils} pupils where one class is expected", would_do)
    return True


def _tell_size(pupils: int, classes: Counter[str], findings: Findings) -> None:
    if pupils > LARGE_CLASS:
        findings.notices.append(f"{pupils} pupils are many for one class: is this the list of one?")
    if 1 < len(classes) <= MOST_CLASSES_NAMED:
        findings.notices.append(f"The list holds {len(classes)} classes: {joined(sorted(classes))}.")


def _names_alone(table: Table, *, is_csv: bool) -> tuple[Row, ...]:
    """The rows of a list that is names and nothing else; none where there are columns nobody can name."""
    grid = table.grid
    single = all(sum(map(bool, row.cells)) == 1 for row in grid.rows)
    if table.text is None:
        return tuple(Row(row.number, tuple(c for c in row.cells if c)) for row in grid.rows) if single else ()
    alone = single or (not is_csv and pasted.is_surnames_first(table.text)) or not _has_columns(grid)
    rows = pasted.name_rows(table.text)
    if alone and len(rows) > 1:
        return rows
    return pasted.one_line(table.text) or (rows if alone else ())


def _has_columns(grid: Grid) -> bool:
    """Whether most rows have several filled cells; a stray comma in a few names makes no table."""
    return 2 * sum(sum(map(bool, row.cells)) > 1 for row in grid.rows) > len(grid.rows)


def _from_names(table: Table, rows: tuple[Row, ...]) -> Preview:
    findings = Findings(notices=list(table.notices))
    rows = pasted.without_title(rows, findings)
    if _too_many(len(rows), Counter(), findings):
        return Preview(None, tuple(findings.faults), tuple(findings.notices), rows_read=len(rows))
    class_list = class_of(pasted.name_entries(rows, findings), findings, with_ids=False)
    _tell_size(len(rows), Counter(), findings)
    return Preview(class_list, tuple(findings.faults), tuple(findings.notices), rows_read=len(rows))


def _unrecognised(table: Table) -> Preview:
    headings = likeliest_headings(table.grid)
    at = next(row.number for row in table.grid.rows if row.cells == headings)
    fault = Fault(
        f"row {at}",
        f"no column for the name or the id among {_quoted(headings)}",
        "Say which column is which: with --map FILE on the command line, by choosing in the page.",
    )
    uses = tuple(ColumnUse(heading, None) for heading in headings if heading)
    return Preview(None, (fault,), table.notices, uses, 0, headings)


def _quoted(headings: tuple[str, ...]) -> str:
    return joined([f"“{heading}”" for heading in headings if heading])
