"""Groups: musts that clash, comparing, groups pupils chose, lessons that ended."""

from __future__ import annotations

from benchmates.core.grouping.result_json import read_plan
from benchmates.core.lesson.plan import lesson_for
from benchmates.core.roster.musts import Kind
from benchmates.core.strategy.plain import plain_groups
from benchmates.web.lessons import actions as lessons
from benchmates.web.people import actions as people
from benchmates.web.people import record
from benchmates.web.runs import queries
from benchmates.web.runs.models import PlanRow, SittingRow
from tests.cast import NAMES, Cast


def make(cast: Cast, key: str = "m") -> str:
    return cast.teacher.post(f"/lesson/{cast.lesson.pk}/make/", {"key": key}, follow=True).content.decode()


def together(cast: Cast, one: str, other: str) -> bool:
    import json

    plan = read_plan(json.dumps(cast.lesson.plans.get(current=True).plan).encode())
    return any(
        one in g.members and other in g.members
        for stage in plan.stages
        if stage.relation.keeps_musts
        for g in stage.groups
    )


def test_not_together_again_holds_the_next_time(cast: Cast) -> None:
    make(cast)
    group = cast.lesson.plans.get().plan["stages"][0]["groups"][0]["members"]
    one, other = group[:2]
    assert together(cast, one, other)
    cast.teacher.post(f"/lesson/{cast.lesson.pk}/apart/", {"key": "a", "pair": f"{one}\x1f{other}"})
    make(cast, "again")
    assert not together(cast, one, other)


def test_clash_names_the_smallest_set_and_one_press_removes_one(cast: Cast) -> None:
    people.add_must(
        by=cast.staff, key="t", klass=cast.klass, kind=Kind.TOGETHER, pupils=["Ravi K", "Odile M"]
    )
    people.add_must(by=cast.staff, key="x", klass=cast.klass, kind=Kind.APART, pupils=["Femi A", "Gwen P"])
    page = make(cast)
    assert "can’t all hold" in page
    clash = page.split("can’t all hold")[1].split("</section>")[0]
    assert "Ravi K and Odile M" in clash and "Femi A" not in clash
    assert clash.count("Take away<span") == 2
    cast.teacher.post(f"/class/{cast.klass.pk}/must/{cast.must.pk}/away/", {"key": "r"})
    mended = cast.teacher.get(f"/lesson/{cast.lesson.pk}/groups/").content.decode()
    assert "can’t all hold" not in mended and "both apart and together" not in mended
    assert "That is mended. Make groups again." in mended
    assert "can’t all hold" not in make(cast, "again")


def test_making_again_compares_before_and_after(cast: Cast) -> None:
    make(cast)
    page = make(cast, "again")
    assert "Before: compromise" in page and "Now: compromise" in page


def test_one_question_at_every_size_is_refused_until_insisted(cast: Cast) -> None:
    stages = ("0", "1")
    for stage in stages:
        cast.teacher.post(
            f"/lesson/{cast.lesson.pk}/stage/{stage}/",
            {"key": stage, "question": "What is best?", "product": "A list"},
        )
    page = make(cast)
    assert "dead time" in page and "I insist" in page
    assert not cast.lesson.plans.exists()
    cast.teacher.post(f"/lesson/{cast.lesson.pk}/insist/", {"key": "i"})
    make(cast, "again")
    assert cast.lesson.plans.count() == 1


def test_ended_lesson_counts_once_and_only_for_later_lessons(cast: Cast) -> None:
    make(cast)
    assert not queries.history(cast.klass).sittings
    cast.teacher.post(f"/lesson/{cast.lesson.pk}/ended/", {"key": "e"})
    cast.teacher.post(f"/lesson/{cast.lesson.pk}/ended/", {"key": "e2"})
    stages = cast.lesson.plans.get().plan["stages"]
    seated = sum(
        len(g["members"]) for s in stages if s["relation"] not in ("individual", "whole") for g in s["groups"]
    )
    assert SittingRow.objects.count() == seated
    assert not queries.history(cast.klass, but=cast.lesson).sittings


