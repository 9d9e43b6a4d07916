"""The errors of the trade.

    Trouble                  anything a teacher can mend; carries plain sentences
    +-- CannotRead           a file or a pasted list: every faulty row at once
    +-- CannotPlan           a way of working or a size cannot be had with this class or bell
    +-- CannotGroup          the musts cannot all hold; carries the smallest set that clashes
    +-- CannotConclude       the evidence is too thin for the question

Pages turn them into form messages, the command line into exit codes; nothing else catches broadly.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong in what was handed in: where, what was found, what would do."""

    where: str
    found: str
    would_do: str

    def __str__(self) -> str:
        return f"{self.where}: {self.found}. {self.would_do}"


class Trouble(Exception):
    """Something a teacher can mend.

    Parameters
    ----------
    told
        Plain sentences, the first of which says what is wrong.
    """

    def __init__(self, *told: str) -> None:
        super().__init__(" ".join(told))
        self.told: tuple[str, ...] = told


class CannotRead(Trouble):
    """A file, a pasted list or an option could not be read; ``faults`` holds every fault found, in order."""

    def __init__(self, *told: str, faults: Sequence[Fault] = ()) -> None:
        super().__init__(*told)
        self.faults: tuple[Fault, ...] = tuple(faults)


class CannotPlan(Trouble):
    """A way of working, a size or a bell that cannot be had with this class."""


class CannotGroup(Trouble):
    """The musts cannot all hold; ``clash`` is a smallest set of them that cannot hold together."""

    def __init__(self, *told: str, clash: Sequence[object] = ()) -> None:
        super().__init__(*told)
        self.clash: tuple[object, ...] = tuple(clash)


class CannotConclude(Trouble):
    """The evidence is too thin, or of the wrong kind, for the question asked."""
