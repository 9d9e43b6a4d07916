"""No name is ever left blank: what no font can draw gets a visible mark, a number and a notice."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from benchmates.core.roster.class_list import ClassList
from benchmates.core.terms import PupilId
from benchmates.sheets.typeset import letters_missing

MARK = "□"


def printable_names(class_list: ClassList) -> tuple[dict[PupilId, str], tuple[str, ...]]:
    """Names by id as they can be printed, and one notice for each that cannot be printed as it stands."""
    missing = letters_missing(pupil.name for pupil in class_list)
    names, notices = {}, []
    for number, pupil in enumerate(class_list, start=1):
        names[pupil.id] = pupil.name
        if missing & set(pupil.name) or not pupil.name.strip():
            # The number, not the id: an id may say more than the class should know.
            names[pupil.id] = f"{marked(pupil.name, missing)} (number {number})".strip()
            notices.append(
                f"Pupil {number} of the list has letters that no font here can draw: "
                f"printed as “{names[pupil.id]}”. Write that name by hand."
            )
    return names, tuple(notices)


def marked(text: str, missing: frozenset[str]) -> str:
    """A text with a visible mark for every letter that cannot be drawn."""
    return "".join(MARK if letter in missing else letter for letter in text)


def with_marks(data: Mapping[str, object]) -> tuple[dict[str, object], tuple[str, ...]]:
    """Plain data in which every text can be drawn, and a notice where a letter could not."""
    missing = letters_missing(_texts(data))
    if not missing:
        return dict(data), ()
    shown = ", ".join(f"U+{ord(letter):04X}" for letter in sorted(missing))
    notice = f"Some letters of the lesson’s words cannot be drawn and print as {MARK}: {shown}."
    return {key: _replaced(value, missing) for key, value in data.items()}, (notice,)


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for inner in value.values():
            yield from _texts(inner)
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from _texts(inner)


def _replaced(value: object, missing: frozenset[str]) -> object:
    if isinstance(value, str):
        return marked(value, missing)
    if isinstance(value, Mapping):
        return {key: _replaced(inner, missing) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_replaced(inner, missing) for inner in value]
    return value
