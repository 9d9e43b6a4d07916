"""How far a sheet reaches, found out before the dense reader lays out every cell up to there."""

from __future__ import annotations

import io
import re
import zipfile
from xml.etree.ElementTree import Element, iterparse

MOST_ROWS, MOST_COLUMNS = 20_000, 1_000
_PLACE = re.compile(rb'<(?:\w+:)?c\b[^>]*?\br="([A-Z]{1,3})([0-9]{1,7})"')
_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_CELLS = (f"{_TABLE}table-cell", f"{_TABLE}covered-table-cell")


def sprawls(data: bytes) -> bool:
    """Whether a cell that holds something stands past the last row or column that is read."""
    with zipfile.ZipFile(io.BytesIO(data)) as parts:
        for name in parts.namelist():
            if re.fullmatch(r"xl/worksheets/[^/]+\.xml", name) and _past_the_edge(parts.read(name)):
                return True
        return "content.xml" in parts.namelist() and _repeats_past_the_edge(parts.read("content.xml"))


def _past_the_edge(sheet: bytes) -> bool:
    return any(
        int(row) > MOST_ROWS or _column_number(column) > MOST_COLUMNS for column, row in _PLACE.findall(sheet)
    )


def _column_number(letters: bytes) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + letter - 64
    return number


def _repeats_past_the_edge(content: bytes) -> bool:
    """OpenDocument says "this row a million times": harmless at the foot, where nothing follows."""
    row_number = 0
    for event, element in iterparse(io.BytesIO(content), events=("start", "end")):
        if event == "start" and element.tag == f"{_TABLE}table":
            row_number = 0
        if event == "end" and element.tag == f"{_TABLE}table-row":
            row_number += _times(element, "rows")
            reach = _reach(element)
            if reach > MOST_COLUMNS or (reach and row_number > MOST_ROWS):
                return True
            element.clear()
    return False


def _reach(row: Element) -> int:
    """The last column of a row that holds something, 0 if none does."""
    column = reach = 0
    for cell in row:
        if cell.tag in _CELLS:
            column += _times(cell, "columns")
            reach = column if len(cell) else reach
    return reach


def _times(element: Element, what: str) -> int:
    return int(element.get(f"{_TABLE}number-{what}-repeated", "1"))
