"""What is printed: every sheet, nothing of the staff on a class-facing one, equal input gives equal bytes."""

from __future__ import annotations

import io
import zipfile

import pytest
from pypdf import PdfReader

from tests.cast import NAMES, SECRETS, Cast

CLASS_FACING = ("group-cards.pdf", "stage-strip.pdf", "wall.pdf")


@pytest.fixture
def made(cast: Cast) -> Cast:
    cast.teacher.post(f"/lesson/{cast.lesson.pk}/make/", {"key": "m"})
    return cast


def words(data: bytes) -> str:
    return " ".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages)


@pytest.mark.parametrize("size", ["a4", "a5", "large"])
def test_zip_holds_every_sheet_and_no_secret_for_the_class(made: Cast, size: str) -> None:
    url = f"/lesson/{made.lesson.pk}/print/{size}.zip"
    first, second = made.teacher.get(url).content, made.teacher.get(url).content
    assert first == second
    with zipfile.ZipFile(io.BytesIO(first)) as bundle:
        sheets = {name: bundle.read(name) for name in bundle.namelist()}
    assert sorted(sheets) == sorted((*CLASS_FACING, "run-sheet.pdf"))
    for name in CLASS_FACING:
        text = words(sheets[name])
        assert all(pupil.split()[0] in text for pupil in NAMES)
        assert not [secret for secret in SECRETS if secret in text]


def test_one_sheet_opens_in_the_browser(made: Cast) -> None:
    answer = made.teacher.get(f"/lesson/{made.lesson.pk}/print/a4/group-cards.pdf")
    assert answer["Content-Type"] == "application/pdf"
    assert answer["Content-Disposition"].startswith("inline")
    # ISO 216: A4 is 210 x 297 mm; a point is 1/72 inch of 25.4 mm.
    box = PdfReader(io.BytesIO(answer.content)).pages[0].mediabox
    assert sorted(round(float(side) * 25.4 / 72) for side in (box.width, box.height)) == [210, 297]


@pytest.mark.parametrize("path", ["print/a4/group-cards.pdf", "print/a4.zip", "wall/1/"])
def test_stranger_and_pupil_get_no_print(made: Cast, path: str) -> None:
    url = f"/lesson/{made.lesson.pk}/{path}"
    assert made.stranger.get(url).status_code == 404
    assert made.pupil.get(url).status_code == 403


def test_pupil_who_left_or_joined_later_does_not_stop_the_print(made: Cast) -> None:
    made.teacher.post(f"/class/{made.klass.pk}/leave/", {"pupil": "Tamsin B", "key": "l"})
    made.teacher.post(f"/class/{made.klass.pk}/join/", {"name": "Zeke O", "key": "j"})
    assert made.teacher.get(f"/lesson/{made.lesson.pk}/print/a4.zip").status_code == 200
    page = made.teacher.get(f"/lesson/{made.lesson.pk}/groups/").content.decode()
    assert "Zeke O is on the list but in no group" in page
    assert made.teacher.get(f"/lesson/{made.lesson.pk}/").status_code == 200


def test_no_groups_no_print(cast: Cast) -> None:
    assert cast.teacher.get(f"/lesson/{cast.lesson.pk}/print/a4.zip").status_code == 404


def test_name_that_no_font_draws_is_told_beside_the_print(made: Cast) -> None:
    told = "letters that no font here can draw"
    for page in ("", "groups/"):
        assert told not in made.teacher.get(f"/lesson/{made.lesson.pk}/{page}").content.decode()
    # Egyptian hieroglyphs: in no font that we carry.
    made.klass.pupils.filter(pid="Tamsin B").update(name="\U00013000\U00013001")
    for page in ("", "groups/"):
        assert told in made.teacher.get(f"/lesson/{made.lesson.pk}/{page}").content.decode()
