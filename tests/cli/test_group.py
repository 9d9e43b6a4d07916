"""`benchmates group` as the command line promises it."""

from __future__ import annotations

import io
from pathlib import Path
from types import SimpleNamespace

import pytest

from benchmates.cli import asking
from benchmates.core.strategy.catalogue import way
from benchmates.core.strategy.writing import write_way
from tests.cli.conftest import EXAMPLES, Ending, Run

NAMES = "\n".join(f"Pupil {chr(65 + k)}" for k in range(20))
KEYS = [
    "format", "way", "seed", "present", "stages", "compromise", "bound", "proved", "certificate", "stopped_because",
    "seconds", "repeats", "told", "unmet",
]  # fmt: skip


def grouped(run: Run, *words: object, pasted: str = NAMES) -> Ending:
    return run("group", "-", "--seconds", "0.2", *words, pasted=pasted)


def write(path: Path, text: str) -> Path:
    path.write_text(text, encoding="utf-8")
    return path


# ---- what is printed


def test_names_alone_make_groups_of_four(run: Run) -> None:
    found = grouped(run, "--json").object
    assert list(found) == KEYS
    assert found["way"] == "groups"
    (stage,) = found["stages"]
    assert (stage["relation"], stage["of"]) == ("new", None)
    assert [len(g["members"]) for g in stage["groups"]] == [4, 4, 4, 4, 4]
    assert sorted(p for g in stage["groups"] for p in g["members"]) == sorted(NAMES.split("\n"))
    assert {"total", "by_wish", "by_stage"} == set(found["compromise"])


def test_in_a_terminal_groups_are_told_by_name_within_80_columns(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    class_file = write_class(["p1,Ravi K", "p2,Hana S", "p3,Femi A", "p4,Odile M"])
    ending = run("group", "-", "--size", "2", "--seconds", "0", pasted=class_file)
    assert ending.code == 0
    assert "Ravi K" in ending.out and "p1" not in ending.out
    whole = run("group", EXAMPLES / "8b.csv", "--way", "rainbow-groups", "--seconds", "0.2")
    assert max(map(len, whole.out.splitlines())) <= 80


def write_class(rows: list[str]) -> str:
    return "\n".join(["id,name", *rows])


def test_equal_seeds_make_equal_groups(run: Run) -> None:
    def stages(seed: int) -> object:
        # Enough steps for the clock never to cut them short.
        words = ("group", EXAMPLES / "8b.csv", "--seconds", "60", "--seed", seed, "--json", "--sizes", "5-5")
        return run(*words).object["stages"]

    assert stages(3) == stages(3)
    assert stages(3) != stages(4)


def test_no_time_at_all_still_answers(run: Run) -> None:
    ending = run("group", "-", "--way", "jigsaw", "--seconds", "0", "--json", pasted=NAMES)
    assert ending.code == 0
    assert ending.object["seconds"] < 5


@pytest.mark.parametrize(
    ("words", "sizes"),
    [
        (["--size", "5"], [5, 5, 5, 5]),
        (["--size", "2"], [2] * 10),
        (["--sizes", "3-3", "--absent", "Pupil A; Pupil T"], [3] * 6),
        (["--sizes", "6-7"], [7, 7, 6]),
    ],
)
def test_sizes_that_were_asked_for(run: Run, words: list[str], sizes: list[int]) -> None:
    groups = grouped(run, *words, "--json").object["stages"][0]["groups"]
    assert sorted((len(g["members"]) for g in groups), reverse=True) == sizes


def test_a_lesson_brings_its_own_way_and_questions(run: Run) -> None:
    ending = run(
        "group", EXAMPLES / "8b.csv", "--lesson", EXAMPLES / "phone-stand.toml", "--musts", EXAMPLES / "8b-musts.csv",
        "--history", EXAMPLES / "8b-history.csv", "--adults", "2", "--seconds", "0.5", "--json",
    )  # fmt: skip
    assert ending.code == 0, ending
    found = ending.object
    assert [s["relation"] for s in found["stages"]][:2] == ["new", "merge"]


def test_a_way_of_ones_own_makes_groups(run: Run, tmp_path: Path) -> None:
    own = write(tmp_path / "ours.toml", write_way(way("envoys")).replace('"envoys"', '"our-envoys"'))
    assert grouped(run, "--way", own, "--json").object["way"] == "our-envoys"


def test_weights_of_ones_own_replace_the_usual_ones(run: Run, tmp_path: Path) -> None:
    wishes = write(tmp_path / "wishes.toml", "gender = 4\n")
    found = run("group", EXAMPLES / "8b.csv", "--wishes", wishes, "--seconds", "0", "--json").object
    assert {wish for wish, cost in found["compromise"]["by_wish"].items() if cost} <= {"gender"}


# ---- bad usage: 2


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--way", "jigsaw", "--lesson", "lesson.toml"], "not both"),
        (["--way", "jigsw"], "jigsaw"),
        (["--sizes", "5-3"], "from least to most"),
        (["--sizes", "many"], "such as 3-5"),
        (["--sizes", "0-3"], "from least to most"),
        (["--seconds", "nan"], "0 or more"),
        (["--seconds", "-1"], "0 or more"),
        (["--seed", "-1"], "--seed"),
    ],
)
@pytest.mark.parametrize("as_json", [False, True])
def test_what_cannot_be_meant_ends_in_2(run: Run, words: list[str], says: str, as_json: bool) -> None:
    ending = run("group", "-", *words, *(["--json"] if as_json else []), pasted=NAMES)
    assert (ending.code, ending.out) == (2, "")
    assert says in ending.err


