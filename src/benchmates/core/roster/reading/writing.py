"""Lists written out so that reading them gives the same list again."""

from __future__ import annotations

import csv
import datetime as dt
import io
from collections.abc import Iterable, Sequence

from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.history import History
from benchmates.core.roster.musts import Must
from benchmates.core.roster.pupil import Pupil
from benchmates.core.roster.reading.cells import guarded
from benchmates.core.roster.reading.headings import FIELDS

_MADE = dt.datetime(2000, 1, 1)  # a fixed stamp: equal lists give equal files


def write_class_list(class_list: ClassList) -> bytes:
    """The list as csv: UTF-8 with a byte-order mark, without which spreadsheets spoil accents."""
    return _csv([FIELDS, *map(_cells, class_list)])


def write_history(history: History) -> bytes:
    """The sittings as csv."""
    rows = [(s.date.isoformat(), s.stage, s.group, s.pupil, s.role) for s in history.sittings]
    return _csv([("date", "stage", "group", "pupil", "role"), *rows])


def write_musts(musts: Iterable[Must]) -> bytes:
    """The musts as csv; the row each was read from is not written, its place is."""
    rows = [(m.kind.value, ";".join(m.pupils), m.because, m.where or "") for m in musts]
    return _csv([("must", "pupils", "because", "where"), *rows])


def write_xlsx(class_list: ClassList) -> bytes:
    """The list as a workbook of one sheet; everything but attainment is text, so 007 stays 007."""
    import xlsxwriter  # type: ignore[import-untyped]

    out = io.BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True}) as book:
        book.set_properties({"created": _MADE})
        sheet = book.add_worksheet("Class list")
        sheet.freeze_panes(1, 0)
        sheet.set_column(0, len(FIELDS) - 1, 16)
        for row, cells in enumerate([FIELDS, *map(_cells, class_list)]):
            for column, cell in enumerate(cells):
                if row and cell and FIELDS[column] == "attainment":
                    sheet.write_number(row, column, int(cell))
                elif cell:
                    sheet.write_string(row, column, cell)
    return out.getvalue()


def _cells(pupil: Pupil) -> tuple[str, ...]:
    return (
        pupil.id,
        pupil.name,
        pupil.year or "",
        "" if pupil.attainment is None else str(pupil.attainment),
        pupil.gender or "",
        _yes_no(pupil.eal),
        _yes_no(pupil.adult_support),
        _yes_no(pupil.confident_reader),
        "" if pupil.talk is None else pupil.talk.value,
        ";".join(pupil.works_well_with),
        pupil.bench or "",
    )


def _yes_no(value: bool | None) -> str:
    return "" if value is None else "yes" if value else "no"


def _csv(rows: Iterable[Sequence[str]]) -> bytes:
    out = io.StringIO(newline="")
    csv.writer(out).writerows([guarded(cell) for cell in row] for row in rows)
    return out.getvalue().encode("utf-8-sig")
