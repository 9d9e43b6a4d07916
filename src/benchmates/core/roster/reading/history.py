"""Who worked with whom before, from a small table: ``date,stage,group,pupil`` and, if kept, ``role``."""

from __future__ import annotations

import datetime as dt
import re

from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.history import History, Sitting
from benchmates.core.roster.reading.cells import without_point_zero
from benchmates.core.roster.reading.naming import Naming
from benchmates.core.roster.reading.sidefile import SideFile, naming_of
from benchmates.core.roster.reading.table import Row
from benchmates.core.terms import counted

_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})(?:T00:00:00)?", re.ASCII)
_DAY_FIRST = re.compile(r"(\d{1,2})[/.](\d{1,2})[/.](\d{4})", re.ASCII)
_COLUMNS = ("date", "stage", "group", "pupil")


def read_history(data: bytes, *, filename: str, class_list: ClassList) -> tuple[History, tuple[str, ...]]:
    """Read the sittings of a class and what should be told of them.

    Parameters
    ----------
    data
        csv (or a workbook) headed ``date,stage,group,pupil`` and maybe ``role``; dates 2026-03-09 or
        09/03/2026.
    class_list
        Sittings of anybody else are left out, which one notice tells.

    Raises
    ------
    CannotRead
        With every fault.
    """
    file = SideFile(data, filename=filename, needed=_COLUMNS, known=(*_COLUMNS, "role"))
    naming = naming_of(class_list)
    strangers: set[str] = set()
    found = [_sitting(file, row, cells, naming, strangers) for row, cells in file.rows()]
    file.finish()
    return History(tuple(s for s in found if s is not None)), _told(strangers)


def _sitting(
    file: SideFile, row: Row, cells: dict[str, str], naming: Naming, strangers: set[str]
) -> Sitting | None:
    date = _date(cells["date"])
    if date is None:
        found = f"“{cells['date']}” is no date" if cells["date"] else "the date is empty"
        file.fault(row, found, "Write it as 2026-03-09 or 09/03/2026.")
    for field in ("stage", "group", "pupil"):
        if not cells[field]:
            file.fault(row, f"the {field} is empty", f"Write the {field}, or take the row out.")
    pupil, trouble = naming.who(cells["pupil"])
    if pupil is None and "is the name of" in trouble:
        file.fault(row, trouble, "Write the pupil's id as it stands in the class list.")
    elif pupil is None and cells["pupil"]:
        strangers.add(cells["pupil"])
    if date is None or pupil is None:
        return None
    return Sitting(date, cells["stage"], without_point_zero(cells["group"]), pupil, cells.get("role", ""))


def _date(text: str) -> dt.date | None:
    iso, day_first = _ISO.fullmatch(text), _DAY_FIRST.fullmatch(text)
    if iso:
        year, month, day = map(int, iso.groups())
    elif day_first:
        day, month, year = map(int, day_first.groups())
    else:
        return None
    try:
        return dt.date(year, month, day)
    except ValueError:
        return None


def _told(strangers: set[str]) -> tuple[str, ...]:
    if not strangers:
        return ()
    one = len(strangers) == 1
    verb, whose = ("is", "that pupil's") if one else ("are", "their")
    who = counted(len(strangers), "pupil")
    return (f"{who} in the history {verb} not in this class; {whose} sittings are left out.",)
