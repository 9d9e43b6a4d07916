"""Thumbnails of ways, from shapes cut by hand."""

from __future__ import annotations

import pytest

from benchmates.core.strategy.relation import Relation
from benchmates.core.strategy.shape import PlannedStage, Shape
from benchmates.core.strategy.way import Claim, Stage, Way
from benchmates.core.terms import Span
from benchmates.drawing.glyph import glyph, seated
from tests.drawing import picture

Row = tuple[Relation, "int | None", tuple[int, ...], tuple[tuple[int, ...], ...]]


def shape(pupils: int, *rows: Row, moves: str = "pupils") -> Shape:
    planned = []
    for k, (relation, of, sizes, inside) in enumerate(rows):
        stage = Stage(f"Stage {k}", relation, Span(2, 4, 6), of=of, moves=moves)  # type: ignore[arg-type]
        planned.append(PlannedStage(stage.name, stage, k, 0, relation, of, sizes, inside))
    way = Way("own", "Own way", (), Claim("", "C"), tuple(p.stage for p in planned), (), "", "", "")
    return Shape(way, pupils, tuple(planned))


R = Relation
SNOWBALL = shape(
    22,
    (R.INDIVIDUAL, None, (1,) * 22, ()),
    (R.NEW, None, (3, 2, 2, 3, 2, 2, 2, 2, 2, 2), ()),
    (R.MERGE, 1, (3, 4, 3, 4, 4, 4), ((0,), (1, 2), (3,), (4, 5), (6, 7), (8, 9))),
    (R.MERGE, 2, (7, 7, 8), ((0, 1), (2, 3), (4, 5))),
    (R.WHOLE, None, (22,), ()),
)
FISHBOWL = shape(
    14,
    (R.INNER_OUTER, None, (5, 9), ()),
    (R.INNER_OUTER, None, (5, 9), ()),
    (R.INDIVIDUAL, None, (1,) * 14, ()),
)
ENVOYS = shape(
    13,
    (R.NEW, None, (4, 4, 5), ()),
    (R.ONE_MOVES, 0, (4, 4, 5), ()),
    (R.ONE_STAYS, 0, (4, 4, 5), ()),
    (R.RETURN, 0, (4, 4, 5), ()),
)
CROSS = shape(
    12,
    (R.NEW, None, (4, 4, 4), ()),
    (R.CROSS, 0, (3, 3, 3, 3), ()),
    (R.ROTATE, 1, (3, 3, 3, 3), ()),
    (R.SAME, 2, (3,) * 4, ()),
)
SPLIT = shape(9, (R.NEW, None, (4, 5), ()), (R.SPLIT, 0, (2, 2, 2, 3), ((0,), (0,), (1,), (1,))))
ALL = {"snowball": SNOWBALL, "fishbowl": FISHBOWL, "envoys": ENVOYS, "cross": CROSS, "split": SPLIT}


@pytest.mark.parametrize("name", ALL)
def test_seats_are_a_partition_at_every_stage(name: str) -> None:
    for seats in seated(ALL[name].stages, ALL[name].pupils):
        assert sorted(p for g in seats for p in g) == list(range(ALL[name].pupils))


@pytest.mark.parametrize("name", ALL)
def test_glyph_has_a_line_for_each_pupil_and_one_accent(name: str) -> None:
    paths = [
        e.attrib["stroke"]
        for e in picture.read(glyph(ALL[name])).iter(f"{picture.SVG}path")
        if "stroke" in e.attrib
    ]

    assert len(paths) == ALL[name].pupils and len(set(paths)) == 2


def test_snowball_glyph_says_the_sizes_and_never_crosses() -> None:
    root = picture.read(glyph(SNOWBALL))
    lines = [
        [y for _, y in picture.points(e.attrib["d"])]
        for e in root.iter(f"{picture.SVG}path")
        if "stroke" in e.attrib
    ]
    rows = list(zip(*sorted(lines), strict=True))

    assert [e.text for e in root.iter(f"{picture.SVG}text")] == ["alone", "pairs", "fours", "7s", "all"]
    assert all(list(row) == sorted(row) for row in rows)


def test_cross_parts_every_earlier_group() -> None:
    homes, crossed = seated(CROSS.stages, 12)[:2]

    assert all(len(set(a) & set(b)) <= 1 for a in homes for b in crossed)
