"""Workbooks (xlsx, ods): every sheet as rows of text, values as last worked out."""

from __future__ import annotations

import datetime as dt
import io
import re
import zipfile

from benchmates.core.errors import Fault

MOST_ROWS, MOST_COLUMNS = 20_000, 1_000
_PLACE = re.compile(rb'<(?:\w+:)?c\b[^>]*?\br="([A-Z]{1,3})([0-9]{1,7})"')


def sheets(data: bytes, *, filename: str) -> list[tuple[str, list[list[str]]]] | Fault:
    """Name and rows of each sheet from A1 on, so that the k-th row is the teacher's row k."""
    damaged = Fault(filename, "the workbook is damaged", "Open it, save it again and choose that file.")
    try:
        if _sprawls(data):
            return Fault(
                filename,
                f"a sheet reaches past row {MOST_ROWS} or column {MOST_COLUMNS}",
                "Copy the list to a new workbook.",
            )
        return _opened(data)
    except Exception:
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


def _sprawls(data: bytes) -> bool:
    """Whether one stray cell at the far edge would make the dense reader fill memory."""
    with zipfile.ZipFile(io.BytesIO(data)) as parts:
        for name in parts.namelist():
            if re.fullmatch(r"xl/worksheets/[^/]+\.xml", name):
                for column, row in _PLACE.findall(parts.read(name)):
                    if int(row) > MOST_ROWS or _column_number(column) > MOST_COLUMNS:
                        return True
    return False


def _column_number(letters: bytes) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + letter - 64
    return number


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    if isinstance(value, dt.datetime) and value.time() == dt.time():
        return value.date().isoformat()
    return value.isoformat() if isinstance(value, dt.date | dt.time) else str(value)
