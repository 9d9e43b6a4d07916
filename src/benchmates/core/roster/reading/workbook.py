"""Workbooks (xlsx, ods): every sheet as rows of text, values as last worked out."""

from __future__ import annotations

import datetime as dt
import io

from benchmates.core.errors import Fault
from benchmates.core.roster.reading.sprawl import MOST_COLUMNS, MOST_ROWS, sprawls


def sheets(data: bytes, *, filename: str) -> list[tuple[str, list[list[str]]]] | Fault:
    """Name and rows of each sheet from A1 on, so that the k-th row is the teacher's row k."""
    damaged = Fault(filename, "the workbook is damaged", "Open it, save it again and choose that file.")
    try:
        if sprawls(data):
            return Fault(
                filename,
                f"a sheet reaches past row {MOST_ROWS} or column {MOST_COLUMNS}",
                "Copy the list to a new workbook.",
            )
        return _opened(data)
    except Exception:  # noqa: BLE001 - the reader and zipfile answer damage with many kinds of error
        return damaged
    except BaseException as error:
        # The reader is compiled; its own breakdowns arrive outside Exception: a damaged file too.
        if type(error).__name__ != "PanicException":
            raise
        return damaged


def _opened(data: bytes) -> list[tuple[str, list[list[str]]]]:
    from python_calamine import CalamineWorkbook

    book = CalamineWorkbook.from_filelike(io.BytesIO(data))
    found = []
    for name in book.sheet_names:
        rows = book.get_sheet_by_name(name).to_python(skip_empty_area=False)
        found.append((name, [[_shown(value) for value in row] for row in rows]))
    return found


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    if isinstance(value, dt.datetime) and value.time() == dt.time():
        return value.date().isoformat()
    return value.isoformat() if isinstance(value, dt.date | dt.time) else str(value)
