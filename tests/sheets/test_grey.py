"""Sheets are told apart in black and white too: turned to grey, every token differs from every other."""

from __future__ import annotations

import subprocess
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

from benchmates.core.terms import TOKEN_LETTERS
from benchmates.drawing.tokens import token_svg
from benchmates.sheets.typeset import typeset
from tests.sheets.printed import pack

WIDTH = 200
pytestmark = pytest.mark.pictures


def grey(pdf: bytes, tool: Path, folder: Path, *, side: int | None = None) -> list[np.ndarray]:
    """The pages in grey, each as rows of 0 (ink) to 255 (paper)."""
    (folder / "sheet.pdf").write_bytes(pdf)
    sized = ["-scale-to-x", str(side), "-scale-to-y", "-1"] if side else ["-r", "50"]
    subprocess.run([tool, "-gray", *sized, folder / "sheet.pdf", folder / "page"], check=True)
    return [read_pgm(path) for path in sorted(folder.glob("page*.pgm"))]


def read_pgm(path: Path) -> np.ndarray:
    kind, size, _most, rest = path.read_bytes().split(b"\n", 3)
    assert kind == b"P5"
    width, height = map(int, size.split())
    return np.frombuffer(rest[: width * height], dtype=np.uint8).reshape(height, width).astype(int)


def test_tokens_differ_in_grey(pdftoppm_path: Path, tmp_path: Path) -> None:
    tokens = {letter: token_svg(letter, hidden=True) for letter in TOKEN_LETTERS}
    groups = [
        {"spot": {"label": letter, "called": letter, "where": ""}, "people": []} for letter in TOKEN_LETTERS
    ]
    asked = {"name": "Grey", "question": "", "product": "", "clock": ""}
    pages = [{"asked": asked, "groups": [group], "places": [], "following": ""} for group in groups]
    heading = {"title": "Wall sheet", "lesson": "Grey", "class_name": "", "date": ""}
    pdf = typeset(
        "wall", {"heading": heading, "pages": pages, "tokens": tokens, "paper": "a4", "large": False}
    )

    shown = grey(pdf, pdftoppm_path, tmp_path, side=WIDTH)

    assert len(shown) == len(TOKEN_LETTERS)
    for one, other in combinations(shown, 2):
        # Pixels that differ by more than a third of the way from ink to paper; a fiftieth of the token's square, ours.
        assert int((abs(one - other) > 85).sum()) > 40


@pytest.mark.parametrize("key", ["jigsaw", "carousel", "critique-gallery"])
@pytest.mark.parametrize("paper", ["a4", "a5"])
def test_nothing_runs_off_the_paper(key: str, paper: str, pdftoppm_path: Path, tmp_path: Path) -> None:
    for sheet, pdf in pack(key, paper=paper).items():
        folder = tmp_path / sheet
        folder.mkdir()
        for page in grey(pdf, pdftoppm_path, folder):
            edge = 8  # px at 50 dpi: 4 mm, which office printers leave white (common practice, no source)
            outside = [page[:edge], page[-edge:], page[:, :edge], page[:, -edge:]]
            assert min(int(strip.min()) for strip in outside) > 250
            assert int(page.min()) < 100  # and no page is blank
