"""`benchmates sheets`: what is written where, and what is never written over."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from benchmates.cli.sheets import write_own
from benchmates.core.errors import CannotRead
from tests.cli.conftest import EXAMPLES, Run


def test_files_of_ones_own_are_written_again_and_others_left_alone(tmp_path: Path) -> None:
    folder = tmp_path / "sheets"
    assert write_own(folder, {"cards.pdf": b"one", "wall.pdf": b"two"}) == (
        folder / "cards.pdf",
        folder / "wall.pdf",
    )
    write_own(folder, {"cards.pdf": b"three"})
    assert (folder / "cards.pdf").read_bytes() == b"three"
    (folder / "cards.pdf").write_bytes(b"noted by hand")
    (folder / "strip.pdf").write_bytes(b"somebody else's")
    with pytest.raises(CannotRead) as refused:
        write_own(folder, {"cards.pdf": b"four", "strip.pdf": b"five", "wall.pdf": b"six"})
    assert [Path(fault.where).name for fault in refused.value.faults] == ["cards.pdf", "strip.pdf"]
    assert (folder / "cards.pdf").read_bytes() == b"noted by hand"
    assert (folder / "wall.pdf").read_bytes() == b"two"


def test_a_folder_that_is_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "sheets").write_text("a file", encoding="utf-8")
    with pytest.raises(CannotRead, match="cannot be written"):
        write_own(tmp_path / "sheets", {"cards.pdf": b"one"})


def test_a_plan_of_a_way_of_ones_own_asks_for_its_file(run: Run, tmp_path: Path) -> None:
    made = run("group", EXAMPLES / "names.txt", "--seconds", "0", "--json").object
    file = tmp_path / "plan.json"
    file.write_text(json.dumps({**made, "way": "our-way"}), encoding="utf-8")
    ending = run("sheets", file, EXAMPLES / "names.txt")
    assert (ending.code, ending.out) == (4, "")
    assert "--way" in ending.err


def test_a_plan_of_another_class_prints_nothing(run: Run, tmp_path: Path) -> None:
    made = run("group", EXAMPLES / "names.txt", "--seconds", "0", "--json").object
    file = tmp_path / "plan.json"
    file.write_text(json.dumps(made), encoding="utf-8")
    ending = run("sheets", file, EXAMPLES / "8b.csv", "--json")
    assert ending.code == 4
    assert len(ending.object["faults"]) == len(made["present"])
    assert not (tmp_path / "sheets").exists()


@pytest.mark.parametrize(
    "damage",
    [
        {"stages": []},
        {"bound": float("inf")},
        {"repeats": [{"pupils": ["one"], "stage": 0, "before": 1, "today": 0}]},
        {"present": ["nobody"]},
    ],
    ids=["no stages", "endless bound", "half a pair", "a stranger"],
)
def test_a_damaged_plan_is_refused_in_words(run: Run, tmp_path: Path, damage: dict[str, object]) -> None:
    made = run("group", EXAMPLES / "names.txt", "--seconds", "0", "--json").object
    file = tmp_path / "plan.json"
    file.write_text(json.dumps({**made, **damage}), encoding="utf-8")
    ending = run("sheets", file, EXAMPLES / "names.txt", "--json")
    assert ending.code == 4, ending
    assert ending.object["faults"]


def test_a_plan_in_which_somebody_sits_nowhere_prints_nothing(run: Run, tmp_path: Path) -> None:
    made = run("group", EXAMPLES / "names.txt", "--seconds", "0", "--json").object
    left_out = made["stages"][0]["groups"].pop()
    file = tmp_path / "plan.json"
    file.write_text(json.dumps(made), encoding="utf-8")
    ending = run("sheets", file, EXAMPLES / "names.txt")
    assert (ending.code, ending.out) == (4, "")
    assert "sits in no group" in ending.err and left_out["members"]


def test_one_command_goes_from_a_list_to_printed_sheets(run: Run, tmp_path: Path) -> None:
    words = ["--musts", EXAMPLES / "8b-musts.csv", "--adults", "2", "--seconds", "1"]
    ending = run("group", EXAMPLES / "8b.csv", *words, "--sheets", tmp_path / "out", "--json")
    assert ending.code == 0, ending
    printed = sorted((tmp_path / "out").glob("*.pdf"))
    assert printed
    assert all(path.read_bytes().startswith(b"%PDF-") for path in printed)
    plan = tmp_path / "plan.json"
    plan.write_text(ending.out, encoding="utf-8")
    again = run("sheets", plan, EXAMPLES / "8b.csv", "--paper", "a5", "--large")
    assert again.code == 0, again
    assert sorted(p.name for p in (tmp_path / "sheets").glob("*.pdf"))
    assert str(tmp_path / "sheets") in again.out
