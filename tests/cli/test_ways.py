"""`benchmates ways` against the 22 keys that the command line promises, in their order."""

from __future__ import annotations

import pytest

from benchmates.core.strategy.catalogue import way
from benchmates.core.strategy.writing import write_way
from tests.cli.conftest import Run

# The promise of the command line, written out again.
PROMISED = [
    "pair-talk", "think-pair-share", "buzz-groups", "pairs-to-fours", "snowball", "listening-triads",
    "envoys", "rainbow-groups", "jigsaw", "spokesperson", "round-robin", "carousel", "market-place",
    "fishbowl", "role-cards", "brainwriting", "pass-on-sketching", "critique-gallery", "design-teams",
    "consensus-ranking", "production-line", "skill-cascade",
]  # fmt: skip


def test_keys_come_one_a_line(run: Run) -> None:
    assert run("ways", "--keys").out.splitlines() == PROMISED


def test_the_table_shows_every_way_and_fits_80_columns(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    lines = run("ways").out.splitlines()
    assert max(map(len, lines)) <= 80
    assert [line.split()[0] for line in lines[2:] if not line.startswith(" ")] == PROMISED


def test_json_holds_one_object(run: Run) -> None:
    rows = run("ways", "--json").object["ways"]
    assert [row["key"] for row in rows] == PROMISED
    assert all(row["name"] and row["purposes"] and row["sizes"] for row in rows)


@pytest.mark.parametrize("key", PROMISED)
def test_one_way_is_told_in_full(run: Run, key: str) -> None:
    ending = run("ways", "show", key)
    assert ending.code == 0
    told = way(key)
    for head in (
        "For: ",
        "\nStages\n",
        "\nTime\n",
        "\nNot when\n",
        "\nHow to assess\n",
        "\nWhat the marks mean\n",
    ):
        assert head in ending.out
    for stage in told.stages:
        assert f". {stage.name}:" in ending.out
    for claim in (told.why, *told.claims):
        assert f"\n  [{claim.mark}] " in ending.out
    assert run("ways", "show", key, "--json").object["key"] == key


def test_an_unknown_key_is_bad_usage_and_names_a_near_one(run: Run) -> None:
    ending = run("ways", "show", "jigsw")
    assert (ending.code, ending.out) == (2, "")
    assert "jigsaw" in ending.err


def test_a_way_of_ones_own_is_checked_and_shown(run: Run, tmp_path) -> None:
    own = tmp_path / "ours.toml"
    text = write_way(way("envoys")).replace('"envoys"', '"our-envoys"')
    own.write_text(text, encoding="utf-8")
    ending = run("ways", "show", own)
    assert (ending.code, ending.err) == (0, "")
    assert "(our-envoys)" in ending.out
    own.write_text(
        text.replace('"one_moves"', '"one_walks"').replace("minutes = ", "minuets = "), encoding="utf-8"
    )
    broken = run("ways", "show", own)
    assert (broken.code, broken.out) == (4, "")
    assert "one_walks" in broken.err and "minuets" in broken.err
    as_json = run("ways", "show", own, "--json")
    assert as_json.code == 4
    assert {"where", "found", "would_do"} == set(as_json.object["faults"][0])