# ---- cannot hold: 3


@pytest.mark.parametrize("pupils", [19, 20])
def test_a_snowball_of_19_or_20_is_refused_and_told_fours(run: Run, pupils: int) -> None:
    """Handbook 2.2, 5: eights may be 7-9, so 19 and 20 cannot be."""
    names = "\n".join(f"Pupil {chr(65 + k)}" for k in range(pupils))
    ending = run("group", "-", "--way", "snowball", "--json", pasted=names)
    assert ending.code == 3
    assert "--size 4" in " ".join(ending.object["told"])
    in_words = run("group", "-", "--way", "snowball", pasted=names)
    assert (in_words.code, in_words.out) == (3, "")
    assert "--size 4" in in_words.err
    assert run("group", "-", "--way", "snowball", "--size", "4", "--seconds", "0", pasted=names).code == 0


def test_four_kept_apart_in_three_groups_are_named(run: Run, tmp_path: Path) -> None:
    """Handbook 11, test of capability 3."""
    musts = write(
        tmp_path / "musts.csv",
        "must,pupils,because\napart,Pupil A;Pupil B;Pupil C;Pupil D,\ntogether,Pupil E;Pupil F,\n",
    )
    names = "\n".join(NAMES.split("\n")[:12])
    ending = run("group", "-", "--musts", musts, "--json", pasted=names)
    assert ending.code == 3
    (clash,) = ending.object["cannot_hold"]
    assert (clash["must"], sorted(clash["pupils"])) == ("apart", ["Pupil A", "Pupil B", "Pupil C", "Pupil D"])
    in_words = run("group", "-", "--musts", musts, pasted=names)
    assert (in_words.code, in_words.out) == (3, "")
    for letter in "ABCD":
        assert f"Pupil {letter}" in in_words.err


@pytest.mark.parametrize(
    "words", [["--size", "1"], ["--sizes", "1-2"], ["--sizes", "30-40"], ["--size", "200"]]
)
def test_a_size_that_cannot_be_had_is_refused_with_one_that_can(run: Run, words: list[str]) -> None:
    ending = grouped(run, *words, "--json")
    assert ending.code == 3
    assert len(ending.object["told"]) > 1 or "2 or more" in ending.object["told"][0]


def test_nobody_present_is_refused(run: Run) -> None:
    ending = run("group", "-", "--absent", "Ravi K,Hana S", "--json", pasted="Ravi K\nHana S\n")
    assert (ending.code, bool(ending.object["told"])) == (3, True)


def test_a_must_about_somebody_away_is_left_out_and_told(run: Run, tmp_path: Path) -> None:
    musts = write(tmp_path / "musts.csv", "must,pupils\ntogether,Pupil A;Pupil B\n")
    ending = grouped(run, "--musts", musts, "--absent", "Pupil A", "--json")
    assert ending.code == 0
    assert any("Pupil A is away" in sentence for sentence in ending.object["told"])


# ---- cannot read: 4


