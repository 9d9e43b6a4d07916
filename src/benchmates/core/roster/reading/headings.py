"""Which column is which: headings in other words, order and case."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from benchmates.core.roster.reading.table import Grid

# Only these are ever held, the least that groups can be made with; all else is named and dropped.
FIELDS = (
    "id", "name", "year", "attainment", "gender", "eal", "adult_support", "confident_reader", "talk",
    "works_well_with", "bench",
)  # fmt: skip
NAME_PARTS = ("forename", "surname")
MAPPABLE = (*FIELDS, *NAME_PARTS)
CLASS = "class"  # read only to help a teacher cut a year's list down; never held
LAST_HEADING_ROW = 20

_WORDS: dict[str, tuple[str, ...]] = {
    "id": (
        "id",
        "local id",
        "identifier",
        "number",
        "code",
        "ref",
        "reference",
        "pupil no",
        "student no",
        "admission number",
        "admission no",
        "admissions number",
        "admissions no",
        "adno",
        "adm no",
        "roll number",
    ),
    "name": (
        "name",
        "names",
        "pupil",
        "pupils",
        "student",
        "students",
        "learner",
        "learners",
        "child",
        "full name",
        "display name",
        "preferred name",
        "known as",
    ),
    "forename": (
        "forename",
        "forenames",
        "first name",
        "firstname",
        "given name",
        "preferred forename",
        "preferred first name",
        "legal forename",
        "chosen name",
    ),
    "surname": (
        "surname",
        "last name",
        "lastname",
        "family name",
        "legal surname",
        "preferred surname",
        "second name",
    ),
    "year": ("year", "yr", "year group", "yeargroup", "nc year", "ncyear", "national curriculum year"),
    "attainment": (
        "attainment",
        "prior attainment",
        "prior",
        "pa",
        "attainment score",
        "prior attainment score",
        "ks2",
        "ks2 score",
        "ks2 scaled score",
        "ks2 average",
        "ks2 average score",
        "ks2 prior attainment",
        "ks2 pa",
        "cat",
        "cats",
        "cat score",
        "cat mean",
        "mean cat",
        "cat4",
        "cat4 mean",
        "baseline",
        "baseline score",
    ),
    "gender": ("gender", "sex", "m f", "gender m f", "sex m f", "legal sex"),
    "eal": ("eal", "english as an additional language", "english additional language", "additional language"),
    "adult_support": (
        "adult support",
        "ta",
        "ta support",
        "lsa",
        "lsa support",
        "support",
        "supported",
        "teaching assistant",
        "in class support",
        "works with ta",
    ),
    "confident_reader": ("confident reader", "reader", "strong reader", "reads confidently", "good reader"),
    "talk": ("talk", "talking", "talks", "how they talk", "quiet takes over"),
    "works_well_with": (
        "works well with",
        "works well",
        "good with",
        "good partners",
        "partners",
        "work partners",
        "works with",
    ),
    "bench": ("bench", "bench number", "bench no", "workbench", "table", "table number", "seat", "place"),
    CLASS: (
        "class",
        "class name",
        "class code",
        "form",
        "form group",
        "reg",
        "reg group",
        "reg form",
        "registration",
        "registration group",
        "registration form",
        "tutor group",
        "tutor",
        "teaching group",
        "teaching set",
        "set",
    ),
}
# Beside a column headed "Name" these are more often a key or a number than a second name.
_PERHAPS_NAMES = frozenset({"pupil", "pupils", "student", "students", "learner", "learners", "child"})
_FIELD_OF = {word: field for field, words in _WORDS.items() for word in words}
_WHOSE = re.compile(r"^(?:the )?(?:pupil|student|learner|child)(?: s|s)? (?=\S)")
_ASIDE = re.compile(r" (?:y n|yes no|y|optional|if known)$")


def plain(heading: str) -> str:
    """A heading with case, punctuation and underscores levelled, for comparing."""
    return " ".join(re.sub(r"[\W_]+", " ", heading.casefold()).split())


def field_of(heading: str) -> str | None:
    """The field a heading stands for, ``None`` if it is no heading we know."""
    words = plain(heading)
    for tried in (words, _ASIDE.sub("", words), _WHOSE.sub("", words), _WHOSE.sub("", _ASIDE.sub("", words))):
        if tried in _FIELD_OF:
            return _FIELD_OF[tried]
    return None


@dataclass(frozen=True)
class HeadingRow:
    """Where the headings stand in ``grid.rows`` and what each column is: a field, or ``None`` for dropped."""

    at: int
    headings: tuple[str, ...]
    fields: tuple[str | None, ...]

    @property
    def names_pupils(self) -> bool:
        """Whether an id or a name can be had from these columns."""
        return any(field in ("id", "name", *NAME_PARTS) for field in self.fields)

    @property
    def known(self) -> int:
        """How many columns are known."""
        return sum(field is not None for field in self.fields)

    def column(self, field: str) -> int | None:
        """The column of a field."""
        return self.fields.index(field) if field in self.fields else None


def find_headings(grid: Grid, columns: Mapping[str, str] | None = None) -> HeadingRow | None:
    """The row, among the first twenty, that knows the most headings and says who the pupils are.

    Ties go to the earlier row, so that a pupil called Reader under "Name" stays a pupil.
    """
    best: HeadingRow | None = None
    for at, row in enumerate(grid.rows[:LAST_HEADING_ROW]):
        found = HeadingRow(at, row.cells, _fields(row.cells, columns or {}))
        if found.names_pupils and (best is None or found.known > best.known):
            best = found
    return best


def _fields(headings: tuple[str, ...], columns: Mapping[str, str]) -> tuple[str | None, ...]:
    """One field a column and one column a field: what was mapped, then the first that is recognised."""
    mapped = {plain(theirs): ours for ours, theirs in columns.items() if plain(theirs)}
    taken: dict[str, int] = {}
    for at, heading in enumerate(headings):
        if plain(heading) in mapped:
            taken.setdefault(mapped[plain(heading)], at)
    surest_first = sorted(range(len(headings)), key=lambda at: plain(headings[at]) in _PERHAPS_NAMES)
    for at in surest_first:
        field = field_of(headings[at])
        if field and at not in taken.values() and field not in columns:
            taken.setdefault(field, at)
    if "name" in taken and "forename" in taken:
        # A whole name and its parts: the parts would only repeat it.
        taken.pop("forename")
        taken.pop("surname", None)
    by_column = {at: field for field, at in taken.items()}
    return tuple(by_column.get(at) for at in range(len(headings)))


def likeliest_headings(grid: Grid) -> tuple[str, ...]:
    """The fullest of the first rows, when none is known: what a teacher is shown to choose from."""
    return max(
        (row.cells for row in grid.rows[:LAST_HEADING_ROW]), key=lambda c: sum(map(bool, c)), default=()
    )
