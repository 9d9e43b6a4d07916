"""Names one a line: numbering, bullets and a title taken off, "Surname, Forename" kept whole."""

from __future__ import annotations

import re

from benchmates.core.roster.pupil import Pupil
from benchmates.core.roster.reading.cells import LONGEST, cleaned, is_formula, unguarded
from benchmates.core.roster.reading.pupils import Entry, Findings, check_id
from benchmates.core.roster.reading.table import Row
from benchmates.core.roster.reading.text import lines
from benchmates.core.terms import PupilId

_BULLET = re.compile(r"^(?:[-–—*]\s*|\+\s+|[•‣◦▪●○·]\s*|\[[ xX]?\]\s*)+")
_NUMBERING = re.compile(r"^(?:\(?\d{1,3}[.):\]]\s*|\d{1,3}\s+)")
_QUOTED = re.compile(r'^"(.*)"$')


def name_rows(text: str) -> tuple[Row, ...]:
    """One row a line that is not blank once bullet and numbering are off."""
    stripped = ((k, _stripped(line)) for k, line in enumerate(lines(text), start=1))
    return tuple(Row(k, (name,)) for k, name in stripped if name)


def _stripped(line: str) -> str:
    line = _BULLET.sub("", cleaned(line).strip(",;|"))
    line = _QUOTED.sub(r"\1", _NUMBERING.sub("", line).strip())
    return unguarded(line.strip())


def one_line(text: str) -> tuple[Row, ...]:
    """The names of a single line that parts them with commas or semicolons; none if it is no such line."""
    rows = name_rows(text)
    if len(rows) != 1:
        return ()
    line = rows[0].cells[0]
    parts = line.split(";") if ";" in line else line.split(",")
    names = [cleaned(part) for part in parts if part.strip()]
    if len(names) < (2 if ";" in line else 3):
        return ()
    return tuple(Row(rows[0].number, (name,)) for name in names)


def is_surnames_first(text: str) -> bool:
    """Whether every line is "Surname, Forename": exactly one comma, and no digit (an id, a year)."""
    rows = [row.cells[0] for row in name_rows(text)]
    return bool(rows) and all(row.count(",") == 1 and not re.search(r"\d", row) for row in rows)


def without_title(rows: tuple[Row, ...], findings: Findings) -> tuple[Row, ...]:
    """The rows less a first one that has a digit when no name has: "8B Design", not a pupil."""
    if len(rows) < 3 or not re.search(r"\d", rows[0].cells[0]):
        return rows
    if any(re.search(r"\d", row.cells[0]) for row in rows[1:]):
        return rows
    findings.notices.append(f"Row {rows[0].number} (“{rows[0].cells[0]}”) was taken for a title and skipped.")
    return rows[1:]


def name_entries(rows: tuple[Row, ...], findings: Findings) -> list[Entry]:
    """One entry a name, each checked."""
    entries = []
    for row in rows:
        name, where = row.cells[0], f"row {row.number}"
        if is_formula(name):
            findings.fault(where, "a formula stands where a name should", "Put what it shows in its place.")
        elif not any(c.isalpha() for c in name):
            findings.fault(
                where, f"“{name[:LONGEST]}” has no letters in it", "Write the name, or take the line out."
            )
        if len(name) > LONGEST:
            findings.fault(
                where, f"a name of {len(name)} characters", f"Shorten it to {LONGEST} characters at most."
            )
        check_id(where, name[:LONGEST], findings)
        entries.append(Entry(row, name, name, Pupil(PupilId(name), name)))
    return entries
