"""Drawings of lessons. The rules are those of our own guide to the look, "Threads"; no outside source."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings

from benchmates.core.terms import PupilId
from benchmates.drawing.drawn import Drawing
from benchmates.drawing.families import crossings
from benchmates.drawing.order import orders
from benchmates.drawing.scenes import scenes
from benchmates.drawing.threads import tall, wide
from tests.drawing import picture, plans
from tests.drawing.lessons import SAMPLES, large, nested, snowball

DRAWN = [pytest.param(d, name, id=f"{name}-{d.__name__}") for name in SAMPLES for d in (wide, tall)]
NESTED = [
    (28, (4, 3, 4, 3, 4, 3, 4, 3), (7, 7, 7, 7)),
    (22, (3, 4, 3, 4, 4, 4), (7, 7, 8)),
    (16, (4, 4, 4, 4), (8, 8)),
]


@pytest.mark.parametrize(("draw", "name"), DRAWN)
def test_drawing_holds_one_thread_and_one_name_for_each_pupil(draw, name: str) -> None:  # type: ignore[no-untyped-def]
    drawing = SAMPLES[name]()
    svg = draw(drawing, drawing.ids[0])

    names = [e for e in picture.read(svg).iter(f"{picture.SVG}text") if e.get("data-p")]
    assert set(picture.threads(svg)) == set(drawing.ids)
    assert {e.attrib["data-p"]: e.text for e in names} == drawing.names


@pytest.mark.parametrize(("draw", "name"), DRAWN)
def test_no_words_touch(draw, name: str) -> None:  # type: ignore[no-untyped-def]
    drawing = SAMPLES[name]()
    boxes = picture.boxes(draw(drawing, drawing.ids[len(drawing.ids) // 2]))

    assert [(a.words, b.words) for a, b in combinations(boxes, 2) if a.overlaps(b)] == []


@pytest.mark.parametrize(("draw", "name"), DRAWN)
def test_everything_stands_on_the_sheet(draw, name: str) -> None:  # type: ignore[no-untyped-def]
    svg = draw(SAMPLES[name](), None)
    _, _, w, h = (float(v) for v in picture.read(svg).attrib["viewBox"].split())
    spots = [p for d in picture.threads(svg).values() for p in picture.points(d)]

    assert all(0 <= x <= w and 0 <= y <= h for x, y in spots)
    assert [
        b.words for b in picture.boxes(svg) if b.left < -1 or b.top < -1 or b.right > w + 1 or b.bottom > h
    ] == []


@pytest.mark.parametrize(("n", "fours", "eights"), NESTED)
def test_threads_that_merge_never_cross(n: int, fours: tuple[int, ...], eights: tuple[int, ...]) -> None:
    assert _crossed(wide(nested(n, fours, eights, seed=n))) == 0


@settings(max_examples=40, deadline=None)
@given(plans.nested())
def test_nested_groups_share_one_order(drawing: Drawing) -> None:
    found = orders(drawing.ids, scenes(drawing))

    assert all(order == found[0] for order in found)
    assert _crossed(wide(drawing)) == 0


@settings(max_examples=60, deadline=None)
@given(plans.any_lesson())
def test_any_lesson_is_drawn_whole(drawing: Drawing) -> None:
    for draw in (wide, tall):
        svg = draw(drawing, drawing.ids[-1])
        assert set(picture.threads(svg)) == set(drawing.ids)
        for d in picture.threads(svg).values():
            along = [p[1] if draw is tall else p[0] for p in picture.points(d)]
            assert all(b >= a - 0.11 for a, b in pairwise(along)), "a thread never runs back in time"
    for order in orders(drawing.ids, scenes(drawing)):
        assert sorted(order) == sorted(drawing.ids)


@settings(max_examples=60, deadline=None)
@given(plans.any_lesson())
def test_names_of_stages_never_touch(drawing: Drawing) -> None:
    stages = [s.name for s in drawing.slots]
    boxes = [b for b in picture.boxes(wide(drawing)) if b.words in stages or b.words.endswith("min")]

    assert [(a.words, b.words) for a, b in combinations(boxes, 2) if a.overlaps(b)] == []


def test_members_of_a_group_run_side_by_side() -> None:
    drawing = snowball()
    last = {p: picture.points(d)[-3][1] for p, d in picture.threads(wide(drawing)).items()}

    for group in drawing.stages[3].groups:
        rows = sorted(last[p] for p in group.members)
        assert all(b - a == pytest.approx(10, abs=0.11) for a, b in pairwise(rows))


def test_jigsaw_comes_back_to_the_order_of_its_homes() -> None:
    drawing = SAMPLES["jigsaw"]()
    found = orders(drawing.ids, scenes(drawing))

    assert found[1] == found[3] and crossings(found[1], found[2]) > 0


def test_envoys_cross_no_more_than_their_ways_make_them() -> None:
    # Counted by hand: of five groups of four the last envoy goes up past 4 x 4 - 1 + 4 threads or fewer; the other
    # four stand next to the group they visit and cross nobody else.
    drawing = SAMPLES["envoys"]()
    found = orders(drawing.ids, scenes(drawing))

    assert crossings(found[1], found[2]) <= 20


def test_carousel_group_is_drawn_at_the_place_of_its_station() -> None:
    svg = wide(SAMPLES["carousel"]())
    uses = list(picture.read(svg).iter(f"{picture.SVG}use"))
    places = {y: k for k, y in enumerate(sorted({float(e.attrib["y"]) for e in uses}))}
    rows = [places[float(e.attrib["y"])] for e in uses if e.attrib["href"] == "#tok-A"]

    assert rows == [0, 1, 2, 3, 4, 5]


def test_followed_pupil_is_marked_by_thread_name_and_sleeves() -> None:
    drawing = snowball()
    pupil = PupilId("p08")
    root = picture.read(wide(drawing, pupil))
    followed = next(e for e in root.iter(f"{picture.SVG}path") if e.get("class") == "followed")
    has = [
        e.attrib["data-m"].split()
        for e in root.iter(f"{picture.SVG}rect")
        if "has" in e.get("class", "").split()
    ]

    assert followed.attrib["d"] == picture.threads(wide(drawing))["p08"]
    assert [e.text for e in root.iter(f"{picture.SVG}text") if e.get("class") == "name on"] == ["Kezia L"]
    assert [sorted(m) for m in has] == [sorted(s.group_of(pupil).members) for s in drawing.stages[1:]]


def test_nobody_followed_leaves_no_accent() -> None:
    svg = wide(snowball())

    assert 'class="followed" d=""' in svg and "name on" not in svg and " has" not in svg


def test_many_pupils_on_a_phone_show_the_followed_name_alone() -> None:
    assert 'class="threads tall many"' in tall(large()) and 'class="threads tall"' in tall(
        SAMPLES["envoys"]()
    )


def test_drawing_that_stands_alone_holds_its_tokens_and_styles() -> None:
    svg = wide(snowball(), alone=True)
    root = picture.read(svg)
    ids = {e.attrib["id"] for e in root.iter() if "id" in e.attrib}

    assert {u.attrib["href"][1:] for u in root.iter(f"{picture.SVG}use")} <= ids
    assert "var(" not in svg and root.find(f"{picture.SVG}style") is not None


def test_names_are_written_safely_and_never_cut() -> None:
    plain = SAMPLES["two"]()
    names = ["<b>&\"'", "漢字 " * 30 + "\x07"]
    drawing = Drawing(tuple(zip(plain.ids, names, strict=True)), plain.slots, plain.stages)
    shown = [e.text for e in picture.read(wide(drawing)).iter(f"{picture.SVG}text") if e.get("data-p")]

    assert shown == ["<b>&\"'", "漢字 " * 30]


def test_description_is_made_from_the_lesson() -> None:
    svg = wide(SAMPLES["fishbowl"]())
    told = picture.read(svg).findtext(f"{picture.SVG}desc") or ""

    assert "Each of 22 pupils is one line." in told
    assert "09:16 Fishbowl, 2 × 8 min: an inner ring of 5 and an outer ring of 17." in told.replace(
        "\u00a0", " "
    )
    assert "09:32 Need map in pairs, 10 min: 8 pairs and 2 threes." in told
    assert "09:43 Fours rank, 10 min: 5 groups of 4 or 5." in told


def test_drawing_refuses_a_plan_that_seats_a_pupil_twice_or_not_at_all() -> None:
    good = SAMPLES["two"]()

    with pytest.raises(ValueError, match="does not seat every pupil once"):
        Drawing((*good.pupils, (PupilId("p99"), "Bram X")), good.slots, good.stages)


def _crossed(svg: str) -> int:
    """Pairs of threads that change sides anywhere, read from the drawing itself."""
    lines = [[y for _, y in picture.points(d)] for d in picture.threads(svg).values()]
    return sum(
        any(
            (a - b) * (c - d) < -1e-6
            for (a, b), (c, d) in combinations(list(zip(one, other, strict=True)), 2)
        )
        for one, other in combinations(lines, 2)
    )


def test_pairs_with_letters_of_their_own_bear_tokens() -> None:
    uses = [e.attrib["href"] for e in picture.read(wide(SAMPLES["two"]())).iter(f"{picture.SVG}use")]

    assert uses == ["#tok-A"]


def test_gallery_visitors_walk_side_by_side() -> None:
    drawing = SAMPLES["gallery"]()
    found = orders(drawing.ids, scenes(drawing))

    # A step by one place is one thread that comes round past the other thirteen.
    assert crossings(found[0], found[1]) == 13 and crossings(found[1], found[2]) == 13
    assert found[3] == found[0]
