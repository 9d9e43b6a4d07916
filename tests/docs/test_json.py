"""What the commands print with --json is what the page of commands says, key by key."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from benchmates.cli.main import app

REPO = Path(__file__).parents[2]
EXAMPLES = REPO / "examples"


def _answer(*words: str) -> dict[str, Any]:
    return json.loads(CliRunner().invoke(app, [*words, "--json"]).stdout)


@pytest.fixture(scope="module")
def plan() -> dict[str, Any]:
    lesson = ("--lesson", str(EXAMPLES / "phone-stand.toml"))
    return _answer(
        "group", str(EXAMPLES / "8b.csv"), *lesson, "--seconds", "60"
    )  # the groups take two; a slow machine more


def _after(words: str) -> str:
    page = (REPO / "docs" / "reference" / "commands.md").read_text(encoding="utf-8")
    assert words in page
    return page.split(words, 1)[1].lstrip("\n")


def _rows(words: str) -> Iterator[str]:
    """The first cells of the first table after these words."""
    for line in _after(words)[_after(words).index("| key |") :].splitlines()[2:]:
        if not line.startswith("| "):
            return
        yield line.split(" | ")[0]


def _keys(words: str) -> set[str]:
    return {key for cell in _rows(words) for key in re.findall(r"`(\w+)`", cell)}


def test_a_plan_has_the_keys_that_are_told(plan) -> None:
    groups = [g for s in plan["stages"] for g in s["groups"]]
    sometimes = {"artefact", "leads"}

    assert set(plan) == _keys("## The object that `group --json` prints")
    assert all(set(s) == _keys("Each of `stages`:") for s in plan["stages"])
    assert all(set(g) - sometimes == _keys("Each of `groups`:") - sometimes for g in groups)
    assert any("leads" in g for g in groups)
    assert set(plan["certificate"]) == _keys("The `certificate` (")


def test_the_prices_of_a_stage_have_the_keys_that_are_told(plan) -> None:
    assert [set(s) for s in plan["certificate"]["stages"]] == [_keys("Each stage with prices:")]


def test_a_way_has_the_keys_that_are_told() -> None:
    way = _answer("ways", "show", "snowball")
    row = next(line for line in _after("What `ways show --json`").splitlines() if "| `stages` |" in line)

    assert set(way) == _keys("## What `ways show --json` prints")
    assert set(way["stages"][0]) == set(re.findall(r"`(\w+)`", row.split(" | ", 1)[1]))
    assert set(_answer("ways")["ways"][0]) == {"key", "name", "purposes", "sizes"}


def test_musts_that_clash_have_the_keys_that_are_told(tmp_path) -> None:
    musts = tmp_path / "musts.csv"
    musts.write_text("must,pupils\ntogether,p01;p02\napart,p01;p02\n", encoding="utf-8")
    answer = _answer("group", str(EXAMPLES / "8b.csv"), "--musts", str(musts))

    assert set(answer) == {"told", "cannot_hold"}
    assert all(set(must) == _keys("Each must that clashes:") for must in answer["cannot_hold"])
    assert len(answer["cannot_hold"]) == 2
