"""The musts of a class from a small table: ``must,pupils,because`` and, for fixed, ``where``."""

from __future__ import annotations

from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.roster.reading.naming import Naming
from benchmates.core.roster.reading.sidefile import SideFile, naming_of
from benchmates.core.roster.reading.table import Row
from benchmates.core.terms import PupilId

_KINDS = "Write apart, together, near_adult or fixed."
_FEWEST = {Kind.APART: 2, Kind.TOGETHER: 2, Kind.NEAR_ADULT: 1, Kind.FIXED: 1}


def read_musts(data: bytes, *, filename: str, class_list: ClassList) -> tuple[Must, ...]:
    """Read the musts, one a row.

    Parameters
    ----------
    data
        csv (or a workbook) headed ``must,pupils,because`` and, if any is fixed, ``where``.
    class_list
        Pupils are named by id, or by a display name only one pupil has, with ``;`` between.

    Raises
    ------
    CannotRead
        With every fault. That two musts cannot both hold is not one: the makers of groups tell that.
    """
    file = SideFile(
        data, filename=filename, needed=("must", "pupils"), known=("must", "pupils", "because", "where")
    )
    naming = naming_of(class_list)
    found = [_must(file, row, cells, naming) for row, cells in file.rows()]
    file.finish()
    return tuple(must for must in found if must is not None)


def _must(file: SideFile, row: Row, cells: dict[str, str], naming: Naming) -> Must | None:
    kind = _kind(cells["must"])
    pupils, all_known = _pupils(file, row, cells["pupils"], naming)
    where = cells.get("where") or None
    if kind is None:
        found = f"“{cells['must']}” is no must" if cells["must"] else "no must is named"
        file.fault(row, found, _KINDS)
        return None
    if all_known and len(pupils) < _FEWEST[kind]:
        needed = "two pupils" if _FEWEST[kind] == 2 else "a pupil"
        file.fault(
            row,
            f"{_shown(kind)} names {len(pupils) or 'no'} pupil",
            f"Name {needed} at least, with ; between.",
        )
    if kind is Kind.FIXED and where is None:
        file.fault(row, "fixed says no place", 'Under “where” write "bench 3", "group B" or "role scribe".')
    if kind is not Kind.FIXED and where is not None:
        file.fault(
            row, f"“{where}” under “where” beside {_shown(kind)}", "Only fixed has a where: leave it blank."
        )
    return Must(kind, pupils, cells.get("because", ""), where, row.number)


def _kind(text: str) -> Kind | None:
    level = "_".join(text.casefold().replace("_", " ").replace("-", " ").split())
    return Kind(level) if level in set(Kind) else None


def _shown(kind: Kind) -> str:
    return kind.value.replace("_", " ")


def _pupils(file: SideFile, row: Row, cell: str, naming: Naming) -> tuple[tuple[PupilId, ...], bool]:
    pupils: dict[PupilId, None] = {}
    all_known = True
    for text in naming.parts(cell):
        pupil, trouble = naming.who(text)
        if pupil is None:
            all_known = False
            file.fault(row, trouble, "Write the pupil's id as it stands in the class list.")
        else:
            pupils[pupil] = None
    return tuple(pupils), all_known
