"""The 22 ways of working that come with Benchmates, read from their files when first asked for."""

from __future__ import annotations

from functools import cache
from importlib import resources

from benchmates.core.errors import CannotPlan
from benchmates.core.strategy.fields import near
from benchmates.core.strategy.reading import read_way
from benchmates.core.strategy.way import Way
from benchmates.core.strategy.writing import write_way

__all__ = ["KEYS", "read_way", "way", "ways", "write_way"]

# Catalogue order: from pairs to whole-lesson ways.
KEYS = (
    "pair-talk", "think-pair-share", "buzz-groups", "pairs-to-fours", "snowball", "listening-triads", "envoys",
    "rainbow-groups", "jigsaw", "spokesperson", "round-robin", "carousel", "market-place", "fishbowl", "role-cards",
    "brainwriting", "pass-on-sketching", "critique-gallery", "design-teams", "consensus-ranking", "production-line",
    "skill-cascade",
)  # fmt: skip


def ways() -> tuple[Way, ...]:
    """All ways of the catalogue, in its order."""
    return tuple(_read(key) for key in KEYS)


def way(key: str) -> Way:
    """One way of the catalogue.

    Raises
    ------
    CannotPlan
        No way has this key; names the one that was probably meant.
    """
    if key not in KEYS:
        raise CannotPlan(f'There is no way of working called "{key}".', near(key, KEYS))
    return _read(key)


@cache
def _read(key: str) -> Way:
    file = resources.files("benchmates.core.strategy") / "ways" / f"{key}.toml"
    return read_way(file.read_bytes(), filename=f"{key}.toml")
