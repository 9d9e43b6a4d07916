"""The record of changes: undo of undo, twenty steps, and never out of order."""

from __future__ import annotations

from benchmates.web.people import actions, record
from benchmates.web.people.models import Change
from tests.cast import Cast


def names(cast: Cast) -> list[str]:
    return list(cast.klass.pupils.values_list("name", flat=True))


def press(cast: Cast, *, on: bool, key: str) -> None:
    now = record.steps(department=cast.klass.department, klass=cast.klass.pk)
    change = now.on if on else now.back
    assert change is not None
    record.undo(by=cast.staff, change=change, key=key)


def test_twenty_steps_back_and_on_again(cast: Cast) -> None:
    seen = [names(cast)]
    for k in range(20):
        actions.add_pupil(by=cast.staff, key=f"a{k}", klass=cast.klass, name=f"New {k}")
        seen.append(names(cast))
    for k in range(20):
        press(cast, on=False, key=f"u{k}")
        assert names(cast) == seen[19 - k]
    for k in range(20):
        press(cast, on=True, key=f"r{k}")
        assert names(cast) == seen[k + 1]


def test_undo_of_undo_of_undo(cast: Cast) -> None:
    actions.add_pupil(by=cast.staff, key="a", klass=cast.klass, name="Zeke O")
    for k, on in enumerate((False, True, False, True, False)):
        press(cast, on=on, key=f"p{k}")
        assert ("Zeke O" in names(cast)) is on


def test_record_only_grows(cast: Cast) -> None:
    actions.add_pupil(by=cast.staff, key="a", klass=cast.klass, name="Zeke O")
    before = list(Change.objects.values())
    press(cast, on=False, key="u")
    assert list(Change.objects.values())[: len(before)] == before


def test_older_change_cannot_be_pulled_from_under_a_newer_one(cast: Cast) -> None:
    first = Change.objects.filter(klass=cast.klass.pk).first()
    assert first is not None
    answer = cast.teacher.post(f"/undo/{first.pk}/", {"key": "k"}, follow=True)
    assert "Nothing was changed" in answer.content.decode()
    assert len(names(cast)) == 8


def test_taken_back_class_can_be_put_back_from_the_first_page(cast: Cast) -> None:
    cast.teacher.post("/names/keep/", {"names": "Cai Y\nDella G", "name": "Year 8", "key": "k"})
    change = Change.objects.latest("pk")
    page = cast.teacher.post(f"/undo/{change.pk}/", {"key": "u"}, follow=True).content.decode()
    assert "A class was taken back" in page and "Put back" in page
    back = Change.objects.latest("pk")
    cast.teacher.post(f"/undo/{back.pk}/", {"key": "r"})
    assert "Year 8" in cast.teacher.get("/").content.decode()
