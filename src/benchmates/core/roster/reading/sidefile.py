"""The small files that stand beside a class list: exact headings, pupils named by id or name."""

from __future__ import annotations

from collections.abc import Iterator

from benchmates.core.errors import CannotRead, Fault
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.reading.cells import is_formula
from benchmates.core.roster.reading.headings import plain
from benchmates.core.roster.reading.naming import Naming
from benchmates.core.roster.reading.table import Grid, Row, read_table


def naming_of(class_list: ClassList) -> Naming:
    """Ids and names of a class, for looking up."""
    return Naming((p.id, p.name) for p in class_list)


def cannot_read(faults: list[Fault]) -> CannotRead:
    """The one error that carries them all."""
    return CannotRead(*map(str, faults), faults=faults)


class SideFile:
    """A table whose headings are ours; makes ``CannotRead`` at once if one that is needed is missing."""

    def __init__(
        self, data: bytes, *, filename: str, needed: tuple[str, ...], known: tuple[str, ...]
    ) -> None:
        def suits(grid: Grid) -> int:
            return max((len(_places(row, known)) for row in grid.rows[:20]), default=0)

        table = read_table(data, filename=filename, suits=suits)
        if isinstance(table, Fault):
            raise cannot_read([table])
        if not table.grid.rows:
            raise cannot_read(
                [Fault(filename, "the file is empty", f"The headings are {', '.join(needed)}.")]
            )
        self.filename = filename
        self._grid = table.grid
        self._at = max(
            range(min(20, len(table.grid.rows))), key=lambda k: len(_places(self._grid.rows[k], known))
        )
        head = self._grid.rows[self._at]
        self._places = _places(head, known)
        missing = [field for field in needed if field not in self._places]
        if missing:
            found = f"no column headed {' or '.join(f'“{m}”' for m in missing)}"
            would_do = (
                f"The headings are {', '.join(needed)}; found were {', '.join(c for c in head.cells if c)}."
            )
            raise cannot_read([Fault(f"{filename}, row {head.number}", found, would_do)])
        self.faults: list[Fault] = []

    def rows(self) -> Iterator[tuple[Row, dict[str, str]]]:
        """Each row below the headings with its cells by field; a formula is a fault and reads as blank."""
        for row in self._grid.rows[self._at + 1 :]:
            yield row, {field: self._cell(row, field, at) for field, at in self._places.items()}

    def _cell(self, row: Row, field: str, at: int) -> str:
        cell = row.cell(at)
        if self._grid.written and is_formula(cell):
            self.fault(row, f"a formula stands under “{field}”", "Put what it shows in its place.")
            return ""
        return self._grid.meant(cell)

    def fault(self, row: Row, found: str, would_do: str) -> None:
        """Note one fault of a row."""
        self.faults.append(Fault(f"{self.filename}, row {row.number}", found, would_do))

    def finish(self) -> None:
        """Raise every fault, if there is one."""
        if self.faults:
            raise cannot_read(self.faults)


def _places(row: Row, known: tuple[str, ...]) -> dict[str, int]:
    places: dict[str, int] = {}
    for at, cell in enumerate(row.cells):
        heading = plain(cell)
        for field in known:
            if heading in (field, f"{field}s", field.removesuffix("s")):
                places.setdefault(field, at)
    return places