def test_every_fault_of_every_file_is_told_at_once(run: Run, tmp_path: Path) -> None:
    musts = write(tmp_path / "musts.csv", "must,pupils\nnear,Pupil A\napart,Pupil A;Nobody\n")
    wishes = write(tmp_path / "wishes.toml", "lone = 1.5\nfriends = 2\n")
    ending = grouped(run, "--musts", musts, "--wishes", wishes, "--absent", "Pupil X,Pupil B", "--json")
    assert ending.code == 4
    faults = ending.object["faults"]
    assert all(set(f) == {"where", "found", "would_do"} for f in faults)
    told = " ".join(f["where"] + f["found"] for f in faults)
    for word in ("near", "Nobody", "lone", "friends", "Pupil X"):
        assert word in told
    in_words = grouped(run, "--musts", musts, "--wishes", wishes)
    assert (in_words.code, in_words.out) == (4, "")


def test_faulty_rows_of_a_class_are_all_told(run: Run, tmp_path: Path) -> None:
    class_file = write(tmp_path / "8b.csv", "id,name,attainment\n1,Ravi K,fifty\n2,,40\n3,Hana S,12.5\n")
    ending = run("group", class_file, "--json")
    assert ending.code == 4
    assert len(ending.object["faults"]) >= 2


@pytest.mark.parametrize("words", [["nothing-here.csv"], ["."], ["-"]])
def test_a_class_that_is_not_there_ends_in_4(run: Run, words: list[str]) -> None:
    ending = run("group", *words, "--json", pasted="")
    assert ending.code == 4
    assert ending.object["faults"]


def test_a_file_of_nearly_that_name_is_named(run: Run, tmp_path: Path) -> None:
    write(tmp_path / "8b.csv", NAMES)
    assert "8b.csv" in run("group", tmp_path / "8d.csv").err


# ---- headings in other words

RIDDLE = "Kennung,Schueler,Zahl\n1,Ravi K,50\n2,Hana S,60\n3,Femi A,40\n4,Odile M,45\n"


def test_unknown_headings_say_that_a_map_would_do(run: Run, tmp_path: Path) -> None:
    class_file = write(tmp_path / "class.csv", RIDDLE)
    ending = run("group", class_file)
    assert (ending.code, ending.out) == (4, "")
    assert "--map" in ending.err


def test_a_map_says_which_heading_is_which(run: Run, tmp_path: Path) -> None:
    class_file = write(tmp_path / "class.csv", RIDDLE)
    columns = write(
        tmp_path / "map.toml", '[columns]\nid = "Kennung"\nname = "Schueler"\nattainment = "Zahl"\n'
    )
    assert run("group", class_file, "--map", columns, "--seconds", "0", "--json").object["present"] == list(
        "1234"
    )


def test_at_a_terminal_the_columns_are_asked_for(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class_file = write(tmp_path / "class.csv", RIDDLE)

    answers = "7\n2\n1\n\n3\n"  # no seventh column; names, ids, no year, attainment
    desk = io.StringIO(answers)
    desk.isatty = lambda: True
    monkeypatch.setattr(asking, "sys", SimpleNamespace(stdin=desk))
    ending = run("group", class_file, "--seconds", "0", "--json")
    assert ending.code == 0, ending
    assert ending.object["present"] == list("1234")
    assert "1. Kennung" in ending.err and "Type a number from 1 to 3" in ending.err


# ---- as a process


def test_a_process_prints_one_object_and_names_in_any_script(run_apart: Run) -> None:
    names = "Zoë Q\nŁukasz W\n李娜\nنور\nOlu K\n"
    ending = run_apart(
        "group", "-", "--seconds", "0", "--json", pasted=names, environment={"PYTHONIOENCODING": "ascii"}
    )
    assert ending.code == 0, ending.err
    assert set(ending.object["present"]) == set(names.strip().split("\n"))
    assert ending.err == ""


def test_benches_are_told_of_every_group_or_of_none(run: Run) -> None:
    """Two pairs share the bench of their four; told of one alone, the other would seem to have none."""
    pairs, fours = run("group", EXAMPLES / "8b.csv", "--way", "pairs-to-fours").out.split("\n2. ")
    groups = [line for line in pairs.splitlines() if line.startswith(("  A", "  B"))]
    assert [line.split("  ")[1] for line in groups] == [
        "A1 (bench 1)", "A2 (bench 1)", "B1 (bench 2)", "B2 (bench 2)"
    ]  # fmt: skip
    assert "(bench" not in fours.split("\n\n")[0]  # there the benches simply count up
