"""The column map: which heading of theirs is which field of ours."""

from __future__ import annotations

import tomllib

from benchmates.core.errors import CannotRead, Fault
from benchmates.core.roster.reading.class_lists import checked_columns

_EXAMPLE = 'Write lines such as  name = "Their heading"  under [columns].'


def read_column_map(data: bytes) -> dict[str, str]:
    """Read field of ours -> heading of theirs from toml, under ``[columns]`` or at the top.

    Raises
    ------
    CannotRead
        No toml, an unknown field, a heading that is no text; every fault at once.
    """
    try:
        read = tomllib.loads(data.decode("utf-8-sig"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, RecursionError) as error:
        raise _cannot([Fault("column map", f"it is no toml ({error})", _EXAMPLE)]) from error
    table = read.get("columns", read)
    if not isinstance(table, dict):
        raise _cannot([Fault("column map", "“columns” is no table", _EXAMPLE)])
    if not table:
        raise _cannot([Fault("column map", "it is empty", _EXAMPLE)])
    faults = [
        Fault(f"column map, “{ours}”", "the heading is no text", _EXAMPLE)
        for ours, theirs in table.items()
        if not isinstance(theirs, str)
    ]
    try:
        columns = checked_columns(table)
    except CannotRead as unknown:
        raise _cannot([*unknown.faults, *faults]) from unknown
    if faults:
        raise _cannot(faults)
    return columns


def _cannot(faults: list[Fault]) -> CannotRead:
    return CannotRead(*map(str, faults), faults=faults)
