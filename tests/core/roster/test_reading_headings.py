"""Headings in other words, and the columns that are never held."""

import io

import openpyxl
import pytest
from odfdo import Cell, Document, Row, Table

from benchmates.core.errors import CannotRead
from benchmates.core.roster.pupil import Talk
from benchmates.core.roster.reading import ColumnUse, read_class_list, read_pasted
from benchmates.core.roster.reading.headings import field_of
from benchmates.core.roster.reading.text import lines


@pytest.mark.parametrize(
    ("heading", "field"),
    [
        ("Pupil", "name"), ("Student name", "name"), ("FULL NAME", "name"), ("First name", "forename"),
        ("Legal Surname", "surname"), ("Prior attainment", "attainment"), ("KS2 score", "attainment"),
        ("Sex", "gender"), ("Reg", "class"), ("TA", "adult_support"), ("EAL?", "eal"), ("EAL (y/n)", "eal"),
        ("Year Group", "year"), ("works_well_with", "works_well_with"), ("Pupil ID", "id"),
        ("Student's ID", "id"),
        ("Admission No.", "id"), ("Confident reader?", "confident_reader"), ("Bench no.", "bench"),
        ("Date of birth", None), ("DOB", None), ("UPN", None), ("Address", None), ("SEN status", None),
        ("Pupil premium", None), ("FSM", None), ("Religion", None), ("Parent email", None),
        ("Behaviour points", None),
        ("", None),
    ],
)  # fmt: skip
def test_a_heading_is_known_or_dropped(heading: str, field: str | None) -> None:
    assert field_of(heading) == field


def test_columns_in_any_order_fill_our_fields_and_others_are_named_and_dropped() -> None:
    data = b"Reg,Surname,DOB,Forename,KS2 score,TA,Talk\n8B,Khan,1/1/13,Ravi,101.0,Y,Takes Over\n"
    preview = read_class_list(data, filename="a.csv")
    pupil = preview.confirmed().pupils[0]
    assert (pupil.id, pupil.name, pupil.attainment, pupil.adult_support) == (
        "Ravi Khan",
        "Ravi Khan",
        101,
        True,
    )
    assert pupil.talk is Talk.TAKES_OVER
    assert preview.notices == ("Not taken in: “Reg” and “DOB”.",)
    assert preview.columns[:4] == (
        ColumnUse("Reg", None), ColumnUse("Surname", "name"), ColumnUse("DOB", None),
        ColumnUse("Forename", "name"),
    )  # fmt: skip


def test_a_map_names_columns_and_an_empty_heading_drops_a_field() -> None:
    data = b"Kid,Sex\nRavi K,M\n"
    preview = read_class_list(data, filename="a.csv", columns={"name": "kid", "gender": ""})
    assert (preview.confirmed().pupils[0].name, preview.confirmed().pupils[0].gender) == ("Ravi K", None)
    assert preview.notices == ("Not taken in: “Sex”.",)


def test_a_map_to_a_field_that_is_not_held_cannot_be_read() -> None:
    with pytest.raises(CannotRead, match="no such field is held"):
        read_class_list(b"name\nRavi", filename="a.csv", columns={"dob": "Born"})


def test_a_map_to_a_heading_that_is_not_there_is_a_fault() -> None:
    faults = read_class_list(b"name\nRavi", filename="a.csv", columns={"eal": "E"}).faults
    assert [str(f) for f in faults] == [
        "row 1: no column is headed “E”, which the column map gives for eal. The headings are “name”."
    ]


@pytest.mark.parametrize("text", ["a\nb", "a\rb", "a\r\nb"])
def test_lines_of_any_system(text: str) -> None:
    assert lines(text) == ["a", "b"]


def test_pasted_names_lose_numbering_and_bullets() -> None:
    text = "1. Ravi K\n 2) Hana S\n(3) Femi A\n• Gwen P\n- Otis D\n* Umi N\n7\tWren J\n\n[x] Cai Y\n"
    preview = read_pasted(text)
    assert [p.name for p in preview.confirmed()] == [
        "Ravi K",
        "Hana S",
        "Femi A",
        "Gwen P",
        "Otis D",
        "Umi N",
        "Wren J",
        "Cai Y",
    ]
    assert preview.rows_read == 8


def test_surname_forename_on_every_line_is_one_name_each() -> None:
    assert [p.id for p in read_pasted("Khan, Ravi\nSato, Hana\n").confirmed()] == ["Khan, Ravi", "Sato, Hana"]


@pytest.mark.parametrize("sign", ["\t", ",", ";", "|"])
def test_a_pasted_table_with_a_heading_row_is_a_table(sign: str) -> None:
    text = "\n".join(sign.join(row) for row in (("Name", "Sex"), ("Ravi K", "M"), ("Hana S", "F")))
    assert [(p.name, p.gender) for p in read_pasted(text).confirmed()] == [("Ravi K", "M"), ("Hana S", "F")]


def test_names_on_one_line_are_parted() -> None:
    assert [p.name for p in read_pasted("Ravi K, Hana S, Femi A").confirmed()] == [
        "Ravi K",
        "Hana S",
        "Femi A",
    ]


ROWS = [
    ["id", "name", "year", "attainment", "eal"],
    ["7", "Ravi K", "8", "50", "yes"],
    ["9", "Нур H", "8", "", "no"],
]


def test_xlsx_written_by_openpyxl_is_read() -> None:
    # Outside check: openpyxl writes the workbook; numbers stay numbers there, as a spreadsheet keeps them.
    book = openpyxl.Workbook()
    for row in ROWS:
        book.active.append(
            [float(c) if c.isdigit() else c == "yes" if c in ("yes", "no") else c for c in row]
        )
    out = io.BytesIO()
    book.save(out)
    check(out.getvalue(), "a.xlsx")


def test_ods_written_by_odfdo_is_read() -> None:
    # Outside check: odfdo writes the OpenDocument sheet.
    check(ods(ROWS), "a.ods")


def ods(rows: list[list[str]]) -> bytes:
    book = Document("spreadsheet")
    book.body.clear()
    table = Table("Class")
    for cells in rows:
        row = Row()
        for text in cells:
            row.append(Cell(int(text) if text.isdigit() else text))
        table.append(row)
    book.body.append(table)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def check(data: bytes, filename: str) -> None:
    held = [
        (p.id, p.name, p.year, p.attainment, p.eal)
        for p in read_class_list(data, filename=filename).confirmed()
    ]
    assert held == [("7", "Ravi K", "8", 50, True), ("9", "Нур H", "8", None, False)]
