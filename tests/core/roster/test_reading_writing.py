"""A list written and read again is the same list."""

import csv
import datetime as dt
import io

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.history import History, Sitting
from benchmates.core.roster.musts import Kind, Must
from benchmates.core.roster.pupil import Pupil, Talk
from benchmates.core.roster.reading import (
    read_class_list,
    read_history,
    read_musts,
    write_class_list,
    write_history,
    write_musts,
    write_xlsx,
)
from benchmates.core.roster.reading.cells import cleaned, guarded, unguarded, without_point_zero
from benchmates.core.terms import PupilId

# Any script; texts are as held, that is cleaned. The signs a spreadsheet would run come often.
anything = st.text(max_size=20) | st.builds(
    str.__add__, st.sampled_from(["=", "+", "-", "@", "'=", "''@"]), st.text(max_size=8)
)
words = anything.map(cleaned).filter(bool)
ids = words.map(lambda w: cleaned(w.replace(";", ""))).filter(bool)
numbered = words.map(without_point_zero)
flags = st.none() | st.booleans()


@st.composite
def class_lists(draw: st.DrawFn) -> ClassList:
    held = draw(st.lists(ids, min_size=1, max_size=6, unique=True))
    pupils = []
    for id in held:
        others = [PupilId(o) for o in held if o != id]
        pupils.append(
            Pupil(
                id=PupilId(id),
                name=draw(words),
                year=draw(st.none() | numbered),
                attainment=draw(st.none() | st.integers(-999_999_999, 999_999_999)),
                gender=draw(st.none() | words),
                eal=draw(flags),
                adult_support=draw(flags),
                confident_reader=draw(flags),
                talk=draw(st.none() | st.sampled_from(Talk)),
                works_well_with=tuple(draw(st.lists(st.sampled_from(others), unique=True))) if others else (),
                bench=draw(st.none() | numbered),
            )
        )
    return ClassList(tuple(pupils))


laws = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@laws
@given(class_lists())
def test_a_class_list_written_as_csv_and_read_again_is_the_same(class_list: ClassList) -> None:
    preview = read_class_list(write_class_list(class_list), filename="8b.csv")
    assert preview.confirmed() == class_list


@settings(laws, max_examples=40)
@given(class_lists())
def test_a_class_list_written_as_xlsx_and_read_again_is_the_same(class_list: ClassList) -> None:
    assert read_class_list(write_xlsx(class_list), filename="8b.xlsx").confirmed() == class_list


@laws
@given(st.data(), class_lists())
def test_a_history_written_and_read_again_is_the_same(data: st.DataObject, class_list: ClassList) -> None:
    sitting = st.builds(
        Sitting,
        date=st.dates(dt.date(1900, 1, 1), dt.date(2100, 1, 1)),
        stage=words,
        group=numbered,
        pupil=st.sampled_from(class_list.ids),
        role=words | st.just(""),
    )
    history = History(tuple(data.draw(st.lists(sitting, max_size=8))))
    assert read_history(write_history(history), filename="h.csv", class_list=class_list) == (history, ())


@laws
@given(st.data(), class_lists())
def test_musts_written_and_read_again_are_the_same(data: st.DataObject, class_list: ClassList) -> None:
    some = st.lists(st.sampled_from(class_list.ids), min_size=1, unique=True).map(tuple)
    drawn = data.draw(
        st.lists(st.tuples(st.sampled_from(Kind), some, words | st.just(""), words), max_size=6)
    )
    drawn = [d for d in drawn if len(d[1]) > 1 or d[0] in (Kind.NEAR_ADULT, Kind.FIXED)]
    musts = tuple(
        Must(kind, pupils, because, where if kind is Kind.FIXED else None, row)
        for row, (kind, pupils, because, where) in enumerate(drawn, start=2)
    )
    assert read_musts(write_musts(musts), filename="m.csv", class_list=class_list) == musts


@given(st.text())
def test_cleaning_twice_is_cleaning_once(text: str) -> None:
    assert cleaned(cleaned(text)) == cleaned(text)


@given(st.text(alphabet="'=+-@1a."))
def test_a_guard_comes_off_again_and_nothing_risky_is_left_bare(text: str) -> None:
    assert unguarded(guarded(text)) == text
    if not guarded(text).removeprefix("-").replace(".", "", 1).isdigit():
        assert guarded(text)[:1] not in ("=", "+", "-", "@")


RISKY = ClassList(
    (
        Pupil(PupilId("007"), "=HYPERLINK(1)", attainment=-5),
        Pupil(PupilId("+1"), 'Bo "Bee" K', works_well_with=(PupilId("007"),), bench="@2"),
    )
)


def test_the_csv_is_what_the_standard_library_reads() -> None:
    # Outside check: csv of the Python standard library (RFC 4180 quoting).
    rows = list(csv.DictReader(io.StringIO(write_class_list(RISKY).decode("utf-8-sig"), newline="")))
    assert [row["id"] for row in rows] == ["007", "'+1"]
    assert [row["name"] for row in rows] == ["'=HYPERLINK(1)", 'Bo "Bee" K']
    assert [row["attainment"] for row in rows] == ["-5", ""]


def test_the_csv_starts_with_a_byte_order_mark() -> None:
    # Spreadsheets read utf-8 as such only with the mark (common practice, no source).
    assert write_class_list(RISKY).startswith(b"\xef\xbb\xbfid,name,")


def test_the_workbook_is_what_openpyxl_reads_and_runs_nothing() -> None:
    # Outside check: openpyxl, an independent reader of ECMA-376 workbooks; "s" is a string, "f" a formula.
    sheet = openpyxl.load_workbook(io.BytesIO(write_xlsx(RISKY))).active
    assert [sheet["A2"].value, sheet["B2"].value, sheet["D2"].value] == ["007", "=HYPERLINK(1)", -5]
    assert sheet["B2"].data_type == "s"


@pytest.mark.parametrize("write", [write_class_list, write_xlsx])
def test_equal_lists_give_equal_files(write) -> None:  # type: ignore[no-untyped-def]
    assert write(RISKY) == write(ClassList(RISKY.pupils))