def test_groups_as_they_sat_count_in_history(cast: Cast) -> None:
    sat = {f"sat-{row.pk}": "AB"[k // 4] for k, row in enumerate(cast.klass.pupils.all())}
    page = cast.teacher.post(
        f"/class/{cast.klass.pk}/sat/", {"key": "s", **sat}, follow=True
    ).content.decode()
    assert "Groups they chose" in page
    row = cast.klass.lessons.exclude(pk=cast.lesson.pk).get()
    cast.teacher.post(f"/lesson/{row.pk}/ended/", {"key": "e"})
    met = queries.history(cast.klass).meetings(NAMES)
    assert met["Tamsin B", "Femi A"] == 1
    assert met["Tamsin B", "Gwen P"] == 0


def as_they_sat(cast: Cast) -> dict[str, str]:
    return {f"sat-{row.pk}": "AB"[k // 4] for k, row in enumerate(cast.klass.pupils.all())}


def test_groups_as_they_sat_stand_in_for_those_of_a_plain_lesson(cast: Cast) -> None:
    """From the lesson that pasted names make, one hour counts once: as it was sat, not as it was planned."""
    plain = lesson_for(plain_groups(), title="Groups", bell=60)
    row = lessons.draw_lesson(by=cast.staff, key="plain", klass=cast.klass, lesson=plain)
    cast.teacher.post(f"/lesson/{row.pk}/make/", {"key": "m"})
    there = f"/class/{cast.klass.pk}/sat/?lesson={row.pk}"
    assert "take the place of the groups" in cast.teacher.get(there).content.decode()
    before = cast.klass.lessons.count()
    cast.teacher.post(there, {"key": "s", **as_they_sat(cast)})
    assert cast.klass.lessons.count() == before
    assert row.plans.get(current=True).source == PlanRow.CHOSEN
    back = record.steps(department=cast.klass.department, klass=cast.klass.pk).back
    assert back is not None
    record.undo(by=cast.staff, change=back, key="u")
    assert row.plans.get(current=True).source == PlanRow.MADE
    cast.teacher.post(there, {"key": "s2", **as_they_sat(cast)})
    cast.teacher.post(f"/lesson/{row.pk}/ended/", {"key": "e"})
    met = queries.history(cast.klass).meetings(NAMES)
    assert (met["Tamsin B", "Femi A"], met["Tamsin B", "Gwen P"]) == (1, 0)


def test_a_lesson_of_more_stages_keeps_its_groups_and_says_which_to_end(cast: Cast) -> None:
    there = f"/class/{cast.klass.pk}/sat/?lesson={cast.lesson.pk}"
    assert "not both" in cast.teacher.get(there).content.decode()
    cast.teacher.post(there, {"key": "s", **as_they_sat(cast)})
    assert not cast.lesson.plans.exists()
    assert cast.klass.lessons.count() == 2


def test_a_lesson_that_ended_or_is_no_number_is_left_alone(cast: Cast) -> None:
    make(cast)
    cast.teacher.post(f"/lesson/{cast.lesson.pk}/ended/", {"key": "e"})
    for named in (cast.lesson.pk, "x", "²", 10**30):
        assert cast.teacher.get(f"/class/{cast.klass.pk}/sat/?lesson={named}").status_code == 200


def test_pupil_alone_is_not_kept_as_a_group(cast: Cast) -> None:
    first = cast.klass.pupils.first()
    assert first is not None
    answer = cast.teacher.post(f"/class/{cast.klass.pk}/sat/", {"key": "s", f"sat-{first.pk}": "A"})
    assert answer.status_code == 422
    assert "would sit alone" in answer.content.decode()


def test_one_edit_reaches_the_wall(cast: Cast) -> None:
    make(cast)
    words = {"key": "w", "question": "Which need would you drop?", "product": "One card turned over"}
    cast.teacher.post(f"/lesson/{cast.lesson.pk}/stage/0/", words)
    wall = cast.teacher.get(f"/lesson/{cast.lesson.pk}/wall/1/").content.decode()
    assert "Which need would you drop?" in wall and "One card turned over" in wall


def test_class_too_small_for_its_way_is_told_on_every_sheet(cast: Cast) -> None:
    answer = cast.teacher.post(
        f"/class/{cast.klass.pk}/lesson/", {"choice": "jigsaw/60//learn content", "key": "d"}
    )
    pk = answer["Location"].rstrip("/").split("/")[-1]
    for row in list(cast.klass.pupils.all())[2:]:
        cast.teacher.post(f"/class/{cast.klass.pk}/leave/", {"pupil": row.pid, "key": row.pid})
    for page in (f"/lesson/{pk}/", f"/lesson/{pk}/groups/"):
        assert cast.teacher.get(page).status_code == 200
    made = cast.teacher.post(f"/lesson/{pk}/make/", {"key": "m"}, follow=True).content.decode()
    assert "No groups were made" in made


def test_empty_class_is_told(cast: Cast) -> None:
    for row in list(cast.klass.pupils.all()):
        cast.teacher.post(f"/class/{cast.klass.pk}/leave/", {"pupil": row.pid, "key": row.pid})
    assert (
        "Nobody is on this class list yet" in cast.teacher.get(f"/lesson/{cast.lesson.pk}/").content.decode()
    )
    assert cast.teacher.get(f"/class/{cast.klass.pk}/way/?hear=make").status_code == 200
    assert "No groups were made" in make(cast)


def test_size_changed_after_groups_were_made_asks_for_new_ones(cast: Cast) -> None:
    make(cast)
    words = {"title": "Needs", "bell": "60", "size": "2", "key": "d"}
    cast.teacher.post(f"/lesson/{cast.lesson.pk}/describe/", words)
    for page in ("", "groups/"):
        assert (
            "Make groups again to draw"
            in cast.teacher.get(f"/lesson/{cast.lesson.pk}/{page}").content.decode()
        )
    assert cast.teacher.get(f"/lesson/{cast.lesson.pk}/print/a4.zip").status_code == 302
    assert cast.teacher.get(f"/lesson/{cast.lesson.pk}/wall/1/").status_code == 200
    make(cast, "again")
    assert (
        "Make groups again to draw"
        not in cast.teacher.get(f"/lesson/{cast.lesson.pk}/groups/").content.decode()
    )
