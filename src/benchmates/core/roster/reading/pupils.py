"""Rows to pupils: every faulty row found before any pupil is taken in."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field, replace

from benchmates.core.errors import Fault
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.pupil import Pupil, Talk
from benchmates.core.roster.reading.cells import LONGEST, is_formula, whole_number, without_point_zero
from benchmates.core.roster.reading.headings import HeadingRow
from benchmates.core.roster.reading.naming import Naming
from benchmates.core.roster.reading.table import Grid, Row
from benchmates.core.terms import PupilId, counted

_YES = frozenset({"yes", "y", "true", "1", "x", "✓", "✔"})
_NO = frozenset({"no", "n", "false", "0"})
_YES_NO_FIELDS = ("eal", "adult_support", "confident_reader")


@dataclass(frozen=True)
class Entry:
    """A pupil as one row gave it; ``row`` is its number, ``partners`` still in the teacher's words."""

    row: Row
    id: str
    name: str
    pupil: Pupil
    partners: str = ""


@dataclass
class Findings:
    """Faults and notices gathered on the way through a list."""

    faults: list[Fault] = field(default_factory=list)
    notices: list[str] = field(default_factory=list)

    def fault(self, where: str, found: str, would_do: str) -> None:
        """Note one fault."""
        self.faults.append(Fault(where, found, would_do))


def pupils_from(grid: Grid, heads: HeadingRow, findings: Findings) -> ClassList | None:
    """The class below the headings, or ``None`` with ``findings.faults`` filled."""
    entries = [_entry(row, grid, heads, findings) for row in grid.rows[heads.at + 1 :]]
    return class_of(entries, findings, with_ids=heads.column("id") is not None)


def class_of(entries: list[Entry], findings: Findings, *, with_ids: bool) -> ClassList | None:
    """The class of these entries: ids made unique or checked, partners found by id or name."""
    if with_ids:
        _check_ids(entries, findings)
    else:
        entries = _ids_from_names(entries, findings)
    _tell_shared_names(entries, findings, with_ids=with_ids)
    if findings.faults:
        return None
    naming = Naming((PupilId(e.id), e.name) for e in entries)
    return ClassList(tuple(_with_partners(e, naming, findings) for e in entries))


def _entry(row: Row, grid: Grid, heads: HeadingRow, findings: Findings) -> Entry:
    reader = _RowReader(row, grid, heads, findings)
    reader.check_width()
    has_name = any(heads.column(f) is not None for f in ("name", "forename", "surname"))
    id = reader.word("id")
    name = reader.name() if has_name else id
    if heads.column("id") is not None and not id:
        reader.fault(
            "the id is empty", "Give this pupil an id of their own, or leave the id column out for all."
        )
    if has_name and not name:
        reader.fault("the name is empty", "Write the name, or take the row out.")
    id = id or name
    check_id(reader.where, id, findings)
    pupil = Pupil(
        id=PupilId(id),
        name=name,
        year=without_point_zero(reader.word("year")) or None,
        attainment=reader.whole_number("attainment"),
        gender=reader.word("gender") or None,
        eal=reader.yes_no("eal"),
        adult_support=reader.yes_no("adult_support"),
        confident_reader=reader.yes_no("confident_reader"),
        talk=reader.talk(),
        bench=without_point_zero(reader.word("bench")) or None,
    )
    return Entry(row, id, name, pupil, reader.text("works_well_with"))


def check_id(where: str, id: str, findings: Findings) -> None:
    """An id with a semicolon could not be named in a list of ids."""
    if ";" in id:
        findings.fault(
            where, f"“{id}” has a semicolon in it", "Semicolons part the pupils of a list: use another sign."
        )


