"""Reading a list: shown before it is kept, every fault at once, nothing half taken in."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from benchmates.web.people.models import Change, PupilRow, SchoolClass
from tests.cast import Cast

NAMES = "Ada N\nBao L\nCy M\nDov S\nEli T\nFay W\nGil A\nIda R\nJo P\nKit K"


def test_preview_stores_nothing(cast: Cast) -> None:
    before = (SchoolClass.objects.count(), PupilRow.objects.count(), Change.objects.count())
    answer = cast.teacher.post("/names/", {"names": NAMES})
    assert answer.status_code == 200
    assert "10 pupils, not kept yet" in answer.content.decode()
    assert (SchoolClass.objects.count(), PupilRow.objects.count(), Change.objects.count()) == before


def test_second_press_makes_class_lesson_groups_and_wall(cast: Cast) -> None:
    answer = cast.teacher.post("/names/make/", {"names": NAMES, "name": "Year 7", "key": "k"}, follow=True)
    page = answer.content.decode()
    assert answer.status_code == 200
    klass = SchoolClass.objects.get(name="Year 7")
    assert klass.pupils.count() == 10
    # Two fives are as near to fours as two threes and a four, and ties go to fewer groups (design, section 6).
    assert [len(g["members"]) for g in klass.lessons.get().plans.get().plan["stages"][0]["groups"]] == [5, 5]
    assert "Print group cards" in page
    wall = cast.teacher.get(f"/lesson/{klass.lessons.get().pk}/wall/1/").content.decode()
    assert all(name in wall for name in NAMES.splitlines())


def test_back_and_mended_text_is_not_taken_for_a_second_press(cast: Cast) -> None:
    cast.teacher.post("/names/keep/", {"names": NAMES, "name": "A", "key": "same"})
    cast.teacher.post("/names/keep/", {"names": NAMES + "\nLex P", "name": "A", "key": "same"})
    assert sorted(k.pupils.count() for k in SchoolClass.objects.filter(name="A")) == [10, 11]


def test_nothing_pasted_is_said(cast: Cast) -> None:
    answer = cast.teacher.post("/names/", {"names": "  \n "}, follow=True)
    assert "Nothing came" in answer.content.decode()


def test_file_columns_held_and_dropped_are_named(cast: Cast) -> None:
    sent = SimpleUploadedFile("8b.csv", b"name,gender,postcode\nAda N,F,AB1 2CD\nBao L,M,AB1 2CE\n")
    page = cast.teacher.post("/names/", {"file": sent}).content.decode()
    assert "Not held, dropped" in page and "postcode" in page
    assert "AB1 2CD" not in page


def test_unknown_heading_can_be_mapped(cast: Cast) -> None:
    data = {
        "names": "Wie heisst du,Punkte\nAda N,101\nBao L,99\n",
        "map:Wie heisst du": "name",
        "map:Punkte": "attainment",
    }
    assert cast.teacher.post("/names/", data).status_code == 200
    cast.teacher.post("/names/keep/", {**data, "name": "M", "key": "m"})
    held = SchoolClass.objects.get(name="M").pupils.values_list("name", "attainment")
    assert list(held) == [("Ada N", 101), ("Bao L", 99)]


@pytest.mark.parametrize(
    "data",
    [b"\x89PNG\r\n\x1a\n" + bytes(200), b"", b"name,attainment\nAda N,high\nAda N,9\n", b"\xff\xfe\x00"],
)
def test_spoiled_file_is_told_and_not_kept(cast: Cast, data: bytes) -> None:
    before = SchoolClass.objects.count()
    answer = cast.teacher.post("/names/", {"file": SimpleUploadedFile("list.csv", data)}, follow=True)
    assert answer.status_code in (200, 422)
    assert "Traceback" not in answer.content.decode()
    assert "Keep this list and make groups" not in answer.content.decode()
    import base64

    forced = {"carried": base64.b64encode(data).decode(), "filename": "list.csv", "name": "X", "key": "x"}
    assert cast.teacher.post("/names/keep/", forced).status_code == 422
    assert SchoolClass.objects.count() == before
