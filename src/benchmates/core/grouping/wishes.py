"""Wishes: what good groups look like, weighed in whole numbers that a teacher can read as exchange rates."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field

from benchmates.core.errors import CannotRead, Fault

# Ten for a repeated pair and one for a mark off balance: "one repeated pair weighs as much as 10 marks off balance".
# Even weights on all but attainment keep every plan's parity, which later halves the work of a proof.
USUAL = {"new_partners": 10, "attainment": 1, "gender": 0, "works_well": 8, "lone": 6}

WORDS = {
    "new_partners": "new partners",
    "attainment": "a spread of prior attainment",
    "gender": "girls and boys mixed",
    "works_well": "somebody they work well with",
    "lone": "nobody the only one of a kind",
}

NAMES = tuple(USUAL)


@dataclass(frozen=True)
class Wishes:
    """Whole-number weights, 0 for off; ``by_stage`` holds other weights for single stages by their name."""

    weights: Mapping[str, int]
    by_stage: Mapping[str, Mapping[str, int]] = field(default_factory=dict)

    @staticmethod
    def usual() -> Wishes:
        """The weights used when nobody says otherwise (common practice, no source)."""
        return Wishes(USUAL)

    def weight(self, wish: str, stage: str) -> int:
        """The weight of one wish in one stage."""
        return self.by_stage.get(stage, {}).get(wish, self.weights.get(wish, 0))


def read_wishes(data: bytes, *, filename: str = "wishes") -> Wishes:
    """Read weights from TOML; a wish that the file does not name is off.

    Raises
    ------
    CannotRead
        Not TOML, an unknown wish, or a weight that is not a whole number from 0 to 1000; every fault is listed.
    """
    try:
        table = tomllib.loads(data.decode("utf-8-sig"))
    except (UnicodeDecodeError, tomllib.TOMLDecodeError) as trouble:
        fault = Fault(
            filename, f"this is not a file of wishes ({trouble})", "Write lines such as: new_partners = 10"
        )
        raise CannotRead(str(fault), faults=[fault]) from None
    faults: list[Fault] = []
    stages = table.pop("stage", {})
    weights = _weights(table, filename, faults)
    by_stage: dict[str, Mapping[str, int]] = {}
    if not isinstance(stages, dict):
        faults.append(
            Fault(filename, "“stage” is not a table", 'Write [stage."Fours"] and weights below it.')
        )
        stages = {}
    for name, inner in stages.items():
        if isinstance(inner, dict):
            by_stage[name] = _weights(inner, f"{filename}, stage {name}", faults)
        else:
            faults.append(
                Fault(filename, f"stage {name} has no weights", f'Write [stage."{name}"] and weights below.')
            )
    if faults:
        raise CannotRead(*(str(f) for f in faults), faults=faults)
    return Wishes(weights, by_stage)


def _weights(table: Mapping[str, object], where: str, faults: list[Fault]) -> dict[str, int]:
    good: dict[str, int] = {}
    for wish, weight in table.items():
        if wish not in USUAL:
            faults.append(Fault(where, f"“{wish}” is not a wish", f"Wishes are {', '.join(NAMES)}."))
        elif isinstance(weight, bool) or not isinstance(weight, int) or not 0 <= weight <= 1000:
            faults.append(
                Fault(where, f"{wish} = {weight!r}", "A weight is a whole number from 0 (off) to 1000.")
            )
        else:
            good[wish] = weight
    return good
