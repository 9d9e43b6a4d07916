"""`benchmates check` on plans that `benchmates group` made, whole and tampered with."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from benchmates.cli.main import app
from tests.cli.conftest import EXAMPLES, Ending, Run


@pytest.fixture(scope="module")
def known(tmp_path_factory: pytest.TempPathFactory) -> list[object]:
    """The musts and history of the example class, less the one role that a rainbow does not have."""
    lines = (EXAMPLES / "8b-musts.csv").read_text(encoding="utf-8-sig").splitlines()
    musts = tmp_path_factory.mktemp("known") / "musts.csv"
    musts.write_text("\n".join(line for line in lines if "scribe" not in line), encoding="utf-8")
    return ["--musts", musts, "--history", EXAMPLES / "8b-history.csv", "--adults", "2"]


@pytest.fixture(scope="module")
def made(known: list[object]) -> dict[str, Any]:
    """A rainbow of the example class, made once."""
    words = ["group", EXAMPLES / "8b.csv", "--way", "rainbow-groups", *known, "--seconds", "2", "--json"]
    return json.loads(CliRunner().invoke(app, list(map(str, words))).stdout)


def checked(run: Run, tmp_path: Path, plan: object, *words: object) -> Ending:
    file = tmp_path / "plan.json"
    file.write_text(plan if isinstance(plan, str) else json.dumps(plan), encoding="utf-8")
    return run("check", file, EXAMPLES / "8b.csv", *words)


def test_a_plan_as_made_has_no_faults(
    run: Run, tmp_path: Path, made: dict[str, Any], known: list[object]
) -> None:
    ending = checked(run, tmp_path, made, *known, "--json")
    assert (ending.code, ending.object["faults"]) == (0, [])
    in_words = checked(run, tmp_path, made, *known)
    assert (in_words.code, in_words.err) == (0, "")
    assert "This plan holds" in in_words.out


def test_stages_and_sizes_are_compared_with_a_way_that_is_named(
    run: Run, tmp_path: Path, made: dict[str, Any], known: list[object]
) -> None:
    assert checked(run, tmp_path, made, *known, "--way", "rainbow-groups").code == 0
    other = checked(run, tmp_path, made, *known, "--way", "jigsaw", "--json")
    assert other.code == 1
    assert "rainbow-groups" in other.object["faults"][0]["found"]
    assert checked(run, tmp_path, made, *known, "--way", "rainbow-groups", "--size", "3").code == 1


def swapped(plan: dict[str, Any]) -> None:
    one, other = plan["stages"][1]["groups"][:2]
    one["members"][0], other["members"][0] = other["members"][0], one["members"][0]


def gone(plan: dict[str, Any]) -> None:
    plan["stages"][0]["groups"][0]["members"].pop()


def cheaper(plan: dict[str, Any]) -> None:
    plan["compromise"]["total"] -= 1


def cheaper_wish(plan: dict[str, Any]) -> None:
    plan["compromise"]["by_wish"]["attainment"] -= 1


def cheaper_stage(plan: dict[str, Any]) -> None:
    plan["compromise"]["by_stage"][0]["by_wish"]["attainment"] += 1


def bragging(plan: dict[str, Any]) -> None:
    plan["proved"] = True
    plan["bound"] = plan["compromise"]["total"] - 1


def relabelled(plan: dict[str, Any]) -> None:
    plan["stages"][1]["groups"][0]["label"] = plan["stages"][1]["groups"][1]["label"]


TAMPERINGS = [swapped, gone, cheaper, cheaper_wish, cheaper_stage, bragging, relabelled]


@pytest.mark.parametrize("tamper", TAMPERINGS, ids=lambda f: f.__name__)
def test_tampering_is_found_and_ends_in_1(
    run: Run,
    tmp_path: Path,
    made: dict[str, Any],
    known: list[object],
    tamper: Callable[[dict[str, Any]], None],
) -> None:
    plan = copy.deepcopy(made)
    tamper(plan)
    ending = checked(run, tmp_path, plan, *known, "--json")
    assert ending.code == 1
    assert ending.object["faults"]
    assert all(set(fault) == {"where", "found", "would_do"} for fault in ending.object["faults"])
    in_words = checked(run, tmp_path, plan, *known)
    assert (in_words.code, in_words.out) == (1, "")
    assert "found in this plan" in in_words.err


def test_a_must_that_the_plan_was_not_made_with_is_named(
    run: Run, tmp_path: Path, made: dict[str, Any], known: list[object]
) -> None:
    two = made["stages"][0]["groups"][0]["members"][:2]
    musts = tmp_path / "musts.csv"
    musts.write_text(f"must,pupils\napart,{';'.join(two)}\n", encoding="utf-8")
    ending = checked(run, tmp_path, made, "--musts", musts, "--history", EXAMPLES / "8b-history.csv")
    assert ending.code == 1
    assert "They must be apart." in ending.err


@pytest.mark.parametrize("spoiled", ["", "{", "[]", '{"format": 99}', '{"format": 1}', "\x00\x01"])
def test_a_file_that_is_no_plan_ends_in_4(run: Run, tmp_path: Path, spoiled: str) -> None:
    ending = checked(run, tmp_path, spoiled, "--json")
    assert ending.code == 4
    assert ending.object["faults"]


def test_a_plan_of_another_class_is_found(
    run: Run, tmp_path: Path, made: dict[str, Any], known: list[object]
) -> None:
    file = tmp_path / "plan.json"
    file.write_text(json.dumps(made), encoding="utf-8")
    ending = run("check", file, EXAMPLES / "names.txt")
    assert ending.code == 1
    assert "not in the class list" in ending.err
