"""A teacher's own way: every fault at once, told with where, what was found and what would do."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchmates.core.errors import CannotRead
from benchmates.core.strategy.catalogue import KEYS, read_way, way, write_way
from benchmates.core.strategy.way import Way
from tests.core.strategy.chains import ways

HEAD = """
format = 1
key = "own"
name = "Own"
purposes = ["make"]
[why]
text = "Because."
mark = "C"
"""
PAIRS = """
[[stage]]
name = "Pairs"
relation = "new"
size = [2, 2, 3]
minutes = 5
"""


def faults(text: str) -> list[str]:
    with pytest.raises(CannotRead) as trouble:
        read_way(text.encode(), filename="own.toml")
    return [str(fault) for fault in trouble.value.faults]


def stage(**keys: str) -> str:
    lines = {"name": '"Next"', "relation": '"new"', "minutes": "5"} | keys
    return "\n[[stage]]\n" + "\n".join(f"{key} = {value}" for key, value in lines.items()) + "\n"


def test_the_least_own_way_is_read() -> None:
    own = read_way((HEAD + PAIRS).encode(), filename="own.toml")

    assert (own.name, len(own.stages), own.stages[0].move) == ("Own", 1, 0.5)


def test_every_fault_is_told_at_once() -> None:
    text = """
