"""The printed pack, read back with pypdf."""

from __future__ import annotations

import io
import json
from dataclasses import asdict

import pypdf
import pytest

from benchmates.core.errors import CannotPlan
from benchmates.sheets.class_facing import class_facing
from benchmates.sheets.pack import print_pack
from tests.sheets.lessons import SCRIPTS, SECRET, example

SHOWN = ("group-cards.pdf", "stage-strip.pdf", "wall.pdf")
MM = 72 / 25.4


def _text(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)


def _sizes(pdf: bytes) -> list[float]:
    sizes: list[float] = []

    def visit(text: str, cm: list[float], tm: list[float], font: object, size: float) -> None:
        if text.strip():
            sizes.append(abs(size * tm[3] * cm[3]))

    for page in pypdf.PdfReader(io.BytesIO(pdf)).pages:
        page.extract_text(visitor_text=visit)
    return sizes


# ISO 216:2007 trimmed sizes in mm, from memory; A5 is A4 halved across its long side.
@pytest.mark.parametrize(("paper", "size"), [("a4", (210, 297)), ("a5", (148, 210))])
def test_pages_have_iso_216_sizes(paper: str, size: tuple[int, int]) -> None:
    args, more = example(8)
    pack = print_pack(*args, **more, paper=paper)
    for name, pdf in pack.items():
        want = (297, 210) if name == "wall.pdf" else size
        for page in pypdf.PdfReader(io.BytesIO(pdf)).pages:
            got = (float(page.mediabox.width) / MM, float(page.mediabox.height) / MM)
            assert got == pytest.approx(want, abs=0.1), name


def test_equal_input_gives_equal_bytes() -> None:
    args, more = example(28)
    assert print_pack(*args, **more) == print_pack(*args, **more)


def test_sheets_are_tagged() -> None:
    """PDF/UA-1 (ISO 14289-1:2014) section 7: marked, structured, with language and title; clauses from memory."""
    args, more = example(8)
    for pdf in print_pack(*args, **more).values():
        reader = pypdf.PdfReader(io.BytesIO(pdf))
        root = reader.root_object
        assert root["/MarkInfo"]["/Marked"] is True or bool(root["/MarkInfo"]["/Marked"])
        assert "/StructTreeRoot" in root
        assert str(root["/Lang"]).startswith("en")
        assert reader.metadata is not None and "Market-stall apron" in str(reader.metadata.title)


def test_nothing_confidential_faces_the_class() -> None:
    args, more = example(8)
    lesson, plan, class_list = args
    given = json.dumps(asdict(class_facing(lesson, plan, class_list.names(), more["timetable"])))
    assert SECRET not in given and "987654" not in given
    pack = print_pack(*args, **more)
    assert SECRET in _text(pack["run-sheet.pdf"])  # the seeds are really there to be found
    for name in SHOWN:
        assert SECRET not in _text(pack[name]) and "987654" not in _text(pack[name])
        assert SECRET.encode() not in pack[name]


@pytest.mark.parametrize("paper", ["a4", "a5"])
def test_large_print_is_18_points_or_more(paper: str) -> None:
    """18 points: common practice for large print, no source."""
    args, more = example(20)
    pack = print_pack(*args, **more, large=True, paper=paper)
    for name in SHOWN:
        sizes = _sizes(pack[name])
        assert sizes and min(sizes) >= 18 - 0.01, (name, min(sizes))


def test_every_script_prints() -> None:
    args, more = example(30, names=SCRIPTS)
    pack = print_pack(*args, **more)
    assert pack.notices == ()
    text = _text(pack["stage-strip.pdf"])
    for name in ("王小明", "김민준", "Ελένη", "Юлія", "Արամ"):
        assert name in text


def test_a_character_no_font_has_is_told_and_never_blank() -> None:
    args, more = example(8, names=("Ada \U00012000",))  # a cuneiform sign
    pack = print_pack(*args, **more)
    assert "U+12000" in pack.notices[0]
    assert "U+12000" in _text(pack["stage-strip.pdf"])


def test_without_a_start_minutes_run_from_nought() -> None:
    args, more = example(8, start=None)
    assert "after the start" in _text(print_pack(*args, **more)["run-sheet.pdf"])


def test_unknown_paper_is_told() -> None:
    args, more = example(8)
    with pytest.raises(CannotPlan, match="a4 or a5"):
        print_pack(*args, **more, paper="a3")
