"""Words and small types that every room shares."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NewType

PupilId = NewType("PupilId", str)
Minutes = float
Seed = int

# Letters of the group tokens, in order of use. I and J are left out: they read as 1 on a board.
TOKEN_LETTERS = "ABCDEFGHKLMN"
SHAPE_NAMES = {
    "A": "Arch", "B": "Block", "C": "Cog", "D": "Dovetail", "E": "Eyelet", "F": "Flag",
    "G": "Gable", "H": "Hexagon", "K": "Kite", "L": "Leaf", "M": "Mitre", "N": "Notch",
}  # fmt: skip


@dataclass(frozen=True)
class Span:
    """Least, planned and most, in one unit (minutes, or pupils in a group)."""

    least: float
    planned: float
    most: float

    def __post_init__(self) -> None:
        if not 0 <= self.least <= self.planned <= self.most:
            raise ValueError(
                f"a span runs least <= planned <= most, not {self.least}, {self.planned}, {self.most}"
            )


@dataclass(frozen=True)
class Told:
    """A plain sentence for the teacher; ``met`` is false where it tells of something that could not be had."""

    text: str
    met: bool = True


def unmet_in(sentences: Iterable[Told]) -> tuple[int, ...]:
    """Which of these sentences, counted from 0, tell of something that could not be had."""
    return tuple(k for k, sentence in enumerate(sentences) if not sentence.met)


def as_told(texts: Sequence[str], unmet: Sequence[int]) -> tuple[Told, ...]:
    """Sentences kept as plain strings, each again with whether it was met."""
    return tuple(Told(text, k not in unmet) for k, text in enumerate(texts))


def joined(names: list[str] | tuple[str, ...], last: str = "and") -> str:
    """Names as a teacher says them: "Ravi K, Hana S and Femi A"."""
    if len(names) <= 1:
        return "".join(names)
    return f"{', '.join(names[:-1])} {last} {names[-1]}"


def counted(number: int, one: str, many: str | None = None) -> str:
    """A number with its noun: "1 pupil", "3 pupils"."""
    return f"{number} {one if number == 1 else many or one + 's'}"
