"""Spoiled class lists: each gets its faults or a clean preview, exactly, and never a traceback."""

import io
import struct
import zipfile
from dataclasses import dataclass

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchmates.core.errors import CannotRead
from benchmates.core.roster.class_list import ClassList
from benchmates.core.roster.pupil import Pupil
from benchmates.core.roster.reading import (
    Preview,
    read_class_list,
    read_column_map,
    read_history,
    read_musts,
    read_pasted,
)
from benchmates.core.terms import PupilId


def packed(**parts: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, data in parts.items():
            archive.writestr(name.replace("__", "/").replace("_xml", ".xml"), data)
    return out.getvalue()


def book(**sheets: list[list[object]]) -> bytes:
    """A workbook by openpyxl, an independent writer of ECMA-376."""
    made = openpyxl.Workbook()
    made.remove(made.active)
    for name, rows in sheets.items():
        sheet = made.create_sheet(name)
        for row in rows:
            sheet.append(row)
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def stray_cell() -> bytes:
    made = openpyxl.Workbook()
    made.active["A1"], made.active["XFD1048576"] = "name", "x"
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


OLD_OFFICE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\x00" * 600  # compound file header, [MS-CFB] 2.2
WHOLE_BOOK = book(S=[["name"], ["Ravi K"]])
YEAR_LIST = b"name,form\n" + b"".join(b"Pupil %d,8%c\n" % (k, 65 + k % 4) for k in range(3000))


ADD, AGAIN = "Choose a list with at least one name in it.", "Open it, save it again and choose that file."


@dataclass(frozen=True)
class Spoiled:
    """A file and what must come of it: names (``None`` where there are faults), faults, notices."""

    data: bytes
    names: tuple[str, ...] | None = None
    faults: tuple[str, ...] = ()
    notices: tuple[str, ...] = ()
    filename: str = "8b.csv"


def whole(
    *, told: str, mend: str = "Save the list as .csv, .xlsx or .ods and choose that file."
) -> tuple[str, ...]:
    return (f"8b.csv: {told}. {mend}",)


CLASH = "A letter or two more of the surname would tell them apart."
R, H = "Ravi K", "Hana S"
SPOILED: dict[str, Spoiled] = {
    # what is no list at all (first bytes from each format's own description)
    "nothing": Spoiled(b"", faults=whole(told="the file is empty", mend=ADD)),
    "a mark and no text": Spoiled(b"\xef\xbb\xbf\r\n\r\n", faults=whole(told="the file is empty", mend=ADD)),
    "separators only": Spoiled(b",,,\n,,,\n", faults=whole(told="the list is empty", mend=ADD)),
    "headings only": Spoiled(
        b"id,name\n", faults=("row 1: headings and no pupils below. Add a row for each pupil.",)
    ),
    "a png picture": Spoiled(
        b"\x89PNG\r\n\x1a\n" + bytes(range(99)), faults=whole(told="the file is a picture (PNG), not a list")
    ),
    "a jpeg picture": Spoiled(
        b"\xff\xd8\xff\xe0" + bytes(99), faults=whole(told="the file is a picture (JPEG), not a list")
    ),
    "a bitmap": Spoiled(
        b"BM" + struct.pack("<IHHI", 999, 0, 0, 54) + bytes(99),
        faults=whole(told="the file is a picture, not a list"),
    ),
    "a pdf": Spoiled(b"%PDF-1.7\n1 0 obj", faults=whole(told="the file is a PDF, not a list")),
    "a web page": Spoiled(
        b"<html><table><tr><td>name</td></tr></table></html>",
        faults=whole(told="the file is a web page (some registers save these as .xls), not a list"),
    ),
    "rich text": Spoiled(
        b"{\\rtf1 Ravi K}", faults=whole(told="the file is a rich text document (RTF), not a list")
    ),
    "a zip": Spoiled(packed(a_txt=b"name"), faults=whole(told="the file is a packed file (zip), not a list")),
    "a text document": Spoiled(
        packed(word__document_xml=b"<w/>"), faults=whole(told="the file is a text document, not a list")
    ),
    "an old xls": Spoiled(
        OLD_OFFICE, faults=whole(told="the file is an old .xls workbook or another old office file")
    ),
    "a locked workbook": Spoiled(
        OLD_OFFICE + "EncryptedPackage".encode("utf-16-le"),
        faults=whole(
            told="the workbook is locked with a password", mend="Take the password off and save it again."
        ),
    ),
    "half a workbook": Spoiled(
        WHOLE_BOOK[: len(WHOLE_BOOK) // 2],
        faults=whole(told="the workbook is damaged or cut short", mend=AGAIN),
    ),
    "a workbook of rubbish": Spoiled(
        packed(xl__workbook_xml=b"<no"),
        faults=whole(told="the workbook is damaged", mend=AGAIN),
    ),
    "a cell at the far edge": Spoiled(
        stray_cell(),
        faults=whole(
            told="a sheet reaches past row 20000 or column 1000", mend="Copy the list to a new workbook."
        ),
    ),
    "an empty workbook": Spoiled(book(S=[]), faults=whole(told="the workbook is empty", mend=ADD)),
    "bytes that are no text": Spoiled(
        bytes(range(1, 32)) * 9,
        faults=whole(
            told="the file is not text a list could be read from", mend="Save it again as .csv or .xlsx."
        ),
    ),
    # encodings and separators
    "utf-8 with a mark": Spoiled("\ufeffname\nZoë Ž\n".encode(), ("Zoë Ž",)),
    "utf-16 little end first": Spoiled("\ufeffname\nZoë Ž\n".encode("utf-16-le"), ("Zoë Ž",)),
    "utf-16 big end first": Spoiled("\ufeffname\nZoë Ž\n".encode("utf-16-be"), ("Zoë Ž",)),
    "utf-16 without a mark": Spoiled("name\nRavi K\n".encode("utf-16-le"), (R,)),
    "windows-1252": Spoiled(
        "name,year\nZoë Š,8\n".encode("cp1252"),
        ("Zoë Š",),
        notices=("The file is in an older Windows encoding: look at the accents in the names.",),
    ),
    "semicolons": Spoiled(b"name;year\nRavi K;8\n", (R,)),
    "tabs": Spoiled(b"name\tyear\nRavi K\t8\n", (R,)),
    "pipes": Spoiled(b"name|year\nRavi K|8\n", (R,)),
    "a stated separator": Spoiled(b"sep=;\nname;year\nRavi K;8\n", (R,)),
    "old line ends": Spoiled(b"name,year\rRavi K,8\rHana S,8\r", (R, H)),
    "csv named xlsx": Spoiled(b"name\nRavi K\n", (R,), filename="8b.xlsx"),
    "xlsx named csv": Spoiled(WHOLE_BOOK, (R,)),
    "a quotation mark never closed": Spoiled(
        b'id,name\n1,"Ravi K\n2,Hana S\n',
        faults=('row 2: a quotation mark (") is opened and never closed. Close it or take it away.',),
    ),
    # headings
    "title rows": Spoiled(
        b"Alderquay School\n\nClass,8B\nName,Sex\nRavi K,M\n",
        (R,),
        notices=(
            "Row 1 (“Alderquay School”) stands above the headings and was skipped.",
            "Row 3 (“Class 8B”) stands above the headings and was skipped.",
        ),
    ),
    "what is never held": Spoiled(
        b"Pupil,UPN,Date of birth,Address\nRavi K,1,2,3\n",
        (R,),
        notices=("Not taken in: “UPN”, “Date of birth” and “Address”.",),
    ),
    "unknown headings": Spoiled(
        b"Kid,Ref no,Colour\nRavi K,1,red\n",
        faults=(
            "row 1: no column for the name or the id among “Kid”, “Ref no” and “Colour”. Say which column "
            "is which: with --map FILE on the command line, by choosing in the page.",
        ),
    ),
    "no headings and two columns": Spoiled(
        b"Ravi K,8\nHana S,8\n",
        faults=(
            "row 1: no column for the name or the id among “Ravi K” and “8”. Say which column is which: "
            "with --map FILE on the command line, by choosing in the page.",
        ),
    ),
    "a column without a heading": Spoiled(
        b"name,,year\nRavi K,late,8\n", (R,), notices=("Not taken in: “column 2 (no heading)”.",)
    ),
    "the second sheet": Spoiled(
        book(Notes=[["see next"]], List=[["name"], [R]]),
        (R,),
        notices=("Read from the sheet “List”; not from “Notes”.",),
        filename="8b.xlsx",
    ),
    # rows
    "blank lines": Spoiled(b"name\n\n ,\nRavi K\n\n\nHana S\n\n", (R, H)),
    "the same pupil twice": Spoiled(
        b"id,name\n1,Ravi K\n2,Hana S\n1,Ravi K\n",
        faults=("rows 2 and 4: the same pupil twice (“1”). Take one of the two rows out.",),
    ),
    "one id for two": Spoiled(
        b"id,name\n1,Ravi K\n\n1,Hana S\n",
        faults=("rows 2 and 4: two pupils have the id “1”. Give each pupil an id of their own.",),
    ),
    "two of one name": Spoiled(
        b"id,name\n1,Ravi K\n2,Ravi K\n",
        (R, R),
        notices=(f"2 pupils are called Ravi K (rows 2 and 3). {CLASH}",),
    ),
    "two of one name and no id": Spoiled(
        b"name\nRavi K\nRavi K\n",
        (R, R),
        notices=(f"2 pupils are called Ravi K (rows 2 and 3); the later is held as “Ravi K (2)”. {CLASH}",),
    ),
    "an id and no name": Spoiled(
        b"id,name\n1,\n,Hana S\n",
        faults=(
            "row 2: the name is empty. Write the name, or take the row out.",
            "row 3: the id is empty. Give this pupil an id of their own, or leave the id column out for all.",
        ),
    ),
    "ids alone": Spoiled(b"id\n007\n008\n", ("007", "008")),
    "every faulty row": Spoiled(
        b"name,attainment,eal,talk\nRavi K,4b,maybe,loud\nHana S,7.5,,\nFemi A,50,no,quiet\n",
        faults=(
            "row 2: “4b” under “attainment”. Write a whole number, or leave it blank.",
            "row 2: “maybe” under “eal”. Write yes or no, or leave it blank.",
            "row 2: “loud” under “talk”. Write quiet or takes over, or leave it blank.",
            "row 3: “7.5” under “attainment”. Write a whole number, or leave it blank.",
        ),
    ),
    "a formula for a name": Spoiled(
        b"name\n=A1\nRavi K\n",
        faults=("row 2: a formula stands under “name”. Put what it shows in its place.",),
    ),
    "a formula in a workbook never worked out": Spoiled(
        book(S=[["id", "name"], [1, "=B9"]]),
        filename="8b.xlsx",
        faults=("row 2: the name is empty. Write the name, or take the row out.",),
    ),
    "a guarded formula is only a name": Spoiled(b"name\n'=A1\n", ("=A1",)),
    "an unquoted comma": Spoiled(
        b"name,year\nKhan, Ravi,8\n",
        faults=(
            'row 2: 3 cells under 2 headings. Put quotation marks (") round a cell with the separator in it, '
            "or take the extra cell out.",
        ),
    ),
    "invisible characters": Spoiled("name\n\u200bRavi\u00a0K\u200e\n\tHana  S\x07\n".encode(), (R, H)),
    "a spelling that needs its joiner": Spoiled("name\nنیلوفر\u200cسا\n".encode(), ("نیلوفر\u200cسا",)),
    "an accent in two characters": Spoiled("name\nZoe\u0308\n".encode(), ("Zoë",)),
    "any script": Spoiled("name\n김하나\nОльга\nপ্রিয়া\nمریم\n".encode(), ("김하나", "Ольга", "প্রিয়া", "مریم")),
    "a name too long": Spoiled(
        b"name\n" + b"a" * 81 + b"\n",
        faults=("row 2: 81 characters under “name”. Shorten it to 80 characters at most.",),
    ),
    "a semicolon in a name": Spoiled(
        b"name,year\nRavi; K,8\n",
        faults=(
            "row 2: “Ravi; K” has a semicolon in it. Semicolons part the pupils of a list: use another sign.",
        ),
    ),
    "partners who are not here": Spoiled(
        b"name,works well with\nRavi K,Hana S;Bo X;Ravi K\nHana S,\n",
        (R, H),
        notices=(
            "Row 2, works well with: “Bo X” is not in the class list; left out.",
            "Row 2, works well with: “Ravi K” is this pupil; left out.",
        ),
    ),
    "a whole year": Spoiled(
        YEAR_LIST,
        faults=(
            "the list: 3000 pupils where one class is expected. Choose the list of one class, "
            "at most 400 pupils. The list holds 8A, 8B, 8C and 8D: keep the rows of one.",
        ),
        notices=("Not taken in: “form”.",),
    ),
    "names and nothing else": Spoiled(b"1. Ravi K\n2. Hana S\n", (R, H), filename="names.txt"),
    "a title over names": Spoiled(
        b"8B Design\nRavi K\nHana S\n",
        (R, H),
        filename="names.txt",
        notices=("Row 1 (“8B Design”) was taken for a title and skipped.",),
    ),
    "headings on every page": Spoiled(
        b"name,year\nRavi K,8\nname,year\nHana S,8\n",
        (R, H),
        notices=("Row 3 repeats the headings and was skipped.",),
    ),
    "a key headed pupil beside the name": Spoiled(
        b"Pupil,Name\nA17,Ravi K\n", (R,), notices=("Not taken in: “Pupil”.",)
    ),
    "a text without end": Spoiled(
        b"a,8\n" * 30_000,
        faults=("the list: 30001 rows where one class is expected. Choose the list of one class.",),
    ),
    "a row without end": Spoiled(
        b"name\n" + b"a," * 3000,
        faults=("the list: a row of more than 1000 cells. Choose the list of one class.",),
    ),
    "numbers for names": Spoiled(
        b"12345\nRavi K\n",
        faults=("row 1: “12345” has no letters in it. Write the name, or take the line out.",),
    ),
}


def ods_of(rows: str) -> bytes:
    """A bare OpenDocument sheet (OASIS OpenDocument 1.3 part 3, sections 9.1 and 19.675)."""
    spaces = " ".join(
        f'xmlns:{p}="urn:oasis:names:tc:opendocument:xmlns:{p}:1.0"' for p in ("office", "table", "text")
    )
    table = f'<table:table table:name="S">{rows}</table:table>'
    body = f"<office:body><office:spreadsheet>{table}</office:spreadsheet>"
    content = f"<office:document-content {spaces}>{body}</office:body></office:document-content>"
    kind = b"application/vnd.oasis.opendocument.spreadsheet"
    manifest = b'<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"/>'
    return packed(mimetype=kind, content_xml=content.encode(), **{"META-INF__manifest_xml": manifest})


NAMED = "".join(
    '<table:table-row><table:table-cell office:value-type="string">'
    f"<text:p>{cell}</text:p></table:table-cell></table:table-row>"
    for cell in ("name", "Ravi K")
)
MILLION = '<table:table-row table:number-rows-repeated="1048574"><table:table-cell/></table:table-row>'


def test_a_sheet_that_repeats_its_empty_foot_a_million_times_is_clean() -> None:
    assert [p.name for p in read_class_list(ods_of(NAMED + MILLION), filename="8b.ods").confirmed()] == [
        "Ravi K"
    ]


@pytest.mark.parametrize(
    "rows",
    [MILLION + NAMED, NAMED.replace("table-cell ", 'table-cell table:number-columns-repeated="16384" ')],
)
def test_a_sheet_that_repeats_past_the_edge_is_told_before_it_fills_memory(rows: str) -> None:
    faults = read_class_list(ods_of(rows), filename="8b.ods").faults
    assert [fault.found for fault in faults] == ["a sheet reaches past row 20000 or column 1000"]


@pytest.mark.parametrize("name", SPOILED)
def test_a_spoiled_list_gets_its_faults_or_a_clean_preview(name: str) -> None:
    spoiled = SPOILED[name]
    preview = read_class_list(spoiled.data, filename=spoiled.filename)
    names = None if preview.class_list is None else tuple(p.name for p in preview.class_list)
    assert (names, tuple(map(str, preview.faults)), preview.notices) == (
        spoiled.names,
        spoiled.faults,
        spoiled.notices,
    )


@pytest.mark.parametrize("name", [name for name, spoiled in SPOILED.items() if spoiled.faults])
def test_nothing_is_taken_in_while_there_are_faults(name: str) -> None:
    preview = read_class_list(SPOILED[name].data, filename=SPOILED[name].filename)
    with pytest.raises(CannotRead) as error:
        preview.confirmed()
    assert error.value.faults == preview.faults


def test_there_are_forty_spoiled_lists_at_least() -> None:
    assert len(SPOILED) >= 40


def test_a_class_over_forty_is_asked_about() -> None:
    preview = read_pasted("\n".join(f"Pupil {chr(65 + k % 26)}{k}" for k in range(41)))
    assert preview.notices == ("41 pupils are many for one class: is this the list of one?",)
    assert len(preview.confirmed()) == 41


def test_unknown_headings_are_handed_on_for_a_page_to_ask() -> None:
    assert read_class_list(SPOILED["unknown headings"].data, filename="a.csv").headings == (
        "Kid",
        "Ref no",
        "Colour",
    )


def test_an_empty_paste_is_a_fault() -> None:
    assert [str(f) for f in read_pasted(" \n\n").faults] == [
        "the list: nothing was pasted. Paste the names, one a line."
    ]


ONE = ClassList((Pupil(PupilId("p1"), "Ravi K"),))
starts = st.sampled_from(
    [b"", b"PK\x03\x04", b"\xff\xfe", b"\xfe\xff", b"\xef\xbb\xbf", b"name,id\n", b'"', b"\xd0\xcf"]
)
cells = st.text(max_size=6) | st.sampled_from(
    ["name", "id", "EAL", "=1", "p1", '"', "1", "x", ";", "Ravi K", "\n"]
)


def survives(data: bytes) -> None:
    preview = read_class_list(data, filename="f.csv")
    assert isinstance(preview, Preview) and (preview.class_list is None) == bool(preview.faults)
    for read in (read_musts, read_history):
        try:
            read(data, filename="f.csv", class_list=ONE)
        except CannotRead as told:
            assert told.faults
    try:
        read_column_map(data)
    except CannotRead as told:
        assert told.faults


@settings(max_examples=300, deadline=None)
@given(starts, st.binary(max_size=200))
def test_any_bytes_are_a_preview_or_told(start: bytes, data: bytes) -> None:
    survives(start + data)


@settings(max_examples=200, deadline=None)
@given(st.integers(0, len(WHOLE_BOOK) - 1), st.binary(min_size=1, max_size=8))
def test_a_workbook_with_a_scratch_is_a_preview_or_told(at: int, scratch: bytes) -> None:
    survives(WHOLE_BOOK[:at] + scratch + WHOLE_BOOK[at + len(scratch) :])


@settings(max_examples=300, deadline=None)
@given(st.lists(st.lists(cells, max_size=5), max_size=8), st.sampled_from(",;\t|"))
def test_any_grid_is_a_preview_or_told(rows: list[list[str]], sign: str) -> None:
    text = "\n".join(sign.join(row) for row in rows)
    survives(text.encode("utf-8"))
    assert isinstance(read_pasted(text), Preview)