@dataclass(frozen=True)
class _RowReader:
    row: Row
    grid: Grid
    heads: HeadingRow
    findings: Findings

    @property
    def where(self) -> str:
        return f"row {self.row.number}"

    def fault(self, found: str, would_do: str) -> None:
        self.findings.fault(self.where, found, would_do)

    def check_width(self) -> None:
        extra = [cell for cell in self.row.cells[len(self.heads.headings) :] if cell]
        if extra:
            wide, known = len(self.row.cells), len(self.heads.headings)
            self.fault(
                f"{counted(wide, 'cell')} under {counted(known, 'heading')}",
                'Put quotation marks (") round a cell with the separator in it, or take the extra cell out.',
            )

    def text(self, field: str) -> str:
        at = self.heads.column(field)
        cell = "" if at is None else self.row.cell(at)
        if self.grid.written and is_formula(cell):
            self.fault(f"a formula stands under {self.heading(field)}", "Put what it shows in its place.")
            return "?"  # not blank: the formula alone is the fault, and is told once
        return self.grid.meant(cell)

    def word(self, field: str) -> str:
        text = self.text(field)
        if len(text) > LONGEST:
            self.fault(
                f"{len(text)} characters under {self.heading(field)}",
                f"Shorten it to {LONGEST} characters at most.",
            )
        return text

    def heading(self, field: str) -> str:
        at = self.heads.column(field)
        return f"“{self.heads.headings[at]}”" if at is not None else field

    def name(self) -> str:
        first = "name" if self.heads.column("name") is not None else "forename"
        parts = [self.word(first), self.word("surname")]
        return " ".join(part for part in parts if part)

    def whole_number(self, field: str) -> int | None:
        text = self.text(field)
        number = whole_number(text)
        if text not in ("", "?") and number is None:
            self.fault(f"“{text}” under {self.heading(field)}", "Write a whole number, or leave it blank.")
        return number

    def yes_no(self, field: str) -> bool | None:
        text = self.text(field).casefold()
        if text in _YES or text in _NO:
            return text in _YES
        if text not in ("", "?"):
            self.fault(f"“{text}” under {self.heading(field)}", "Write yes or no, or leave it blank.")
        return None

    def talk(self) -> Talk | None:
        text = self.text("talk")
        level = " ".join(text.casefold().replace("_", " ").replace("-", " ").split())
        if level in set(Talk):
            return Talk(level)
        if text not in ("", "?"):
            self.fault(
                f"“{text}” under {self.heading('talk')}", "Write quiet or takes over, or leave it blank."
            )
        return None


def _check_ids(entries: list[Entry], findings: Findings) -> None:
    first: dict[str, Entry] = {}
    for entry in entries:
        if entry.id in ("", "?"):
            continue
        earlier = first.setdefault(entry.id, entry)
        if earlier is entry:
            continue
        where = f"rows {earlier.row.number} and {entry.row.number}"
        if earlier.row.cells == entry.row.cells:
            findings.fault(where, f"the same pupil twice (“{entry.id}”)", "Take one of the two rows out.")
        else:
            findings.fault(
                where, f"two pupils have the id “{entry.id}”", "Give each pupil an id of their own."
            )


def _ids_from_names(entries: list[Entry], findings: Findings) -> list[Entry]:
    """Each name as the id, a later namesake with the first free number after it."""
    names = {entry.name for entry in entries}
    used: set[str] = set()
    made = []
    for entry in entries:
        id, k = entry.name, 2
        while id in used or (id in names and id != entry.name):
            id, k = f"{entry.name} ({k})", k + 1
        used.add(id)
        made.append(replace(entry, id=id))
    return made


def _tell_shared_names(entries: list[Entry], findings: Findings, *, with_ids: bool) -> None:
    for name, count in Counter(name for name, _ in {(e.name, e.id) for e in entries}).items():
        if count == 1 or name in ("", "?"):
            continue
        rows = [str(e.row.number) for e in entries if e.name == name]
        where = f"{', '.join(rows[:-1])} and {rows[-1]}"
        told = f"{count} pupils are called {name} (rows {where})"
        later = [f"“{e.id}”" for e in entries if e.name == name][1:]
        held = "" if with_ids else f"; the later is held as {', '.join(later)}"
        findings.notices.append(f"{told}{held}. A letter or two more of the surname would tell them apart.")
    for entry in entries:
        if "\ufffd" in entry.name:
            findings.notices.append(
                f"Row {entry.row.number}: a letter was lost from “{entry.name}” before it came here."
            )


def _with_partners(entry: Entry, naming: Naming, findings: Findings) -> Pupil:
    partners: list[PupilId] = []
    for text in naming.parts(entry.partners):
        partner, trouble = naming.who(text)
        if partner == entry.id:
            trouble = f"“{text}” is this pupil"
        if trouble:
            findings.notices.append(f"Row {entry.row.number}, works well with: {trouble}; left out.")
        elif partner is not None and partner not in partners:
            partners.append(partner)
    return replace(entry.pupil, id=PupilId(entry.id), works_well_with=tuple(partners))
