"""Class lists, musts and histories: bytes in, a preview or every fault out; and back to bytes.

    bytes -> content (what is it) -> text | workbook -> table (a grid with the teacher's row numbers)
          -> headings (which column is which) -> pupils -> Preview -> confirmed() -> ClassList

Lists from a register in the OneRoster form will stand in ``reading/oneroster``: it turns the package's own
tables into a ``table.Grid`` and goes on from ``headings`` as every other list does, so nothing after the grid
changes.
"""

from benchmates.core.roster.reading.class_lists import MOST_PUPILS, read_class_list, read_pasted
from benchmates.core.roster.reading.column_map import read_column_map
from benchmates.core.roster.reading.history import read_history
from benchmates.core.roster.reading.musts import read_musts
from benchmates.core.roster.reading.preview import ColumnUse, Preview
from benchmates.core.roster.reading.writing import write_class_list, write_history, write_musts, write_xlsx

__all__ = [
    "MOST_PUPILS",
    "ColumnUse",
    "Preview",
    "read_class_list",
    "read_column_map",
    "read_history",
    "read_musts",
    "read_pasted",
    "write_class_list",
    "write_history",
    "write_musts",
    "write_xlsx",
]
