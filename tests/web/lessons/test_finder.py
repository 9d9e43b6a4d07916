"""Finding a way: two or three rather than 22, and what would do where one does not fit."""

from __future__ import annotations

import pytest

from benchmates.core.strategy.way import Purpose
from tests.cast import Cast
from tests.web.test_actions import OWN_WAY


@pytest.mark.parametrize("purpose", Purpose)
def test_two_or_three_ways_are_offered(cast: Cast, purpose: Purpose) -> None:
    page = cast.teacher.get(
        f"/class/{cast.klass.pk}/way/", {"hear": purpose.value, "bell": "60"}
    ).content.decode()
    assert 2 <= page.count('<article class="way') <= 3
    assert page.count('class="mark"') >= 2  # every claim carries its mark


def test_fragment_is_what_the_page_itself_holds(cast: Cast) -> None:
    url, asked = f"/class/{cast.klass.pk}/way/", {"hear": "learn content", "bell": "30"}
    fragment = cast.teacher.get(url, asked, headers={"HX-Request": "true"}).content.decode()
    assert fragment.strip() in cast.teacher.get(url, asked).content.decode()
    assert "Does not fit" in fragment


def test_own_way_is_offered_and_drawn(cast: Cast) -> None:
    cast.teacher.post("/ways/own/", {"toml": OWN_WAY, "key": "o"})
    assert "Two rounds" in cast.teacher.get("/ways/").content.decode()
    cast.teacher.post(f"/class/{cast.klass.pk}/lesson/", {"choice": "two-rounds/60//generate", "key": "d"})
    assert cast.klass.lessons.first().way_name == "Two rounds"


def test_faulty_way_is_told_fault_by_fault_and_not_kept(cast: Cast) -> None:
    answer = cast.teacher.post("/ways/own/", {"toml": 'format = 1\nkey = "Bad Key"\n', "key": "o"})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Bad Key" in page and "What would do" in page
    assert not cast.klass.department.own_ways.exists()


def test_unknown_way_names_a_near_one(cast: Cast) -> None:
    answer = cast.teacher.post(f"/class/{cast.klass.pk}/lesson/", {"choice": "jigsw/60//", "key": "d"})
    assert answer.status_code == 422
    assert "jigsaw" in answer.content.decode()
