"""The parts of a jigsaw: who works on which, and how many expert groups that makes."""

from __future__ import annotations

from collections.abc import Sequence

from benchmates.core.strategy.sizes import even_sizes

# An expert group beyond this is split evenly (handbook 2.2, jigsaw; common practice, no source).
MOST_EXPERTS = 5


def parts_of_homes(homes: Sequence[int], parts: int) -> list[list[int]]:
    """Which part each seat of each home works on: one each, extra pupils doubling the parts in turn."""
    doubled = 0
    found: list[list[int]] = []
    for size in homes:
        home = list(range(min(size, parts)))
        for _ in range(size - parts):
            home.append(doubled % parts)
            doubled += 1
        found.append(home)
    return found


def expert_groups(homes: Sequence[int], parts: int) -> tuple[tuple[int, ...], tuple[int, ...]] | None:
    """Sizes of the expert groups and the part of each; None if some part has nobody.

    A part is one group, or several even ones past ``MOST_EXPERTS``.
    """
    counts = [0] * parts
    for home in parts_of_homes(homes, parts):
        for part in home:
            counts[part] += 1
    if not all(counts):
        return None
    groups = [
        (size, part)
        for part, count in enumerate(counts)
        for size in even_sizes(count, -(-count // MOST_EXPERTS), first=MOST_EXPERTS)
    ]
    return tuple(size for size, _ in groups), tuple(part for _, part in groups)
