"""What a list would become, shown before anything is taken in."""

from __future__ import annotations

from dataclasses import dataclass

from benchmates.core.errors import CannotRead, Fault
from benchmates.core.roster.class_list import ClassList


@dataclass(frozen=True)
class ColumnUse:
    """One column of theirs and the field of ours it fills; ``None`` where the column is dropped."""

    heading: str
    field: str | None


@dataclass(frozen=True)
class Preview:
    """A list as read, to be looked at and confirmed.

    Notes
    -----
    ``class_list`` is ``None`` while there are faults: nothing is ever half taken in. ``headings`` are theirs,
    in order, also when none was recognised, so that a page can ask which is which.
    """

    class_list: ClassList | None
    faults: tuple[Fault, ...] = ()
    notices: tuple[str, ...] = ()
    columns: tuple[ColumnUse, ...] = ()
    rows_read: int = 0
    headings: tuple[str, ...] = ()

    def confirmed(self) -> ClassList:
        """The class list.

        Raises
        ------
        CannotRead
            While there are faults; carries every one.
        """
        if self.class_list is None:
            raise CannotRead(*(str(fault) for fault in self.faults), faults=self.faults)
        return self.class_list
