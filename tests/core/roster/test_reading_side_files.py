"""Musts, histories and column maps."""

import datetime as dt
from pathlib import Path

import pytest

from benchmates.core.errors import CannotRead
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.history import Sitting
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.roster.pupil import Pupil
from benchmates.core.roster.reading import read_class_list, read_column_map, read_history, read_musts
from benchmates.core.terms import PupilId

EXAMPLES = Path(__file__).parents[3] / "examples"
P1, P2, P3 = PupilId("p1"), PupilId("p2"), PupilId("p3")
FEW = ClassList((Pupil(P1, "Ravi K"), Pupil(P2, "Hana S"), Pupil(P3, "Hana S")))


def told(error: pytest.ExceptionInfo[CannotRead]) -> list[tuple[str, str]]:
    return [(fault.where, fault.found) for fault in error.value.faults]


def test_musts_are_read_in_the_words_a_teacher_writes() -> None:
    data = (
        b"Must,Pupils,Because,Where\nApart,p1;p2,year office,\nNear adult,Ravi K,,\nFIXED,p3,,role scribe\n"
    )
    assert read_musts(data, filename="m.csv", class_list=FEW) == (
        Must(Kind.APART, (P1, P2), "year office", None, 2),
        Must(Kind.NEAR_ADULT, (P1,), "", None, 3),
        Must(Kind.FIXED, (P3,), "", "role scribe", 4),
    )


def test_every_fault_of_the_musts_is_told_at_once() -> None:
    data = (
        b"must,pupils,because,where\nnear,p1;p2,,\napart,p1;p9,,\ntogether,p1,,\napart,p1;Hana S,,\n"
        b"fixed,p1,,\napart,p1;p2,,bench 3\nnear_adult,,,\napart,p1;p1,,\n"
    )
    with pytest.raises(CannotRead) as error:
        read_musts(data, filename="m.csv", class_list=FEW)
    assert told(error) == [
        ("m.csv, row 2", "“near” is no must"),
        ("m.csv, row 3", "“p9” is not in the class list"),
        ("m.csv, row 4", "together names 1 pupil"),
        ("m.csv, row 5", "“Hana S” is the name of 2 pupils (p2, p3)"),
        ("m.csv, row 6", "fixed says no place"),
        ("m.csv, row 7", "“bench 3” under “where” beside apart"),
        ("m.csv, row 8", "near adult names no pupil"),
        ("m.csv, row 9", "apart names 1 pupil"),
    ]


def test_one_pair_both_apart_and_together_is_read_as_it_stands() -> None:
    data = b"must,pupils,because\napart,p1;p2,\ntogether,p1;p2,\n"
    assert [m.kind for m in read_musts(data, filename="m.csv", class_list=FEW)] == [Kind.APART, Kind.TOGETHER]


def test_musts_without_their_headings_are_a_fault_that_names_them() -> None:
    with pytest.raises(CannotRead) as error:
        read_musts(b"rule,who\napart,p1;p2\n", filename="m.csv", class_list=FEW)
    assert told(error) == [("m.csv, row 1", "no column headed “must” or “pupils”")]


def test_history_takes_both_ways_of_writing_a_date_and_leaves_strangers_out() -> None:
    data = (
        b"date,stage,group,pupil,role\n2026-03-09,fours,A,p1,scribe\n"
        b"10/03/2026,fours,B,Ravi K,\n2026-03-10,fours,B,p9,\n"
    )
    history, notices = read_history(data, filename="h.csv", class_list=FEW)
    assert history.sittings == (
        Sitting(dt.date(2026, 3, 9), "fours", "A", P1, "scribe"),
        Sitting(dt.date(2026, 3, 10), "fours", "B", P1),
    )
    assert notices == ("1 pupil in the history is not in this class; that pupil's sittings are left out.",)


def test_every_fault_of_a_history_is_told_at_once() -> None:
    data = (
        b"date,stage,group,pupil\n2026-02-30,fours,A,p1\nMonday,fours,,p1\n2026-03-10,fours,A,Hana S\n,,,p1\n"
    )
    with pytest.raises(CannotRead) as error:
        read_history(data, filename="h.csv", class_list=FEW)
    assert told(error) == [
        ("h.csv, row 2", "“2026-02-30” is no date"),
        ("h.csv, row 3", "“Monday” is no date"),
        ("h.csv, row 3", "the group is empty"),
        ("h.csv, row 4", "“Hana S” is the name of 2 pupils (p2, p3)"),
        ("h.csv, row 5", "the date is empty"),
        ("h.csv, row 5", "the stage is empty"),
        ("h.csv, row 5", "the group is empty"),
    ]


def test_a_history_without_a_column_says_which() -> None:
    with pytest.raises(CannotRead) as error:
        read_history(b"date,group,pupil\n", filename="h.csv", class_list=FEW)
    assert told(error) == [("h.csv, row 1", "no column headed “stage”")]


@pytest.mark.parametrize(
    "data", [b'[columns]\nname = "Learner"\n', b'name = "Learner"\n', b'\xef\xbb\xbfname = "Learner"']
)
def test_a_column_map_is_read_from_a_table_or_the_top(data: bytes) -> None:
    assert read_column_map(data) == {"name": "Learner"}


@pytest.mark.parametrize(
    ("data", "where"),
    [
        (b'dob = "Born"\nname = 3\n', ["column map, “dob”", "column map, “name”"]),
        (b"not toml", ["column map"]),
        (b"\xff\xfe", ["column map"]),
        (b"columns = 3", ["column map"]),
        (b"", ["column map"]),
    ],
)
def test_a_spoiled_column_map_is_told(data: bytes, where: list[str]) -> None:
    with pytest.raises(CannotRead) as error:
        read_column_map(data)
    assert [fault.where for fault in error.value.faults] == where


def test_the_examples_are_read_clean() -> None:
    preview = read_class_list((EXAMPLES / "8b.csv").read_bytes(), filename="8b.csv")
    class_list = preview.confirmed()
    musts = read_musts((EXAMPLES / "8b-musts.csv").read_bytes(), filename="m", class_list=class_list)
    history, notices = read_history(
        (EXAMPLES / "8b-history.csv").read_bytes(), filename="h", class_list=class_list
    )
    names = read_class_list((EXAMPLES / "names.txt").read_bytes(), filename="names.txt").confirmed()
    assert (len(class_list), len(musts), {m.kind for m in musts}, len(names)) == (30, 12, set(Kind), 28)
    assert preview.notices == notices == ()
    assert len({s.date for s in history.sittings}) == 8
