"""The tables of the file formats name every key that the readers accept, and no other."""

from __future__ import annotations

import re
from collections import defaultdict
from pathlib import Path

import pytest

from benchmates.core.lesson.reading import OWN_KEYS, read_lesson
from benchmates.core.strategy.catalogue import ways
from benchmates.core.strategy.fields import Fields
from benchmates.core.strategy.reading import read_way

REPO = Path(__file__).parents[2]
WAYS = REPO / "src" / "benchmates" / "core" / "strategy" / "ways"
LESSONS = (REPO / "examples" / "phone-stand.toml", *sorted((REPO / "examples" / "lessons").glob("*.toml")))

# A lesson with a chain alone, and one with a way of its own: what a catalogue's way never asks for.
CHAIN = """format = 1
title = "A chain"
bell = 60
[[stage]]
name = "Threes"
relation = "new"
size = 3
minutes = 5
question = "What holds it up?"
"""
OWN = (
    CHAIN
    + """[own_way]
key = "own-chain"
name = "Own chain"
purposes = ["make"]
[own_way.why]
text = "To try."
"""
)


@pytest.fixture
def asked(monkeypatch) -> dict[str, set[str]]:
    """Every key that a reader asks for, by the kind of table; filled while files are read."""
    ways()  # read once and kept: what a lesson asks of the catalogue is not asked of the lesson
    found: dict[str, set[str]] = defaultdict(set)
    take = Fields._take

    def noted(self: Fields, key: str) -> object | None:
        found[_kind(self.where)].add(key)
        return take(self, key)

    monkeypatch.setattr(Fields, "_take", noted)
    return found


def _kind(where: str) -> str:
    """The last table named, without its number and name: "stage 2 (Fours, again), card 1 (Fit)" is a card."""
    bare = re.sub(r" \d+( \(.*?\))?(?=, \w+ \d|$)", "", where)
    return bare.split(", ")[-1]


def _table(heading: str) -> set[str]:
    """The keys in the first column of the table under a heading."""
    page = (REPO / "docs" / "reference" / "files.md").read_text(encoding="utf-8")
    section = re.search(rf"^#+ {re.escape(heading)}$(.*?)(?=^#|\Z)", page, re.M | re.S)
    assert section, f"no heading {heading}"
    cells = [line.split(" | ")[0] for line in section[1].splitlines() if line.startswith("| `")]
    return {key.strip("[]").split(".")[-1] for cell in cells for key in re.findall(r"`([^`]+)`", cell)}


def test_every_key_of_a_way_is_in_the_tables(asked) -> None:
    for file in sorted(WAYS.glob("*.toml")):
        read_way(file.read_bytes(), filename=file.name)

    assert _table("Way of working") == asked[""]
    assert _table("Stages of a way") == asked["stage"]
    assert _table("Question cards") == asked["card"]
    assert _table("Claims") == asked["why"] | asked["claim"]


def test_every_key_of_a_lesson_is_in_the_tables(asked) -> None:
    for file in LESSONS:
        read_lesson(file.read_bytes(), filename=file.name)
    read_lesson(CHAIN.encode(), filename="chain.toml")
    asked_of_stages = asked["stage"] - set(OWN_KEYS) - {"name"}
    read_lesson(OWN.encode(), filename="own.toml")

    assert _table("Lesson") == asked[""]
    assert _table("Parts of a lesson") == asked["part"]
    assert asked["own_way"] == _table("Way of working") - {"format", "stage"}
    assert _table("Stages that a lesson changes") == {"name", *OWN_KEYS}
    assert asked_of_stages == _table("Stages of a way") - set(OWN_KEYS) - {"name"}