format = 1
key = "Own way"
purposes = ["making", "compare and decide"]
colour = "red"
[why]
text = "Because."
mark = "Z9"
[[stage]]
name = "Pairs"
relation = "nwe"
size = [3, 2, 4]
minutes = [5, 3, 6]
[[stage]]
name = "Fours"
relation = "merge"
of = "Pears"
size = [3, 4, 5]
questoin = "Why?"
minutes = 5
"""
    assert faults(text) == [
        'key: "Own way". Use small letters, figures and hyphens, such as pairs-to-fours.',
        'name: nothing there. Write name = "...".',
        'purposes: "making" is not known. Did you mean "make"?',
        'why, mark: "Z9". Write S and the number of a source read, M (from memory), C (common practice) '
        "or K (calculated).",
        'stage 1 (Pairs), relation: "nwe". Did you mean "new"?',
        "stage 1 (Pairs), size: [3, 2, 4] is out of order. The least comes first, then aimed at, then the most.",
        "stage 1 (Pairs), minutes: [5, 3, 6] is out of order. The least comes first, then planned, then the most.",
        'stage 2 (Fours), of: no earlier stage is called "Pears". Did you mean "Pairs"?',
        'stage 2 (Fours), "questoin": this key is not known here. Did you mean "question"?',
        '"colour": this key is not known here. '
        "Use one of: format, key, name, purposes, why, claim, groups_at_least, stations, least_minutes, assess, "
        "remainder, room, noise, not_when, kit, cautions, jobs, one_question_ok, stage.",
    ]


@pytest.mark.parametrize(
    ("chain", "where", "found"),
    [
        ("", "stage", "no stage"),
        (stage(relation='"merge"', size="[3, 4, 5]"), "stage 1 (Next), of", '"merge" needs an earlier stage'),
        (PAIRS + stage(of='"Pairs"', size="4"), "stage 2 (Next), of", '"new" refers to no earlier stage'),
        (
            stage(name='"First"', relation='"return"', of='"Later"') + stage(name='"Later"', size="3"),
            "stage 1 (First), of",
            'no earlier stage is called "Later"',
        ),
        (PAIRS + PAIRS, "stage 2 (Pairs), name", '"Pairs" stands there twice'),
        (
            stage(name='"All"', relation='"whole"') + stage(relation='"merge"', of='"All"', size="[3, 4, 5]"),
            "stage 2 (Next), of",
            '"All" has no groups to join',
        ),
        (
            PAIRS + stage(relation='"merge"', of='"Pairs"', size="2"),
            "stage 2 (Next), size",
            "groups of 2 cannot be made by joining groups of 2",
        ),
        (
            PAIRS + stage(relation='"split"', of='"Pairs"', size="4"),
            "stage 2 (Next), size",
            "groups of 4 do not lie inside groups of 2",
        ),
        (stage(), "stage 1 (Next), size", "nothing there"),
        (stage(relation='"whole"', size="4"), "stage 1 (Next), size", '"whole" makes no groups of its own'),
        (stage(size="4", repeat="2"), "stage 1 (Next), repeat", 'it does not belong to "new"'),
        (stage(size="4", repeat='"often"'), "stage 1 (Next), repeat", '"often"'),
        (
            stage(size="2", roles='["a", "b", "c"]'),
            "stage 1 (Next), roles",
            "3 roles for groups of at most 2",
        ),
        (stage(size="4", roles='["a", "a"]'), "stage 1 (Next), roles", "a role stands there twice"),
        (
            stage(size="4", roles='["one who writes everything down"]'),
            "stage 1 (Next), roles",
            '"one who writes everything down..." has 30 characters',
        ),
        (
            PAIRS + stage(relation='"one_moves"', of='"Pairs"'),
            "stage 2 (Next), roles",
            "no role says who moves",
        ),
        (
            PAIRS + stage(relation='"cross"', of='"Pairs"', size="3", by_part="true"),
            "stage 2 (Next), parts",
            "experts need parts",
        ),
        (
            stage(name='"Home"', size="3", parts='["A", "B"]')
            + stage(relation='"cross"', of='"Home"', size="3", by_part="true", parts='["A", "B"]'),
            "stage 2 (Next), parts",
            "2 parts for homes of 3",
        ),
        (
            PAIRS + stage(relation='"rotate"', of='"Pairs"', repeat='"stations"'),
            "stage 2 (Next)",
            "it goes round the stations, but there are none",
        ),
        (
            PAIRS.replace("minutes = 5", 'minutes = 5\nquestion = "Which one?"')
            + stage(relation='"merge"', of='"Pairs"', size="4", question='"Which  one"'),
            "stage 2 (Next), question",
            'it asks the same question as "Pairs", so its time is dead',
        ),
        (stage(size="4", minutes="nan"), "stage 1 (Next), minutes", "nan"),
        (stage(size="4", minutes="0"), "stage 1 (Next), minutes", "0"),
        (stage(size="[1.5, 2, 3]"), "stage 1 (Next), size", "[1.5, 2, 3]"),
        (stage(size="true"), "stage 1 (Next), size", "true"),
        (stage(size="4", question="7"), "stage 1 (Next), question", "7, which is not words"),
        ("stage = 4\n", 'why, "stage"', "this key is not known here"),
    ],
)
def test_a_chain_that_does_not_hang_together_is_refused(chain: str, where: str, found: str) -> None:
    with pytest.raises(CannotRead) as trouble:
        read_way((HEAD + chain).encode(), filename="own.toml")

    assert trouble.value.faults[0].where == where
    assert trouble.value.faults[0].found.startswith(found)
    assert trouble.value.faults[0].would_do


def test_one_question_may_be_asked_on_purpose() -> None:
    text = "one_question_ok = true" + HEAD + PAIRS.replace("minutes = 5", 'minutes = 5\nquestion = "Which?"')
    own = read_way(
        (text + stage(relation='"merge"', of='"Pairs"', size="4", question='"Which?"')).encode(),
        filename="own.toml",
    )

    assert own.one_question_ok


def test_a_job_for_a_role_that_nobody_has_is_told() -> None:
    assert faults(HEAD + '[jobs]\nscrieb = "Write."\n' + PAIRS + 'roles = ["scribe"]') == [
        'jobs, scrieb: no stage has this role. Did you mean "scribe"?'
    ]


@pytest.mark.parametrize(
    ("data", "where", "found"),
    [
        (b"", "the file", "it is empty"),
        (b"\xef\xbb\xbf \n", "the file", "it is empty"),
        (b"\x89PNG\r\n\x1a\n\x00", "the file", "byte 1 is not text in UTF-8"),
        ("name = “Own”".encode(), "line 1", "invalid value"),
        (b"a = 1\nb = \n", "line 2", "invalid value"),
        (b"a = 1\na = 2\n", "line 2", "cannot overwrite a value"),
        (b"a = [1", "the end of the file", "unclosed array"),
        (b"a = " + b"[" * 5000, "the file", "lists inside lists without end"),
        (b"#" * 1_000_001, "the file", "it is 1,000,001 bytes long"),
    ],
)
def test_a_file_that_is_no_such_file_is_told_where_it_stops(data: bytes, where: str, found: str) -> None:
    with pytest.raises(CannotRead) as trouble:
        read_way(data, filename="own.toml")

    assert [(fault.where, fault.found) for fault in trouble.value.faults] == [(where, found)]


def test_a_byte_order_mark_does_no_harm() -> None:
    assert read_way(b"\xef\xbb\xbf" + (HEAD + PAIRS).encode(), filename="own.toml").key == "own"


@given(ways())
@settings(max_examples=60, deadline=None)
def test_a_way_written_and_read_again_is_the_same_way(own: Way) -> None:
    assert read_way(write_way(own).encode(), filename="own.toml") == own


@given(st.sampled_from(KEYS), st.data())
@settings(max_examples=100, deadline=None)
def test_a_spoiled_file_is_read_or_told_but_never_breaks(key: str, data: st.DataObject) -> None:
    lines = write_way(way(key)).splitlines()
    at = data.draw(st.integers(0, len(lines) - 1))
    spoiled = data.draw(
        st.sampled_from(
            ["", "x = 1", "[[stage]]", "size = 3", "relation = 1", "of = 0", "card = 3", "[jobs]", "\x00"]
        )
    )
    lines[at] = spoiled if data.draw(st.booleans()) else lines[at][: len(lines[at]) // 2]
    try:
        read_way("\n".join(lines).encode(), filename="spoiled.toml")
    except CannotRead as trouble:
        assert trouble.faults
        assert all(fault.where and fault.found and fault.would_do for fault in trouble.faults)


def test_what_is_written_is_toml_that_others_read_too() -> None:
    """Checked against Python's own reader of TOML 1.0."""
    found = tomllib.loads(write_way(way("snowball")))

    assert [stage["name"] for stage in found["stage"]] == [
        "Alone",
        "Pairs",
        "Fours",
        "Eights",
        "Hear the groups",
    ]
    assert found["stage"][3]["size"] == [7, 8, 9]
