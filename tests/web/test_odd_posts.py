"""Whatever a browser sends is answered in words: never a page that broke."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from benchmates.web.people.lists import MOST_BYTES
from tests.cast import Cast

# Digits that int() refuses, more digits than int() reads at once, more than a database holds, and none at all.
ODD_NUMBERS = ("²", "9" * 5000, "9" * 30, "-1", "")


@pytest.mark.parametrize("number", ODD_NUMBERS, ids=["squared", "endless", "huge", "negative", "blank"])
def test_odd_numbers_never_break_a_page(cast: Cast, number: str) -> None:
    klass, lesson, first = cast.klass.pk, cast.lesson.pk, cast.klass.pupils.first()
    assert first is not None
    posts = {
        f"/class/{klass}/lesson/": {"choice": f"snowball/{number}/{number}/generate", "key": "a"},
        f"/class/{klass}/wishes/": {"new_partners": number, "key": "b"},
        f"/class/{klass}/describe/": {"adults": number, "key": "c"},
        f"/class/{klass}/record/": {f"{first.pk}:attainment": number, "key": "d"},
        f"/lesson/{lesson}/lead/": {"card": f"{number}\x1fA\x1fFit", "key": "e"},
        f"/lesson/{lesson}/describe/": {"bell": number, "size": number, "key": "f"},
    }
    for url, sent in posts.items():
        assert cast.teacher.post(url, sent).status_code in (302, 404, 422), url
    assert cast.teacher.get(f"/class/{klass}/way/?bell={number}&lesson={number}").status_code == 200


@pytest.mark.parametrize("path", ["class/{n}/", "lesson/{n}/", "lesson/{n}/wall/{n}/"])
def test_sheet_of_a_number_past_all_rows_is_not_there(cast: Cast, path: str) -> None:
    assert cast.teacher.get(f"/{path.format(n='9' * 30)}").status_code == 404


def test_file_that_could_not_be_carried_to_the_second_press_is_refused_in_words(cast: Cast) -> None:
    file = SimpleUploadedFile("all.csv", b"name\n" + b"x" * MOST_BYTES)
    answer = cast.teacher.post("/names/", {"file": file, "key": "k"})
    assert answer.status_code == 422
    assert "8 MB" in answer.content.decode()
