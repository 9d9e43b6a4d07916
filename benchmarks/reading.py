"""Reading class lists: the example class, and a list of 3,000 rows as a whole school hands it over."""

from __future__ import annotations

import statistics
import time
from collections.abc import Iterator
from pathlib import Path

from benchmates.core.errors import CannotRead
from benchmates.core.roster.reading import Preview, read_class_list

EXAMPLE = Path(__file__).resolve().parents[1] / "examples/8b.csv"


def whole_school(rows: int = 3000) -> bytes:
    """An invented list with a class column: far more pupils than a class has."""
    lines = ["Name,Year,Prior attainment"]
    lines += [f"Pupil {k:04},{7 + k % 5},{30 + k % 40}" for k in range(rows)]
    return "\n".join(lines).encode()


def told(preview: Preview) -> str:
    """How the reading ended."""
    return f"{len(preview.faults)} faults" if preview.faults else "ready to confirm"


def lines() -> Iterator[tuple[str, str]]:
    """Name, and milliseconds: the first time and the median of twenty."""
    for name, data in (("30 pupils", EXAMPLE.read_bytes()), ("3,000 rows", whole_school())):
        spent, ending = [], ""
        for _ in range(21):
            began = time.perf_counter()
            try:
                preview = read_class_list(data, filename="list.csv")
                ending = told(preview)
            except CannotRead as refused:
                ending = f"refused: {refused.told[0]}"
            spent.append(1000 * (time.perf_counter() - began))
        yield name, f"{spent[0]:.1f} ms, then {statistics.median(spent[1:]):.1f} ms ({ending})"
