"""Paper, print size and tags of the sheets.

Outside checks: page sizes against ISO 216 (the rows copied into tests/reference/h_iso216_sizes.csv); the marks of a
tagged file against ISO 32000-1, 14.7-14.8 and ISO 14289-1, 7.1-7.2 (clause numbers from memory): /MarkInfo with
/Marked true, /StructTreeRoot, /Lang, and a title that the window shows. 18 pt as large print is common practice in
schools, no source.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.sheets.printed import CLASS_FACING, EVERY, class_of, lesson_of, pack, printed, sizes_of

SIZES = Path(__file__).parents[1] / "reference" / "h_iso216_sizes.csv"
MM = 72 / 25.4


@pytest.mark.parametrize("paper", ["a4", "a5"])
@pytest.mark.parametrize("sheet", EVERY)
def test_page_is_of_its_iso_size(paper: str, sheet: str) -> None:
    with SIZES.open(encoding="utf-8", newline="") as rows:
        row = next(r for r in csv.DictReader(rows) if r["size"].lower() == paper)

    pages = PdfReader(io.BytesIO(pack("jigsaw", paper=paper)[sheet])).pages

    for page in pages:
        sides = sorted(float(side) / MM for side in (page.mediabox.width, page.mediabox.height))
        # ISO 216 allows 1.5 mm up to 150 mm and 2 mm up to 600 mm (from memory); half a millimetre is ours.
        assert sides == pytest.approx([float(row["width_mm"]), float(row["height_mm"])], abs=0.5)


@pytest.mark.parametrize("sheet", EVERY)
def test_sheet_is_tagged_titled_and_in_a_language(sheet: str) -> None:
    reader = PdfReader(io.BytesIO(pack("jigsaw")[sheet]))
    root = reader.trailer["/Root"]

    assert root["/MarkInfo"]["/Marked"] == True  # noqa: E712 - a PDF boolean, not Python's
    assert root["/StructTreeRoot"]["/K"]
    assert root["/Lang"] == "en-GB"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"] == True  # noqa: E712
    assert reader.metadata is not None
    assert "Card cantilever" in str(reader.metadata.title)


@pytest.mark.parametrize(
    ("key", "paper"), [("snowball", "a4"), ("snowball", "a5"), ("role-cards", "a4"), ("brainwriting", "a4")]
)
@pytest.mark.parametrize("sheet", CLASS_FACING)
def test_large_print_is_eighteen_point_or_more(key: str, paper: str, sheet: str) -> None:
    sizes = sizes_of(pack(key, paper=paper, large=True)[sheet])

    # A token is a picture, its label drawn letter by letter; the words beside it say the label at full size.
    assert len(sizes) > 5
    assert {text: size for text, size in sizes.items() if size < 17.99 and len(text) > 1} == {}
    assert "Arch" in " ".join(sizes)


def test_equal_input_gives_equal_bytes() -> None:
    once, again = (printed(class_of(22), lesson_of("jigsaw")) for _ in range(2))

    assert dict(once) == dict(again)
    assert tuple(once) == EVERY


def test_unknown_paper_is_refused() -> None:
    with pytest.raises(ValueError, match="a4 or a5"):
        printed(class_of(8), lesson_of("pair-talk"), paper="letter")
